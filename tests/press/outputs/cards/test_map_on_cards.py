"""The map on the back of a card: only where the guide asks for it and words leave room, readable, told in words, and without secrets."""

from __future__ import annotations

import datetime as dt
import io
from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pikepdf
import pytest

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.leak_scan import file_leaks
from guidebuild.press.outputs.cards import words
from guidebuild.press.outputs.cards.card import card_html, fit_card, render_card
from guidebuild.press.outputs.cards.fitting import CardFitting
from guidebuild.press.outputs.cards.map_room import width_of
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.setup import make_setup
from guidebuild.reading.whole import read_guide
from guidebuild.session import open_session
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.pieces.common import Wording
from guidebuild.views.pieces.maps import MapMark
from tests.guide_files import write_files
from tests.outside.structure_rules import judge_structure
from tests.press.outputs.test_type_sizes import LEAST, find_sizes
from tests.press.small_guide import THEME
from tests.press.test_map_secrets import FILES, HEAD, ROWS, moved

SAMPLE = Path(__file__).parents[4] / "sample_guide"
ASKED = FILES["guide.yaml"].replace("squares:", "on cards: yes, squares:")


@pytest.fixture
def guide(tmp_path: Path) -> Guide:
    """All invented: an open species, and one that is told to 0.01° and so is its pond."""
    files = {**FILES, "guide.yaml": ASKED, "sightings/all.csv": HEAD + ROWS}
    found = read_guide(write_files(tmp_path, files), as_of=dt.date(2026, 11, 28))
    assert found.guide is not None
    return found.guide


@pytest.fixture
def published(guide: Guide) -> Published:
    return make_published(guide)


def card_of(published: Published, name: str) -> CardView:
    return next(card for card in card_views(published) if card.id == name)


def find_figures(pdf: bytes) -> list[str]:
    """What figures say to those who hear a document."""
    with pikepdf.open(io.BytesIO(pdf)) as opened:
        return [str(thing.Alt) for thing in opened.objects if isinstance(thing, pikepdf.Dictionary) and "/Alt" in thing]


def test_only_a_guide_that_asks_for_it_has_a_map_on_its_cards(guide: Guide, published: Published) -> None:
    assert card_of(published, "open-bug").map is not None
    assert guide.region is not None
    unasked = make_published(replace(guide, region=replace(guide.region, on_cards=False)))
    assert card_of(unasked, "open-bug").map is None
    assert replace(card_of(published, "open-bug"), map=None) == card_of(unasked, "open-bug")


def test_the_map_is_readable_and_told_in_words(published: Published, tmp_path: Path) -> None:
    result = render_card(card_of(published, "open-bug"), {}, format_named("a6"), THEME)
    (tmp_path / "card.pdf").write_bytes(result.pdf)
    assert [problem.message for problem in result.problems if problem.what == "left-out"] == []
    assert min(find_sizes(tmp_path / "card.pdf")) >= LEAST
    assert judge_structure(tmp_path / "card.pdf") == []
    told = find_figures(result.pdf)
    assert "filled square" in told
    assert "ring" in told
    (whole,) = [text for text in told if text.startswith("Map:")]
    assert whole.startswith("Map: where Open Bug was seen.")
    assert "Seen since 2016: SU" in whole
    assert "Looked for and not found: SU" in whole
    assert "Places: Long Hill." in whole
    assert whole.endswith("Squares of 200 m.")


@pytest.mark.parametrize("guessed", [True, False], ids=["by the guess", "by the layout alone"])
def test_a_full_card_is_as_without_a_map_and_says_that_it_is_left_out(
    published: Published, monkeypatch: pytest.MonkeyPatch, *, guessed: bool
) -> None:
    """The map goes before any sentence, and no word gets smaller for one that has no room after all."""
    if not guessed:
        monkeypatch.setattr(words, "stand_beside", lambda *given: 0.0)
    for lines in range(2, 26):
        look = tuple(Wording(f"Sentence {n} goes on about the place for a line and a bit of another one, and more.") for n in range(lines))
        card = replace(card_of(published, "open-bug"), look=look)
        assert card.map is not None
        with_map, without = (CardFitting(one, make_setup({}, format_named("a6"), THEME)) for one in (card, replace(card, map=None)))
        set_with, laid, drawn, _ = fit_card(with_map)
        if drawn.map:
            assert set_with.back.left_out == frozenset()
            assert laid.side("back").over == 0
            continue
        set_without, *_ = fit_card(without)
        assert set_with.back.left_out - {"map"} == set_without.back.left_out
        assert set_with.back.points == set_without.back.points
        told = [problem.message for problem in render_card(card, {}, format_named("a6"), THEME).problems if problem.what == "left-out"]
        assert told[0].startswith(f"to make room at {set_with.back.points:g} pt the back of the Pocket card A6 leaves out: the map")
        return
    pytest.fail("no card was too full for its map")


