"""Cards fit, or say by how much they do not; nothing is clipped, nothing overlaps, nothing is lost without a word."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import HostUse, SimilarSpecies, StageText, Stated
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Plant
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.problems import card_texts
from guidebuild.press.paper.formats import POINTS_PER_MM, Format, format_named, read_formats
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView, card_views
from tests.press.small_guide import THEME, account, drawn_picture, guide

A6 = format_named("a6")


def view_of(**changes: object) -> CardView:
    return card_views(make_published(guide(account("parent", "Parent Bug", "Elasmucha", "grisea", **changes))))[0]


def words_on(pdf: bytes) -> list[str]:
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        return [" ".join((page.extract_text(x_tolerance_ratio=0.12) or "").split()) for page in opened.pages]


def left_of(result: CardResult) -> str:
    return " ".join(problem.message for problem in result.problems if problem.what == "left-out")


def assert_all_inside(pdf: bytes, card: Format) -> None:
    """Every letter keeps to the page less its margin (half a point for the side bearings of letters)."""
    margin = card.margin * POINTS_PER_MM - 0.5
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        assert len(opened.pages) == card.sides
        for page in opened.pages:
            for letter in page.chars:
                assert margin <= letter["x0"] <= letter["x1"] <= float(page.width) - margin, letter["text"]
                assert margin <= letter["top"] <= letter["bottom"] <= float(page.height) - margin + 1.5, letter["text"]


def assert_no_letters_overlap(pdf: bytes) -> None:
    """No letter stands on another: the middle of each lies in no other letter's box."""
    with pdfplumber.open(io.BytesIO(pdf)) as opened:
        for page in opened.pages:
            letters = [c for c in page.chars if c["text"].strip()]
            for one in letters:
                x, y = (one["x0"] + one["x1"]) / 2, (one["top"] + one["bottom"]) / 2
                over = [
                    c["text"]
                    for c in letters
                    if c is not one and c["x0"] + 0.6 < x < c["x1"] - 0.6 and c["top"] + c["size"] * 0.3 < y < c["bottom"] - c["size"] * 0.3
                ]
                assert not over, (one["text"], over)


def test_a_usual_card_fits_at_once(cards: tuple[CardResult, ...]) -> None:
    assert [(card.layouts, card.problems) for card in cards] == [(1, ())] * 3


def test_everything_asked_for_is_on_the_card(cards: tuple[CardResult, ...]) -> None:
    front, back = words_on(cards[0].pdf)
    for words in (
        "Parent Bug",
        "Elasmucha grisea",
        "dark spot on the scutellum",
        "6–9 mm",
        "Not Birch Shieldbug",
        "Juniper Shieldbug",
        "life size",
    ):
        assert words in front
    for words in ("Silver Birch", "Woodland edge", "egg A batch", "hedge.example/guide", "Drawn by the tests", "2 May 2026"):
        assert words in back


@pytest.mark.parametrize("name", [name for name, one in read_formats().items() if one.sides == 2])
def test_every_format_prints_inside_its_margins(name: str, pictures: Pictures) -> None:
    result = render_card(view_of(), pictures, format_named(name), THEME)
    assert result.pdf, result.problems
    assert_all_inside(result.pdf, format_named(name))
    assert_no_letters_overlap(result.pdf)


def test_text_that_cannot_fit_is_a_problem_and_prints_nothing(pictures: Pictures) -> None:
    """A22: the card, its side, the longest piece and by how many lines it is over."""
    words = " ".join(f"w{n}" for n in range(400)) + " LASTWORD"
    result = render_card(view_of(caution=Inline(words), hazards=Stated(("ticks",), said=True)), pictures, A6, THEME)
    assert result.pdf == b""
    (problem,) = [p for p in result.problems if p.what == "too-long"]
    assert problem.where == "card parent"
    assert "the back of the Pocket card A6 is" in problem.message
    assert "lines (" in problem.message
    assert "even at 7.5 pt; the longest piece is “caution”" in problem.message


