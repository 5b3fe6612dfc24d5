"""Leaflets, plates, booklets and checklists: what they hold, and that nothing is lost or over without a word."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from itertools import pairwise

import pdfplumber
import pytest
from pypdf import PdfReader

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import POINTS_PER_MM, format_named
from guidebuild.press.paper.imposition import eight_panels
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import card_views
from guidebuild.views.cards.printed import checklist_view, leaflet_views
from guidebuild.views.pieces.common import Wording
from tests.as_published import with_walk
from tests.press.small_guide import THEME, WALK, account, guide

A4 = format_named("leaflet-a4")


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


@pytest.mark.parametrize("species", [1, 3])
def test_no_panel_of_a_leaflet_is_blank(pictures: Pictures, species: int) -> None:
    """Where fewer species are out than there are panels for, the others are for notes: lines 8 mm apart, all across."""
    (view,) = leaflet_views(make_published(guide_with_walk()))
    printed = render_leaflet(replace(view, cards=view.cards[:species]), pictures, A4, THEME)
    assert printed.problems == ()
    with pdfplumber.open(io.BytesIO(printed.pdf)) as opened:
        page = opened.pages[0]
        for number, place in enumerate(eight_panels(A4.size), 1):
            x, y, width, height = (length * POINTS_PER_MM for length in (place.x, place.y, place.size.width, place.size.height))
            panel = page.within_bbox((x, page.height - y - height, x + width, page.height - y))
            words, lines = panel.extract_text(), sorted({round(line["top"], 1) for line in panel.lines if line["width"] > width * 0.8})
            if 1 + species < number < 8:
                assert "".join(words.split()) in {"Notes", "setoN"}, number
                assert [round((low - high) / POINTS_PER_MM, 1) for high, low in pairwise(lines)] == [8.0] * (len(lines) - 1)
                assert len(lines) >= 9
            else:
                assert len(words) > 40, number
                assert lines == []


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
    card = card_views(make_published(guide()))[0]
    result = render_plate(card, pictures, format_named("plate-a5"), THEME)
    reader = PdfReader(io.BytesIO(result.pdf))
    text = " ".join(reader.pages[0].extract_text().split())
    assert len(reader.pages) == 1
    for words in (card.name.short, "Silver Birch", "dark spot on the scutellum", "guarded by the female", "hedge.example"):
        assert words in text


def test_what_went_before_a_large_piece_comes_back_to_a_plate(pictures: Pictures) -> None:
    """Scientific names and uses of plants rank below where to look: they go first, and are wanted again once that has gone."""
    card = replace(card_views(make_published(guide()))[0], look=(Wording("Look under every leaf of the birch. " * 60),))
    result = render_plate(card, pictures, format_named("plate-a5"), THEME)
    (problem,) = [p for p in result.problems if p.what == "left-out"]
    assert problem.message == "to make room at 8 pt the Species plate A5 leaves out: “Look under every leaf of …”"
    text = " ".join(PdfReader(io.BytesIO(result.pdf)).pages[0].extract_text().split())
    assert "Elasmostethus interstinctus" in text
    assert "Silver Birch (catkins and leaves, food)" in text


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
