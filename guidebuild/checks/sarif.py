"""Findings as SARIF 2.1.0 (OASIS standard), for editors and code hosts."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any
from urllib.parse import quote

from guidebuild import __version__
from guidebuild.checks.registry import Report
from guidebuild.guide.findings import Finding, Level

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"
_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.NOTE: "note"}


def as_sarif(report: Report, rules: Iterable[tuple[str, str, str]]) -> dict[str, Any]:
    """A SARIF log of one run; `rules` are (code, title, how to mend). Silenced findings carry a suppression."""
    listed = list(rules)
    index = {code: number for number, (code, _, _) in enumerate(listed)}
    results = [_result(f, index) for f in report.findings]
    for finding, reason in report.silenced:
        suppressed = _result(finding, index)
        suppressed["suppressions"] = [{"kind": "external", "justification": reason}]
        results.append(suppressed)
    driver = {
        "name": "guidebuild",
        "version": __version__,
        "rules": [{"id": code, "shortDescription": {"text": title}, "help": {"text": mend or title}} for code, title, mend in listed],
    }
    run = {"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _result(finding: Finding, index: dict[str, int]) -> dict[str, Any]:
    location: dict[str, Any] = {"artifactLocation": {"uri": quote(finding.at.file)}}
    if finding.at.line:
        location["region"] = {"startLine": finding.at.line} | ({"startColumn": finding.at.column} if finding.at.column else {})
    result: dict[str, Any] = {
        "ruleId": finding.code,
        "level": _LEVELS[finding.level],
        "message": {"text": " ".join(filter(None, [finding.message, finding.mend]))},
        "locations": [{"physicalLocation": location}],
    }
    return result | ({"ruleIndex": index[finding.code]} if finding.code in index else {})