def test_pieces_are_left_out_in_rank_and_said(pictures: Pictures) -> None:
    stages = tuple(
        StageText(stage, Inline(f"Says {stage} and goes on" + " at length about many things" * 6 + "."))
        for stage in ("egg", "nymph", "adult")
    )
    result = render_card(view_of(stages=stages), pictures, format_named("id-1"), THEME)
    assert result.pdf
    # Stage by stage, those that one looks for last; the last of them stays, and nothing else need go.
    gone = "the back of the Wallet card leaves out: “Says egg and goes on …” (egg), “Says nymph and goes on …” (nymph)"
    assert left_of(result).endswith(gone)
    assert "Says adult and goes on" in words_on(result.pdf)[1]
    assert "Silver Birch" in words_on(result.pdf)[1]


def test_a_long_unbroken_name_is_broken_not_clipped(pictures: Pictures) -> None:
    name = "Donaudampfschifffahrtsgesellschaftskapitänswanze"
    result = render_card(replace_name(view_of(), name), pictures, A6, THEME)
    assert result.pdf, result.problems
    assert name in words_on(result.pdf)[0].replace(" ", "").replace("\u00ad", "")
    assert_all_inside(result.pdf, A6)


def replace_name(view: CardView, vernacular: str) -> CardView:
    return replace(view, name=replace(view.name, vernacular=vernacular))


def test_forty_host_plants_give_up_their_uses_then_end_in_a_count(pictures: Pictures) -> None:
    plants = {f"p{n}": Plant(f"p{n}", f"Invented Plant Number {n}") for n in range(40)}
    hosts = Stated(tuple(HostUse(p, Inline("leaves and catkins"), Inline(f"food of {p}")) for p in plants), said=True)
    made = guide(account("parent", "Parent Bug", "Elasmucha", "grisea", host_plants=hosts))
    view = card_views(make_published(replace_plants(made, plants)))[0]
    large, small = (render_card(view, pictures, format_named(name), THEME) for name in ("a6", "id-1"))
    assert "Invented Plant Number 39" in words_on(large.pdf)[1]
    assert "use of plants" in left_of(large)
    gone = int(re.findall(r"\+ (\d+), more on its page", words_on(small.pdf)[1])[0])
    assert 0 < gone < 40 - 6  # as many stay as have room
    assert f"{gone} plants from Invented Plant Number {40 - gone} on" in left_of(small)
    assert f"Invented Plant Number {40 - gone - 1}" in words_on(small.pdf)[1]
    assert f"Invented Plant Number {40 - gone}" not in words_on(small.pdf)[1]


def test_plants_of_one_use_share_its_words(pictures: Pictures) -> None:
    plants = {name: Plant(name, name.capitalize()) for name in ("oak", "birch", "alder")}
    uses = {"oak": "roots", "birch": "roots", "alder": "cones"}
    hosts = Stated(tuple(HostUse(p, Inline(use)) for p, use in uses.items()), said=True)
    made = replace_plants(guide(account("parent", "Parent Bug", "Elasmucha", "grisea", host_plants=hosts)), plants)
    card = render_card(card_views(make_published(made))[0], pictures, A6, THEME)
    assert "Oak, Birch (roots); Alder (cones)" in words_on(card.pdf)[1]


def replace_plants(made: Guide, plants: dict[str, Plant]) -> Guide:
    return replace(made, plants=plants)


def test_a_card_without_a_picture_says_so() -> None:
    result = render_card(view_of(), {}, A6, THEME)
    assert result.pdf
    assert "No picture yet" in words_on(result.pdf)[0]


@pytest.mark.parametrize("size", [(900, 1600), (3000, 800)], ids=["portrait", "panorama"])
def test_tall_and_wide_pictures_are_shown_whole(size: tuple[int, int], tmp_path: Path) -> None:
    result = render_card(view_of(), {"plate": drawn_picture(tmp_path, size=size)}, A6, THEME)
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        (image,) = opened.pages[0].images
    placed = (image["x1"] - image["x0"]) / (image["bottom"] - image["top"])
    assert placed == pytest.approx(size[0] / size[1], rel=0.01)
    assert_all_inside(result.pdf, A6)


def test_too_few_pixels_are_said_with_the_number_and_what_is_needed(tmp_path: Path) -> None:
    """A25: 400 pixels for the width of an A6 card."""
    result = render_card(view_of(), {"plate": drawn_picture(tmp_path, size=(400, 300))}, A6, THEME)
    (problem,) = [p for p in result.problems if p.what == "few-pixels"]
    assert "has 400 pixels for" in problem.message
    assert "dpi where print wants 300; give one at least" in problem.message


