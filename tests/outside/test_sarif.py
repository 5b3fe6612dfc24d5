"""Our SARIF against the OASIS schema of SARIF 2.1.0 (sarif-schema-2.1.0, as carried by the npm package @microsoft/jest-sarif)."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest

from guidebuild.checks.registry import Report, check_guide
from guidebuild.checks.sarif import as_sarif
from guidebuild.guide.accounts import Silenced
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.rules import gather_rules
from tests.checks.invented import at, guide, photo, with_account

SCHEMA = Path(__file__).parent.parent / "browser/node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"


def log() -> dict[str, object]:
    """A log with all levels, a finding without a line, a file name with a space, and a silenced finding."""
    broken = with_account(guide(), "red-bug", size=None, family="", silenced=(Silenced("no-size", "never measured", at("red-bug", 33)),))
    broken = replace(broken, photos={**broken.photos, "red-bug-adult": replace(photo("red-bug-adult", "red-bug"), credit="")})
    read = [Finding("not-utf8", Level.ERROR, "“Rüppell” is not UTF-8.", At("accounts/a b.md"), "Save as UTF-8.")]
    return as_sarif(check_guide(broken, read), gather_rules())


@pytest.fixture(scope="module")
def schema() -> dict[str, object]:
    if not SCHEMA.is_file():
        pytest.skip("the schema comes with: cd tests/browser && npm install")
    found: dict[str, object] = json.loads(SCHEMA.read_text(encoding="utf-8"))
    return found


def test_a_log_follows_the_published_schema(schema: dict[str, object]) -> None:
    jsonschema.validate(log(), schema)
    assert len(log()["runs"][0]["results"]) >= 4  # type: ignore[index]


def test_the_schema_would_notice_a_wrong_level(schema: dict[str, object]) -> None:
    wrong = log()
    wrong["runs"][0]["results"][0]["level"] = "fatal"  # type: ignore[index]
    with pytest.raises(jsonschema.ValidationError):
        jsonschema.validate(wrong, schema)


def test_every_result_names_a_rule_of_the_log_with_help() -> None:
    run = log()["runs"][0]  # type: ignore[index]
    rules = run["tool"]["driver"]["rules"]
    assert len({rule["id"] for rule in rules}) == len(rules) > 150
    for rule in rules:
        # 3.49.9: a full description begins with the short one; 3.49.10: a message of a viewer's own help.
        assert rule["fullDescription"]["text"].startswith(rule["shortDescription"]["text"])
        assert len(rule["help"]["text"]) > len(rule["shortDescription"]["text"]) / 2
    for result in run["results"]:
        assert rules[result["ruleIndex"]]["id"] == result["ruleId"]


def found(*lines: int, file: str = "accounts/a.md") -> list[str]:
    """Fingerprints of findings of one rule and message on these lines of a file."""
    findings = tuple(Finding("star-left", Level.WARNING, f"A star at line {line}, alone.", At(file, line)) for line in lines)
    results = as_sarif(Report(findings, (), ()), gather_rules())["runs"][0]["results"]
    return [result["partialFingerprints"]["ruleFileMessage/v1"] for result in results]


def test_a_fingerprint_stays_when_lines_shift() -> None:
    assert found(3, 9) == found(5, 40)


def test_findings_alike_and_in_other_files_have_fingerprints_of_their_own() -> None:
    assert len({*found(3, 9), *found(3, 9, file="accounts/b.md")}) == 4
