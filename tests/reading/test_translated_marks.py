"""A translated mark is tied to the words that it translates: marks may be swapped, and an edited one is told and not shown.

A list in the account's order is tied by a digest of all that it translates.
"""

from __future__ import annotations

import re
import tempfile
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.links import SiteMap
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.words import words

ACCOUNT = "---\nname: Bufo bufo\ndiagnostics:\n{marks}---\n"
BY_WORDS = "---\nmarks:\n  warty skin: piel verrugosa\n  gold eyes: ojos dorados\n---\n"
BY_ORDER = "---\nmarks:\n  - piel verrugosa\n  - ojos dorados\n{}---\n"
IN_ORDER = ["warty skin", "gold eyes"]
LAW = "---\nlaw: [No se puede vender., No se puede capturar.]\n{}---\n"


def read(folder: Path, marks: list[str], translation: str) -> tuple[Guide, list[str]]:
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: X\nlanguages: [en, es]\n", "utf-8")
    (folder / "accounts" / "toad.md").write_text(ACCOUNT.format(marks="".join(f"  - {mark}\n" for mark in marks)), "utf-8")
    (folder / "accounts" / "toad.es.md").write_text(translation, "utf-8")
    reading = read_guide(folder)
    assert reading.guide is not None
    return reading.guide, [str(f) for f in reading.findings]


def tie(text: str, marks: list[str]) -> str:
    """The translation as an author writes it who follows what `check` says of it."""
    with tempfile.TemporaryDirectory() as folder:
        _, found = read(Path(folder), marks, text.format(""))
    (said,) = [re.search(r"`(compared with: \w+)`", line) for line in found]
    assert said is not None
    return text.format(f"{said[1]}\n")


def shown(guide: Guide) -> list[tuple[str, str]]:
    """The marks as a Spanish page says them, each with its language where that is another."""
    published = make_published(guide)
    make = PieceMaker(published, SiteMap(published, "es"), words("es"))
    return [(mark.words, mark.language) for mark in make.marks(published.accounts["toad"])]


@pytest.mark.parametrize("by_words", [True, False])
def test_both_ways_of_writing_are_read(tmp_path: Path, by_words: bool) -> None:
    guide, found = read(tmp_path, IN_ORDER, BY_WORDS if by_words else tie(BY_ORDER, IN_ORDER))
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
    guide, found = read(tmp_path, ["warty skin", "a low croak", "gold eyes"], BY_ORDER.format(""))
    assert [said.split(" ", 2)[1:] for said in found] == [["error:", found[0].split(" ", 2)[2]]]
    assert "2 marks are translated, and the account has 3." in found[0]
    assert [language for _, language in shown(guide)] == ["en"] * 3


def test_a_list_that_is_tied_to_nothing_is_told_and_shown(tmp_path: Path) -> None:
    guide, (said,) = read(tmp_path, IN_ORDER, BY_ORDER.format(""))
    assert said.startswith(
        "accounts/toad.es.md:2:1: warning: The field marks are translated by their order, so nobody is told once the account's are swapped "
        "or changed. Compare each line with the account, then write `compared with: "
    )
    assert said.endswith("`; or put the account's words and a colon in front of each mark.")
    assert shown(guide) == [("piel verrugosa", ""), ("ojos dorados", "")]


@pytest.mark.parametrize("now", [["gold eyes", "warty skin"], ["warty skin", "copper eyes"], ["smooth skin", "gold eyes"]])
def test_a_list_is_stale_once_marks_are_swapped_or_edited(tmp_path: Path, now: list[str]) -> None:
    guide, (said,) = read(tmp_path, now, tie(BY_ORDER, IN_ORDER))
    assert said.startswith(
        "accounts/toad.es.md:5:1: warning: The account's field marks were swapped or changed since they were translated: "
        "they are told in the guide's language. Compare each line with the account, then write `compared with: "
    )
    assert shown(guide) == [(now[0], "en"), (now[1], "en")]


def test_a_link_that_leads_elsewhere_now_makes_nothing_stale(tmp_path: Path) -> None:
    tied = tie(BY_ORDER, ["'[warty](term:wart) skin'", "gold eyes"])
    _, found = read(tmp_path, ["'[warty](term:warts) skin'", "gold eyes"], tied)
    assert found == []


def test_notes_on_the_law_are_tied_alike(tmp_path: Path) -> None:
    sold, caught = "It may not be sold.", "It may not be caught."
    law = "law:\n  - {{text: {}, as of: 2026-03-01}}\n  - {{text: {}, as of: 2026-03-01}}\n"
    tied = tie(LAW, ["x\n" + law.format(sold, caught).rstrip()])
    (tmp_path / "same").mkdir()
    guide, found = read(tmp_path / "same", ["y\n" + law.format(sold, caught).rstrip()], tied)  # the mark is another, but has no translation
    assert found == []
    (translation,) = guide.accounts["toad"].translations
    assert len(translation.law) == 2
    guide, (said,) = read(tmp_path, ["x\n" + law.format(caught, sold).rstrip()], tied)
    assert "The account's notes on the law were swapped or changed since they were translated" in said
    (translation,) = guide.accounts["toad"].translations
    assert translation.law == ()
