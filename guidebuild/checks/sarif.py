"""Findings as SARIF 2.1.0 (OASIS standard), for editors and code hosts."""

from __future__ import annotations

import hashlib
import re
from collections import Counter
from collections.abc import Iterable
from typing import Any
from urllib.parse import quote

from guidebuild import __version__
from guidebuild.checks.registry import Report
from guidebuild.guide.findings import Code, Finding, Level

SCHEMA = "https://json.schemastore.org/sarif-2.1.0.json"
FINGERPRINT = "ruleFileMessage/v1"
"""The name of our fingerprints; the version goes up when what they are made of changes (SARIF 2.1.0, 3.27.16)."""
_LEVELS = {Level.ERROR: "error", Level.WARNING: "warning", Level.NOTE: "note"}
_PLACES = re.compile(r" \(rows? [^)]*\)|\b(row|line|column) \d+")


def as_sarif(report: Report, rules: Iterable[Code]) -> dict[str, Any]:
    """A SARIF log of one run; `rules` are all there are. Silenced findings carry a suppression."""
    listed = list(rules)
    index = {rule.code: number for number, rule in enumerate(listed)}
    met: Counter[str] = Counter()
    results = [_result(f, index, met) for f in report.findings]
    for finding, reason in report.silenced:
        suppressed = _result(finding, index, met)
        suppressed["suppressions"] = [{"kind": "external", "justification": reason}]
        results.append(suppressed)
    driver = {"name": "guidebuild", "version": __version__, "rules": [_rule(rule) for rule in listed]}
    run = {"tool": {"driver": driver}, "columnKind": "unicodeCodePoints", "results": results}
    return {"$schema": SCHEMA, "version": "2.1.0", "runs": [run]}


def _rule(rule: Code) -> dict[str, Any]:
    return {
        "id": rule.code,
        "shortDescription": {"text": f"{rule.title}."},
        "fullDescription": {"text": f"{rule.title}. {rule.why}"},
        "help": {"text": f"{rule.why} {rule.mend}", "markdown": f"**{rule.title}.** {rule.why}\n\n{rule.mend}"},
        "defaultConfiguration": {"level": _LEVELS[rule.level]},
    }


def _result(finding: Finding, index: dict[str, int], met: Counter[str]) -> dict[str, Any]:
    location: dict[str, Any] = {"artifactLocation": {"uri": quote(finding.at.file)}}
    if finding.at.line:
        location["region"] = {"startLine": finding.at.line} | ({"startColumn": finding.at.column} if finding.at.column else {})
    return {
        "ruleId": finding.code,
        "ruleIndex": index[finding.code],
        "level": _LEVELS[finding.level],
        "message": {"text": " ".join(filter(None, [finding.message, finding.mend]))},
        "locations": [{"physicalLocation": location}],
        "partialFingerprints": {FINGERPRINT: _fingerprint(finding, met)},
    }


def _fingerprint(finding: Finding, met: Counter[str]) -> str:
    """What stays the same of a finding when lines are put in or taken out elsewhere; a number tells those of one file and message apart."""
    same = "\n".join([finding.code, finding.at.file, finding.account, _PLACES.sub("", finding.message)])
    mark = hashlib.sha256(same.encode()).hexdigest()[:20]
    met[mark] += 1
    return f"{mark}:{met[mark]}"
