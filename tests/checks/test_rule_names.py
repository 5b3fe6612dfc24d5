"""A rule that is set or silenced by a word that is none is told, at its line, with the nearest rule."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.guide.findings import Finding
from guidebuild.session import open_session

ACCOUNT = "---\nname: Inventus primus\nsilence:\n  - rule: {rule}\n    reason: invented\n---\n"


def findings(folder: Path, settings: str, rule: str = "no-size") -> list[Finding]:
    (folder / "accounts").mkdir(exist_ok=True)
    (folder / "guide.yaml").write_text(f"title: Invented\n{settings}", "utf-8")
    (folder / "accounts" / "a-bug.md").write_text(ACCOUNT.format(rule=rule), "utf-8")
    return [f for f in open_session(folder).report.findings if f.code in ("unknown-rule", "idle-silence")]


@pytest.mark.parametrize(
    ("settings", "words"),
    [
        ("rules:\n  no-siez: off\n", "3:3: warning: There is no rule “no-siez”. Did you mean “no-size”?"),
        ("rules:\n  no-size: off\n  left-uot: error\n", "4:3: warning: There is no rule “left-uot”. Did you mean “left-out”?"),
        ("rules: {left-uot: error}\n", "2:1: warning: There is no rule “left-uot”. Did you mean “left-out”?"),
        ("rules:\n  everything: off\n", "3:3: warning: There is no rule “everything”. `guidebuild check --rules` lists them all."),
    ],
)
def test_a_rule_set_by_a_wrong_word_is_told(tmp_path: Path, settings: str, words: str) -> None:
    assert f"guide.yaml:{words}" in [str(f) for f in findings(tmp_path, settings)]


@pytest.mark.parametrize("code", ["no-size", "hard-sentence", "crop", "theme-unused", "post-too-long", "unknown-key", "sighting-date"])
def test_rules_of_every_room_are_known(tmp_path: Path, code: str) -> None:
    assert [f for f in findings(tmp_path, f"rules:\n  {code}: warning\n") if f.code == "unknown-rule"] == []


def test_a_silence_by_a_wrong_word_is_told_once(tmp_path: Path) -> None:
    assert [str(f) for f in findings(tmp_path, "", rule="no-siez")] == [
        "accounts/a-bug.md:4:5: warning: There is no rule “no-siez”. Did you mean “no-size”?"
    ]
