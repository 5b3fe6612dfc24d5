"""Our SARIF against the OASIS schema of SARIF 2.1.0 (sarif-schema-2.1.0, as carried by the npm package @microsoft/jest-sarif)."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import jsonschema
import pytest

from guidebuild.checks.registry import check_guide
from guidebuild.checks.sarif import as_sarif
from guidebuild.guide.accounts import Silenced
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.rules import rule_helps
from tests.checks.invented import at, guide, photo, with_account

SCHEMA = Path(__file__).parent.parent / "browser/node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json"


def log() -> dict[str, object]:
    """A log with all levels, a finding without a line, a file name with a space, and a silenced finding."""
    broken = with_account(guide(), "red-bug", size=None, family="", silenced=(Silenced("no-size", "never measured", at("red-bug", 33)),))
    broken = replace(broken, photos={**broken.photos, "red-bug-adult": replace(photo("red-bug-adult", "red-bug"), credit="")})
    read = [Finding("not-utf8", Level.ERROR, "“Rüppell” is not UTF-8.", At("accounts/a b.md"), "Save as UTF-8.")]
    return as_sarif(check_guide(broken, read), rule_helps())


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
