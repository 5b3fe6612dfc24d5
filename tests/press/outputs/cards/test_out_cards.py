"""The output `cards` of a whole guide: which files it gives, what it says of bad wishes, and that a second run is idle."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from guidebuild.guide.guide import Guide
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.store import Store
from guidebuild.press.outputs.cards import jobs as print_jobs
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.publication import Publication, Wishes
from guidebuild.press.publish import publish
from guidebuild.views.cards.card import CardView
from tests.press.outputs.cards.test_prints import guide_with_walk
from tests.press.small_guide import drawn_picture

TODAY = dt.date(2026, 6, 1)


def folder_with_photo(tmp_path: Path) -> Path:
    photos = tmp_path / "photos"
    photos.mkdir()
    drawn_picture(photos)
    return tmp_path


def small(**settings: object) -> Guide:
    made = guide_with_walk()
    return replace(made, settings=replace(made.settings, **settings), photo_files=frozenset({"photos/plate.jpg"}))  # type: ignore[arg-type]


def make(folder: Path, guide: Guide) -> Publication:
    return publish(folder, guide, today=TODAY, progress=Silence(), wishes=Wishes(outputs=("cards",), workers=1))


def told(made: Publication) -> list[Problem]:
    """Problems but for the small pictures that one card has no room for."""
    return [problem for problem in made.problems if not (problem.what == "left-out" and problem.where == "card parent")]


def files(folder: Path) -> set[str]:
    cards = folder / "published" / "cards"
    return {path.relative_to(cards).as_posix() for path in cards.rglob("*.pdf")}


def pages(folder: Path, name: str) -> int:
    return len(PdfReader(folder / "published" / "cards" / name).pages)


def test_cards_deck_sheets_and_a_walks_own(tmp_path: Path) -> None:
    folder = folder_with_photo(tmp_path)
    made = make(folder, small())
    assert told(made) == []
    assert files(folder) == {
        "parent.pdf", "birch.pdf", "juniper.pdf", "deck.pdf", "sheets-a4.pdf", "walk-june-a4.pdf", "walk-june-checklist.pdf",
        "compare-birch--juniper--parent.pdf",
    }  # fmt: skip
    former = {path: (folder / "published" / "cards" / path).read_bytes() for path in files(folder)}
    again = make(folder, small())
    assert again.outcome is not None
    assert again.outcome.written == ()
    assert {path: (folder / "published" / "cards" / path).read_bytes() for path in files(folder)} == former


def test_a_card_that_failed_once_stands_in_deck_and_sheets_the_next_time(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    folder, real = folder_with_photo(tmp_path), print_jobs.render_card

    def fail(card: CardView, *given: Any, **named: Any) -> CardResult:
        if card.id == "birch":
            raise MemoryError
        return real(card, *given, **named)

    monkeypatch.setattr(print_jobs, "render_card", fail)
    made = make(folder, small())
    assert [(problem.what, problem.where) for problem in told(made)] == [("failed", "card birch")]
    assert pages(folder, "deck.pdf") == 4
    monkeypatch.setattr(print_jobs, "render_card", real)
    again = make(folder, small())
    assert told(again) == []
    assert again.outcome is not None
    assert set(again.outcome.written) == {"cards/birch.pdf", "cards/deck.pdf", "cards/sheets-a4.pdf", "cards/walk-june-a4.pdf"}
    assert pages(folder, "deck.pdf") == 6


def test_a_new_card_is_set_among_those_kept_in_the_same_order(tmp_path: Path) -> None:
    folder, guide = folder_with_photo(tmp_path), small()
    birch = guide.accounts["birch"]
    birch = replace(birch, name=replace(birch.name, authority="(Nobody, 1999)"))
    make(folder, replace(guide, accounts={**guide.accounts, "birch": birch}))
    made = make(folder, guide)
    assert made.outcome is not None
    assert "cards/parent.pdf" not in made.outcome.written
    former = (folder / "published" / "cards" / "sheets-a4.pdf").read_bytes()
    fresh = tmp_path / "fresh"
    fresh.mkdir()
    make(folder_with_photo(fresh), guide)
    assert (fresh / "published" / "cards" / "sheets-a4.pdf").read_bytes() == former


def test_prints_are_made_as_asked_and_a_bad_wish_is_named(tmp_path: Path) -> None:
    folder = folder_with_photo(tmp_path)
    made = make(folder, small(prints=("leaflet-a4", "id-1", "print shop", "poster")))
    assert {p.what for p in made.problems} - {"few-pixels", "left-out"} == {"unknown-format"}
    (problem,) = [p for p in made.problems if p.what == "unknown-format"]
    assert "there is no print “poster”. Write one of a6, a7, booklet" in problem.message
    assert "print shop" in problem.message
    assert {"leaflet-a4-june.pdf", "id-1/parent.pdf", "print-shop/parent.pdf"} <= files(folder)
    assert {"print-shop/deck.pdf", "print-shop/id-1/parent.pdf", "print-shop/id-1/deck.pdf"} <= files(folder)
    shop = folder / "published" / "cards" / "print-shop"
    for deck, card in ((shop / "deck.pdf", "a6"), (shop / "id-1" / "deck.pdf", "id-1")):
        pages = PdfReader(deck).pages
        assert len(pages) == 2 * len(small().accounts)
        size = format_named(card).size
        for page in pages:
            assert float(page.trimbox.width) == pytest.approx(size.points[0], abs=0.1)
            assert page.mediabox.width > page.bleedbox.width > page.trimbox.width


def test_one_file_for_the_shop_has_all_cards(tmp_path: Path) -> None:
    """In the guide's order, front and back in turn; without marks where the shop wants none."""
    folder = folder_with_photo(tmp_path)
    make(folder, small(prints=("print shop",), crop_marks=False))
    cards = folder / "published" / "cards"
    pages = PdfReader(cards / "print-shop" / "deck.pdf").pages
    assert [page.extract_text() for page in pages] == [page.extract_text() for page in PdfReader(cards / "deck.pdf").pages]
    assert [page.extract_text() for page in pages[:2]] == [page.extract_text() for page in PdfReader(cards / "parent.pdf").pages]
    assert all(page.mediabox == page.bleedbox for page in pages)


