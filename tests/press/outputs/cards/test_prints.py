"""Leaflets, plates, booklets and checklists: what they hold, and that nothing is lost or over without a word."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pdfplumber
import pytest
from pypdf import PdfReader, PdfWriter

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Stop, Walk
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.booklet import first_species_page, notes_wanted, render_booklet
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import POINTS_PER_MM, Format, format_named, paper_named
from guidebuild.press.paper.imposition import eight_panels
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import make_booklet
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import card_views
from guidebuild.views.cards.printed import booklet_view, checklist_view, leaflet_views
from guidebuild.views.pieces.common import Wording
from tests.as_published import with_walk
from tests.press.small_guide import THEME, account, guide

A4 = format_named("leaflet-a4")
WALK = Walk(
    id="june",
    title="A walk in June",
    date=dt.date(2026, 6, 20),
    start=dt.time(18, 30),
    zone="Europe/London",
    meet="the stile",
    stops=(Stop("hedge", 20, 100, Inline("Look under the leaves.")),),
    leader="A. Leader",
    bring=("hand lens",),
    hazards=("ticks",),
)


def guide_with_walk() -> Guide:
    return replace(guide(), walks={"june": WALK}, places={"hedge": Place("hedge", "The Hedge", habitat=(Inline("old hedge"),))})


@pytest.fixture(scope="module")
def leaflet(pictures: Pictures) -> CardResult:
    (view,) = leaflet_views(make_published(guide_with_walk()))
    return render_leaflet(view, pictures, A4, THEME)


def test_a_leaflet_is_one_page_of_its_paper(leaflet: CardResult) -> None:
    (page,) = PdfReader(io.BytesIO(leaflet.pdf)).pages
    assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((841.890, 595.276), abs=0.01)
    assert leaflet.problems == ()


def test_each_panel_stands_in_its_place_on_the_sheet(leaflet: CardResult) -> None:
    """Names by their first letter: panel 1 holds the title, 2 to 4 the three species, in the places of the imposition."""
    titles = {1: "A", 2: "J", 3: "B", 4: "P"}
    panels = eight_panels(A4.size)
    with pdfplumber.open(io.BytesIO(leaflet.pdf)) as opened:
        large = [c for c in opened.pages[0].chars if c["size"] > 9.9]
        for number, letter in titles.items():
            place = panels[number - 1]
            x, top = place.x * 72 / 25.4, (A4.size.height - place.y - place.size.height) * 72 / 25.4
            width, height = place.size.width * 72 / 25.4, place.size.height * 72 / 25.4
            inside = [c["text"] for c in large if x <= c["x0"] <= x + width and top <= c["top"] <= top + height]
            assert letter in inside, (number, inside)


def test_no_word_of_a_leaflet_crosses_a_fold(leaflet: CardResult) -> None:
    panel = eight_panels(A4.size)[0].size
    margin = A4.margin - 0.3
    with pdfplumber.open(io.BytesIO(leaflet.pdf)) as opened:
        for letter in opened.pages[0].chars:
            for low, high, side in (("x0", "x1", panel.width), ("top", "bottom", panel.height)):
                start, end = (letter[key] * 25.4 / 72 for key in (low, high))
                assert start // side == end // side, letter["text"]
                assert margin - 1 <= start % side, letter["text"]


def test_a_leaflet_that_is_over_names_the_panel_and_the_species(pictures: Pictures) -> None:
    long = account(
        "parent",
        "Parent Bug",
        "Elasmucha",
        "grisea",
        diagnostics=tuple(
            replace(mark, mark=Inline(mark.mark.text + ", and so on at great length" * 40), photo="", point=None)
            for mark in account("x", "X", "X", "x").diagnostics
        ),
    )
    (view,) = leaflet_views(make_published(guide(long)))
    result = render_leaflet(view, pictures, A4, THEME)
    assert result.pdf == b""
    (problem,) = [problem for problem in result.problems if problem.what == "too-long"]
    assert "panel 2 (Parent Bug) is" in problem.message
    assert "over even at 8 pt" in problem.message
    assert any("panel 2 (Parent Bug) leaves out: authority, season" in told.message for told in result.problems)


def test_a_plate_is_one_page_with_everything(pictures: Pictures) -> None:
    card = booklet_view(make_published(guide())).cards[2]
    result = render_plate(card, pictures, format_named("plate-a5"), THEME)
    reader = PdfReader(io.BytesIO(result.pdf))
    text = " ".join(reader.pages[0].extract_text().split())
    assert len(reader.pages) == 1
    for words in (card.name.short, "Silver Birch", "dark spot on the scutellum", "guarded by the female", "hedge.example"):
        assert words in text


def test_what_went_before_a_large_piece_comes_back_to_a_plate(pictures: Pictures) -> None:
    """Scientific names and uses of plants rank below where to look: they go first, and are wanted again once that has gone."""
    card = replace(booklet_view(make_published(guide())).cards[2], look=(Wording("Look under every leaf of the birch. " * 60),))
    result = render_plate(card, pictures, format_named("plate-a5"), THEME)
    (problem,) = [p for p in result.problems if p.what == "left-out"]
    assert problem.message == "to make room at 8 pt the Species plate A5 leaves out: “Look under every leaf of …”"
    text = " ".join(PdfReader(io.BytesIO(result.pdf)).pages[0].extract_text().split())
    assert "Elasmostethus interstinctus" in text
    assert "Silver Birch (catkins and leaves, food)" in text


def test_a_booklet_counts_its_pages_and_is_imposed(pictures: Pictures) -> None:
    view, leaf = booklet_view(make_published(guide())), format_named("booklet")
    start = first_species_page(view, leaf, THEME)
    pages = [render_plate(card, pictures, leaf, THEME, number=n) for n, card in enumerate(view.cards, start=start)]
    made = render_booklet(view, pages, pictures, leaf, THEME)
    texts = [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(made.pdf)).pages]
    assert view.title in texts[0]
    for number, card in enumerate(view.cards, start=start):
        assert f"{card.name.plain} {number}" in texts[1] or f"{card.name.plain}{number}" in texts[1]
        assert card.name.short in texts[number - 1]
        assert str(number) in texts[number - 1]
    sheets = PdfReader(io.BytesIO(make_booklet(made.pdf, leaf, paper_named("a4"))))
    assert len(texts) % 4 == 0
    assert len(sheets.pages) == len(texts) // 2
    assert float(sheets.pages[0].mediabox.width) == pytest.approx(841.890, abs=0.01)
    assert sheets.trailer["/Root"]["/ViewerPreferences"]["/Duplex"] == "/DuplexFlipShortEdge"


@pytest.mark.parametrize(("pages", "notes"), [(4, 0), (5, 3), (6, 2), (7, 1), (8, 0)])
def test_notes_fill_sheets_of_four(pages: int, notes: int) -> None:
    assert notes_wanted(pages) == notes


def test_pages_left_over_are_ruled_for_notes_before_the_back_cover(pictures: Pictures) -> None:
    """Cover, contents, three species, credits and back cover make seven: one page of notes makes two sheets."""
    view, leaf = booklet_view(make_published(guide())), format_named("booklet")
    start = first_species_page(view, leaf, THEME)
    made = render_booklet(view, [CardResult(card.id, _blank_plate(leaf), ()) for card in view.cards], pictures, leaf, THEME)
    with pdfplumber.open(io.BytesIO(made.pdf)) as opened:
        assert len(opened.pages) == 8
        ruled = opened.pages[6]
        assert "Notes" in ruled.extract_text()
        levels = sorted({round(line["top"] / 72 * 25.4, 1) for line in ruled.lines})
        assert {round(b - a, 1) for a, b in pairwise(levels)} == {8.0}
        last = opened.pages[7].extract_text()
    assert start == 3
    assert view.title in last
    assert "hedge.example/guide" in last


def _blank_plate(leaf: Format) -> bytes:
    writer = PdfWriter()
    writer.add_blank_page(*leaf.size.points)
    written = io.BytesIO()
    writer.write(written)
    return written.getvalue()


def test_a_booklet_without_one_of_its_pages_is_not_printed(pictures: Pictures) -> None:
    view = booklet_view(make_published(guide()))
    made = render_booklet(view, [], pictures, format_named("booklet"), THEME)
    assert made.pdf == b""
    assert "not printed, because of" in made.problems[-1].message


def test_a_checklist_lists_what_may_be_met_with_boxes_and_cautions() -> None:
    view = checklist_view(*with_walk(guide_with_walk(), WALK))
    made = render_checklist(view, format_named("checklist"), THEME)
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(made.pdf)).pages)
    for words in (
        "A walk in June",
        "20 June 2026, 18:30",
        "the stile",
        "hand lens",
        "Ticks",
        "Parent Bug",
        "Birch Shieldbug",
        "Something else?",
    ):
        assert words in text
    assert made.problems == ()


@pytest.mark.parametrize(("name", "render"), [("a6", render_card), ("plate-a5", render_plate)])
def test_without_an_address_no_hole_is_left_for_its_code(pictures: Pictures, name: str, render: Callable[..., CardResult]) -> None:
    chosen = format_named(name)
    starts = []
    for address in ("https://hedge.example/guide", ""):
        (card, *_) = card_views(make_published(guide(address=address)))
        with pdfplumber.open(io.BytesIO(render(card, pictures, chosen, THEME).pdf)) as opened:
            (imprint,) = [word for word in opened.pages[-1].extract_words() if word["text"].startswith("Picture:")]
        starts.append(imprint["x0"])
    assert starts[1] == pytest.approx(chosen.margin * POINTS_PER_MM, abs=0.5)
    assert starts[0] > starts[1] + 10 * POINTS_PER_MM


def test_a_booklet_that_lacks_a_species_is_not_made(pictures: Pictures) -> None:
    leaf, view = format_named("booklet"), booklet_view(guide())
    pages = [CardResult(card.id, b"" if card.id == "birch" else b"%PDF", ()) for card in view.cards]
    result = render_booklet(view, pages, pictures, leaf, THEME)
    assert result.pdf == b""
    assert [(p.what, p.message) for p in result.problems] == [("no-booklet", "not printed, because of Birch Shieldbug")]
