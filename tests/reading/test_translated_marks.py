"""A translated mark is tied to the words that it translates: marks may be swapped, and an edited one is told and not shown."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.reading import read_guide
from guidebuild.views.pieces.links import SiteMap
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.words import words

ACCOUNT = "---\nname: Bufo bufo\ndiagnostics:\n{marks}---\n"
BY_WORDS = "---\nmarks:\n  warty skin: piel verrugosa\n  gold eyes: ojos dorados\n---\n"
BY_ORDER = "---\nmarks:\n  - piel verrugosa\n  - ojos dorados\n---\n"


def read(folder: Path, marks: list[str], translation: str) -> tuple[Guide, list[str]]:
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: X\nlanguages: [en, es]\n", "utf-8")
    (folder / "accounts" / "toad.md").write_text(ACCOUNT.format(marks="".join(f"  - {mark}\n" for mark in marks)), "utf-8")
    (folder / "accounts" / "toad.es.md").write_text(translation, "utf-8")
    reading = read_guide(folder)
    assert reading.guide is not None
    return reading.guide, [str(f) for f in reading.findings]


def shown(guide: Guide) -> list[tuple[str, str]]:
    """The marks as a Spanish page says them, each with its language where that is another."""
    published = make_published(guide)
    make = PieceMaker(published, SiteMap(published, "es"), words("es"))
    return [(mark.words, mark.language) for mark in make.marks(published.accounts["toad"])]


@pytest.mark.parametrize("translation", [BY_WORDS, BY_ORDER])
def test_both_ways_of_writing_are_read(tmp_path: Path, translation: str) -> None:
    guide, found = read(tmp_path, ["warty skin", "gold eyes"], translation)
    assert found == []
    assert shown(guide) == [("piel verrugosa", ""), ("ojos dorados", "")]


def test_swapped_marks_keep_their_translations(tmp_path: Path) -> None:
    guide, found = read(tmp_path, ["gold eyes", "warty skin"], BY_WORDS)
    assert found == []
    assert shown(guide) == [("ojos dorados", ""), ("piel verrugosa", "")]


def test_an_edited_mark_is_told_and_shown_in_the_language_of_the_guide(tmp_path: Path) -> None:
    guide, found = read(tmp_path, ["warty skin", "copper eyes"], BY_WORDS)
    assert found == [
        "accounts/toad.es.md:4:14: warning: “gold eyes” is no mark of the account any more. "
        "If it is “copper eyes” now, look at the words behind it and write that in front of them."
    ]
    assert shown(guide) == [("piel verrugosa", ""), ("copper eyes", "en")]


def test_a_new_mark_is_told_and_shown_in_the_language_of_the_guide(tmp_path: Path) -> None:
    guide, found = read(tmp_path, ["warty skin", "a low croak", "gold eyes"], BY_WORDS)
    assert found == [
        "accounts/toad.es.md:2:1: warning: The mark “a low croak” is not translated: it is told in the guide's language. "
        "Write the account's words, a colon and their translation."
    ]
    assert shown(guide) == [("piel verrugosa", ""), ("a low croak", "en"), ("ojos dorados", "")]


def test_a_mark_that_is_gone_is_told(tmp_path: Path) -> None:
    guide, found = read(tmp_path, ["warty skin"], BY_WORDS)
    assert found == ["accounts/toad.es.md:4:14: warning: “gold eyes” is no mark of the account any more. Take it out."]
    assert shown(guide) == [("piel verrugosa", "")]


def test_a_list_of_another_length_is_told_as_ever_and_not_shown(tmp_path: Path) -> None:
    guide, found = read(tmp_path, ["warty skin", "a low croak", "gold eyes"], BY_ORDER)
    assert [said.split(" ", 2)[1:] for said in found] == [["error:", found[0].split(" ", 2)[2]]]
    assert "2 marks are translated, and the account has 3." in found[0]
    assert [language for _, language in shown(guide)] == ["en"] * 3