def test_a_profile_that_is_not_there_is_said(tmp_path: Path) -> None:
    folder = folder_with_photo(tmp_path)
    made = make(folder, small(prints=("print shop",), print_profile="press.icc"))
    (problem,) = [p for p in made.problems if p.what == "print-profile"]
    assert "“press.icc” is not a file of the guide" in problem.message


def test_a_format_that_is_no_card_is_refused(tmp_path: Path) -> None:
    made = make(folder_with_photo(tmp_path), small(card="booklet"))
    (problem,) = made.problems
    assert "there is no card format “booklet”. Write one of a6, a7, id-1" in problem.message


def test_cards_for_which_the_paper_has_no_room_are_told(tmp_path: Path) -> None:
    made = make(folder_with_photo(tmp_path), small(paper="a5", bleed=60.0))
    assert {(p.what, str(p)) for p in told(made)} == {
        ("no-room", "guide.yaml: the Pocket card A6 with 60 mm bleed does not fit on A5; choose a larger paper")
    }


def test_a_photo_that_the_disk_refuses_is_told_and_the_pages_are_made(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*given: object) -> None:
        raise PermissionError(13, "Permission denied")

    folder = folder_with_photo(tmp_path)
    monkeypatch.setattr(Store, "original_digest", refuse)
    made = publish(folder, small(), today=TODAY, progress=Silence(), wishes=Wishes(outputs=("site",), workers=1))
    assert [str(p) for p in made.problems if p.what == "not-readable"] == ["photos/plate.jpg: the photo cannot be read: Permission denied"]
    assert made.failed
    assert list((folder / "published" / "site").rglob("parent*"))


def test_pages_of_a_booklet_stand_in_the_booklet_alone(tmp_path: Path) -> None:
    folder, guide = folder_with_photo(tmp_path), small(prints=("booklet", "print shop"))
    make(folder, guide)
    assert {"booklet.pdf", "booklet-a4.pdf", "print-shop/booklet.pdf"} <= files(folder)
    assert not [path for path in files(folder) if path.startswith("booklet/")]
    again = make(folder, guide)
    assert again.outcome is not None
    assert again.outcome.written == ()