def test_the_map_of_a_narrow_region_keeps_a_legend_that_can_be_read(published: Published) -> None:
    card = card_of(published, "open-bug")
    assert card.map is not None
    narrow = replace(card, map=replace(card.map, width=70, dots=()))
    result = render_card(narrow, {}, format_named("a6"), THEME)
    assert result.problems == ()
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        found = [word for word in opened.pages[1].extract_words() if word["text"] in {"seen", "since"}]
    (since,) = [word["top"] for word in found if word["text"] == "since"]
    assert any(word["text"] == "seen" and abs(word["top"] - since) < 1 for word in found)


@pytest.mark.parametrize("name", ["id-1", "a7", "index-3x5"])
def test_a_narrow_card_has_words_instead_of_a_map(name: str, published: Published) -> None:
    card = card_of(published, "open-bug")
    assert card.map is not None
    result = render_card(card, {}, format_named(name), THEME)
    drawn = any(text.startswith("Map:") for text in find_figures(result.pdf))
    assert not drawn or format_named(name).inner.width - width_of(card.map) > 41
    assert any("leaves out: the map" in problem.message for problem in result.problems) != drawn


def test_a_page_without_a_place_for_it_neither_has_a_map_nor_tells_of_one(published: Published) -> None:
    """The plate of a species is no card: the same view, printed there, leaves nothing out."""
    result = render_plate(card_of(published, "open-bug"), {}, format_named("plate-a5"), THEME)
    assert not any(text.startswith("Map:") for text in find_figures(result.pdf))
    assert not any("map" in problem.message for problem in result.problems)


def test_the_card_of_a_secret_species_has_its_cell_and_no_day_or_place(guide: Guide) -> None:
    card = card_of(moved(guide, 51.4012, -1.1134, rows=1), "kept-bug")
    assert card.map is not None
    assert [mark.kind for mark in card.map.marks] == ["cell"]
    assert card.map.dots == ()
    told = " ".join(find_figures(render_card(card, {}, format_named("a6"), THEME).pdf))
    assert "hatching" in told
    assert "2026" not in told


def test_the_last_look_reads_the_squares_of_a_card(guide: Guide, published: Published) -> None:
    """A square at the secret pond, planted after all was decided, is found by its name in the words of the map."""
    secrets = replace(secrets_of(guide), told=published.told_positions())
    card = card_of(published, "open-bug")
    result = render_card(card, {}, format_named("a6"), THEME)
    assert list(file_leaks("card.pdf", result.pdf, secrets)) == []
    assert card.map is not None
    square = MapMark("seen", "M1 1h9v9z", "seen")
    planted = replace(card.map, about=f"{card.map.about} Seen: SU 546 729.", marks=(*card.map.marks, square))
    leaking = render_card(replace(card, map=planted), {}, format_named("a6"), THEME)
    assert any("Withy Pond" in problem.message for problem in file_leaks("card.pdf", leaking.pdf, secrets))


def test_half_of_the_sample_has_room_for_its_maps() -> None:
    published = make_published(open_session(SAMPLE).publishable())
    cards = card_views(published)
    assert all(card.map for card in cards)
    (birch,) = (card for card in cards if card.id == "birch-shieldbug")
    assert birch.map is not None
    assert {dot.name for dot in birch.map.dots if dot.here and dot.label} == {"Birch Clump"}
    (kept,) = (card for card in cards if card.id == "scarlet-shieldbug")
    assert kept.map is not None
    assert [mark.kind for mark in kept.map.marks] == ["cell"]
    assert kept.map.dots == ()


@pytest.mark.parametrize("name", ["blue-shieldbug", "birch-shieldbug", "juniper-shieldbug"])
def test_no_outline_and_no_stream_runs_through_a_name(name: str) -> None:
    """Behind each name stands white, over outline and stream and under all other signs: the card said “Gorse Bank” struck out."""
    card = card_of(make_published(open_session(SAMPLE).guide), name)
    view = card.map
    assert view
    fitting = CardFitting(card, make_setup({}, format_named("a6"), THEME))
    html = card_html(fitting, fit_card(fitting)[0])[0]
    drawing = html[html.index('<svg class="map"') :]
    ground = drawing.index("<rect")
    assert drawing.index('class="land"') < drawing.index('class="line"') < ground < drawing.index('class="seen"')
    with pdfplumber.open(io.BytesIO(render_card(card, {}, format_named("a6"), THEME).pdf)) as opened:
        page = opened.pages[1]
        white = [rect for rect in page.rects if rect["fill"] and set(rect["non_stroking_color"]) == {1.0}]
        named = [dot.name for dot in view.dots if dot.label]
        assert len(white) >= len(named) > 2
        for place in named:
            found = page.search(r"\s*".join(place.split()))
            assert any(holds(rect, word) for rect in white for word in found), place


def holds(rect: Mapping[str, float], word: Mapping[str, float]) -> bool:
    """Whether letters stand in a rectangle; what is free above and below them in their line need not."""
    across = rect["x0"] < word["x0"] + 1 and rect["x1"] > word["x1"] - 1
    return across and rect["top"] < word["top"] + 2 and rect["bottom"] > word["bottom"] - 2