def test_prepared_pictures_have_the_pixels_that_print_needs() -> None:
    assert picture_pixels(A6) == pytest.approx((1122, 1043), abs=1)


def test_drawn_signs_and_odd_letters_print_without_boxes(pictures: Pictures) -> None:
    """A23: ♂ and ♀ are drawn; × ′ ″ and letters with marks are in the packaged faces."""
    stages = (StageText("adult", Inline("♂ 12 mm, ♀ 18 mm, × 10, 5′6″, ā ł ñ ŵ.")),)
    result = render_card(view_of(stages=stages), pictures, A6, THEME)
    assert result.problems == ()
    assert "12 mm, 18 mm, × 10, 5′6″, ā ł ñ ŵ." in words_on(result.pdf)[1]


def test_a_missing_sign_names_species_field_and_character(pictures: Pictures) -> None:
    result = render_card(view_of(stages=(StageText("adult", Inline("Sits like a 🐸 on a leaf, 12 mm.")),)), pictures, A6, THEME)
    (problem,) = [p for p in result.problems if p.what == "missing-sign"]
    assert problem.message.startswith("Parent Bug, life stages: no font of the theme has the sign “🐸” (U+1F438)")


def test_high_contrast_is_black_and_white_only(views: tuple[CardView, ...]) -> None:
    result = render_card(views[0], {}, A6, THEME, contrast=True)
    with pdfplumber.open(io.BytesIO(result.pdf)) as opened:
        inks = {letter["non_stroking_color"] for page in opened.pages for letter in page.chars}
        inks |= {shape["non_stroking_color"] for page in opened.pages for shape in page.rects if shape["fill"]}
    assert {len(set(ink)) for ink in inks} == {1}
    assert {ink[0] for ink in inks} <= {0, 1}


def test_the_same_card_gives_the_same_bytes(views: tuple[CardView, ...], pictures: Pictures, cards: tuple[CardResult, ...]) -> None:
    assert render_card(views[0], pictures, A6, THEME).pdf == cards[0].pdf


def test_every_word_of_a_view_has_a_field_for_messages(views: tuple[CardView, ...]) -> None:
    texts = card_texts(views[0])
    assert texts["similar"].startswith("Birch Shieldbug Longer")
    assert texts["diagnostics"].startswith("dark spot")


def test_look_alikes_without_a_note_are_told_by_what_separates_them() -> None:
    made = guide(
        account("parent", "Parent Bug", "Elasmucha", "grisea", similar=Stated((SimilarSpecies("birch"),), said=True)),
        account("birch", "Birch Shieldbug", "Elasmostethus", "interstinctus"),
    )
    assert card_views(make_published(made))[0].look_alikes[0].tell.words == ""


def test_an_account_that_lacks_everything_still_gives_a_card() -> None:
    bare = view_of(
        size=None,
        diagnostics=(),
        similar=Stated(),
        host_plants=Stated(),
        seasons=(),
        stages=(),
        sections=(),
        habitat=(),
        photos=(),
        reviewed=None,
        family="",
        status=Inline(),
    )
    result = render_card(bare, {}, A6, THEME)
    assert result.pdf, result.problems


def test_a_word_wider_than_its_card_is_a_problem_and_prints_nothing(pictures: Pictures, tmp_path: Path) -> None:
    """The shipped theme breaks a long word at any letter; a guide's own theme need not."""
    css = "cards/card.css"
    (tmp_path / "cards").mkdir()
    shipped = (THEME[-1] / css).read_text(encoding="utf-8")
    (tmp_path / css).write_text(shipped.replace("overflow-wrap: anywhere", "overflow-wrap: normal"), encoding="utf-8")
    wide = card_views(guide(account("parent", "W" * 60, "Elasmucha", "grisea")))[0]
    result = render_card(wide, pictures, A6, (tmp_path, *THEME))
    assert result.pdf == b""
    problem = next(p for p in result.problems if p.what == "too-wide")
    assert problem.message.startswith(f"on the front of the Pocket card A6, “{'W' * 60}” is wider than the card")
