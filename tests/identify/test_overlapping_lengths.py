"""A30, through files: lengths that overlap part nobody, a sex alone parts only that sex, and "large" is no character.

P 10–13 mm and Q 12–15 mm; R male 10–12, female 13–18 and S 14–20. All invented.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from guidebuild.identify.key import make_key
from guidebuild.reading.whole import read_guide

GUIDE = "title: Invented Lengths\nlanguages: [en]\ngroup: true-bug\n"
CHARACTERS = """\
body-length: {label: body length, kind: range, stage: adult, ease: in the hand, unit: mm, margin: 0 mm}
build: {label: build, kind: states, stage: adult, ease: at a distance, states: {large: body large, slim: slim}}
"""
ACCOUNT = """\
---
name: Inventus {letter}one
vernacular: Bug {name}
characters:
  body length: {length}
  build: {build}
similar:
  - {{account: {other}one}}
---
## In brief
Invented.
"""
BUGS = (
    ("p", "10–13 mm", "large", "q"),
    ("q", "12–15 mm", "large", "p"),
    ("r", "male 10–12 mm, female 13–18 mm", "slim", "s"),
    ("s", "14–20 mm", "slim", "r"),
)


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    (tmp_path / "accounts").mkdir()
    (tmp_path / "guide.yaml").write_text(GUIDE, encoding="utf-8")
    (tmp_path / "characters.yaml").write_text(CHARACTERS, encoding="utf-8")
    for letter, length, build, other in BUGS:
        text = ACCOUNT.format(letter=letter, name=letter.upper(), length=length, build=build, other=other)
        (tmp_path / "accounts" / f"{letter}one.md").write_text(text, encoding="utf-8")
    return tmp_path


def test_no_couplet_parts_them_by_length_and_the_overlap_is_told(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    guide = read_guide(folder).guide
    assert guide is not None
    key = make_key(guide)
    assert [couplet.character for couplet in key.couplets] == ["build"]
    assert [group.taxa for group in key.groups] == [("pone", "qone"), ("rone", "sone")]
    assert exit_code(["key", "--in", str(folder)]) == 0
    told = capsys.readouterr().out.replace("\N{NO-BREAK SPACE}", " ")
    assert "Group 1: Bug P, Bug Q. The Bug P and the Bug Q overlap at 12–13 mm (body length)." in told
    assert "Group 2: Bug R, Bug S. The Bug R and the Bug S overlap at 14–18 mm (body length)." in told


def test_a_sex_alone_parts_them_within_that_sex(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["compare", "Bug R", "Bug S", "--in", str(folder)]) == 0
    told = capsys.readouterr().out.replace("\N{NO-BREAK SPACE}", " ")
    assert "body length (male)  in the hand  10–12 mm  14–20 mm" in told
    assert "In the male, the body length of the Bug R is 10–12 mm; that of the Bug S is 14–20 mm." in told


def test_check_says_all_three(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert exit_code(["check", str(folder)]) == 1
    told = capsys.readouterr().out.replace("\N{NO-BREAK SPACE}", " ")
    assert "Nothing under `characters:` tells Bug P from Bug Q." in told
    assert "Bug R and Bug S are told apart only in the male." in told
    assert "“build: body large” cannot be judged without something to compare it with." in told
