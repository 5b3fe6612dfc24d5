"""The sheets of a walk for children and in large print: what stands on them, how large, and what is kept from a child's list."""

from __future__ import annotations

import io
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pdfplumber
import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Account, SimilarSpecies, StageSeason, Stated
from guidebuild.guide.guide import Caution, Guide
from guidebuild.guide.records import Photo, Place
from guidebuild.guide.seasons import Season
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.jobs import Look
from guidebuild.press.outputs.cards.walk_sheets import LargePrintWork, SpottingWork, render_large_print, render_spotting
from guidebuild.press.paper.formats import POINTS_PER_MM, format_named
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.reading.whole import read_guide
from guidebuild.views.cards.printed import checklist_view
from guidebuild.views.cards.walk_sheets import EACH_FAMILY, MOST_EASY, MOST_HARDER, SpottingView, spotting_view
from tests.as_published import with_walk
from tests.press.small_guide import THEME, WALK, account, dekads, guide

LARGE_PRINT = 18.0
"""Points: what sight-loss charities ask of large print (16 to 18; from memory, common practice)."""


def many(count: int, *, families: int = 1, hazards: tuple[str, ...] = ()) -> Guide:
    """So many invented bugs, all out at a hedge on the day, each with a picture."""
    base = guide()
    seasons = (StageSeason("adult", Season("June", dekads((15, 17)), dekads((15, 17)))),)
    found: dict[str, Account] = {}
    photos: dict[str, Photo] = {}
    for number in range(count):
        ident = f"bug-{number}"
        made = account(ident, f"Bug {number}", "Inventus", f"numero{'abcdefghijklmnopqrstuvwxyz'[number]}")
        found[ident] = replace(
            made,
            family=f"Family {number % families}",
            similar=Stated((), said=True),
            seasons=seasons,
            hazards=Stated(hazards, said=True),
            diagnostics=(),
            photos=(f"p-{number}",),
        )
        photos[f"p-{number}"] = replace(base.photos["plate"], id=f"p-{number}", file=f"photos/{ident}.jpg", stage="adult")
    place = Place("hedge", "The Hedge", habitat=(Inline("old hedge"),))
    return replace(base, accounts=found, photos=photos, places={"hedge": place})


def sheet_of(made: Guide) -> SpottingView:
    view = spotting_view(*with_walk(made, WALK))
    assert view is not None
    return view


def test_two_of_each_family_are_easy_and_the_others_are_for_sharp_eyes() -> None:
    view = sheet_of(many(7, families=2))
    families = [int(one.account.removeprefix("bug-")) % 2 for one in view.easy]
    assert sorted(families) == [0, 0, 1, 1]
    assert {one.account for one in view.harder} == {f"bug-{n}" for n in range(7)} - {one.account for one in view.easy}


def test_a_sheet_has_two_sides_and_no_more() -> None:
    view = sheet_of(many(26, families=26))
    assert (len(view.easy), len(view.harder)) == (MOST_EASY, MOST_HARDER)
    assert len(sheet_of(many(3)).easy) == EACH_FAMILY


def test_no_child_is_sent_to_look_for_what_hurts_but_all_are_warned_of_it() -> None:
    """A wasp that stings may be met: its caution stands, its picture with a box to tick does not."""
    harmless, stinging = many(3), many(4, hazards=("sting",))
    made = replace(harmless, accounts={**harmless.accounts, "bug-3": stinging.accounts["bug-3"]}, photos=stinging.photos)
    view = sheet_of(made)
    assert "bug-3" not in {one.account for one in (*view.easy, *view.harder)}
    assert any("Bug 3" in caution.whole.words for caution in view.cautions)
    assert spotting_view(*with_walk(stinging, WALK)) is None


@pytest.mark.parametrize("harm", ["poisonous", "touch", "sting", ""])  # of the last it is not known how it hurts
def test_nor_for_what_is_taken_for_something_that_does_worse_than_bite(harm: str) -> None:
    """Invented: a garlic-like leaf beside a lily that hurts. A child who goes by looks may take either."""
    made = many(2)
    lily = replace(made.accounts["bug-1"], hazards=Stated(("lily",), said=True))
    like = replace(made.accounts["bug-0"], similar=Stated((SimilarSpecies("bug-1"),), said=True))
    cautions = {**made.cautions, "lily": Caution("lily", "The lily", "Leave it alone.", "", harm=harm)}
    together = replace(made, accounts={"bug-0": like, "bug-1": lily}, cautions=cautions)
    assert spotting_view(*with_walk(together, WALK)) is None
    alone = replace(together, accounts={"bug-0": replace(like, similar=Stated((), said=True))})
    assert [one.account for one in sheet_of(alone).easy] == ["bug-0"]
    bites = replace(together, cautions={**cautions, "lily": replace(cautions["lily"], harm="bite")})
    assert [one.account for one in sheet_of(bites).easy] == ["bug-0"]


def test_the_picture_is_of_a_stage_that_is_out_and_is_said_to_be_where_the_words_are_not() -> None:
    view = sheet_of(many(1))
    assert (view.easy[0].photo.whose, view.easy[0].shown) == ("adult", "")
    (claim,) = view.easy[0].claims
    assert replace(view.easy[0], claims=(replace(claim, stages="nymph"),)).shown == "adult"


@pytest.mark.parametrize("paper", ["children-a4", "children-letter"])
def test_a_full_sheet_lies_on_two_sides_with_a_box_for_each(paper: str, pictures: Pictures) -> None:
    view = sheet_of(many(26, families=26))
    shown = tuple((photo.id, pictures["plate"]) for photo in view.photos)
    made = render_spotting(SpottingWork(view, shown, Look(format_named(paper), THEME, contrast=False)))
    assert made.problems == ()
    with pdfplumber.open(io.BytesIO(made.parts[0])) as opened:
        assert len(opened.pages) == 2
        text = " ".join(page.extract_text() for page in opened.pages)
        boxes = [curve for page in opened.pages for curve in (*page.curves, *page.rects) if 8 < curve["width"] / 72 * 25.4 < 9.5]
        assert len(boxes) == MOST_EASY + MOST_HARDER
        assert len([image for page in opened.pages for image in page.images]) == MOST_EASY + MOST_HARDER
        assert min(letter["size"] for page in opened.pages for letter in page.chars) >= 6.5
    for words in ("A walk in June", "20 June 2026, 18:30", "Stay with your grown-up", "Ticks", "Bug"):
        assert words in text


def test_nothing_of_a_picture_lies_outside_its_frame(pictures: Pictures) -> None:
    view = sheet_of(many(1))
    plate: Picture = pictures["plate"]
    measured = tuple(replace(one, photo=replace(one.photo, measured=(50, 40, 50, 60), length=8.0)) for one in view.easy)
    work = SpottingWork(replace(view, easy=measured), (("p-0", plate),), Look(format_named("children-a4"), THEME, contrast=True))
    with pdfplumber.open(io.BytesIO(render_spotting(work).parts[0])) as opened:
        width = opened.pages[0].width
        assert opened.pages[0].images
        assert all(image["x1"] - image["x0"] > width / 3 for image in opened.pages[0].images)  # drawn larger, to show the animal large
        shown = opened.pages[0].to_image(resolution=36).original.convert("L")
    right = shown.crop((round(shown.width / 2) + 4, round(shown.height * 0.15), shown.width, round(shown.height * 0.3)))
    assert right.getextrema()[0] > 250  # one of two places is taken: beside it the paper is white


@pytest.mark.parametrize(("count", "across"), [(1, 2), (2, 2), (3, 3), (6, 3)])
def test_a_few_pictures_are_larger_and_room_that_is_left_is_to_draw_in(pictures: Pictures, count: int, across: int) -> None:
    made = many(count, families=count)
    view = replace(sheet_of(made), harder=())
    shown = tuple((photo.id, pictures["plate"]) for photo in view.photos)
    page = format_named("children-a4")
    with pdfplumber.open(io.BytesIO(render_spotting(SpottingWork(view, shown, Look(page, THEME, contrast=False))).parts[0])) as opened:
        (sheet,) = opened.pages
        names = sorted({round(word["x0"]) for word in sheet.extract_words() if word["text"] == "Bug"})
        assert len(names) == min(count, across)
        step = (page.inner.width + 6) / across * POINTS_PER_MM
        assert all(low - high == pytest.approx(step, abs=2) for high, low in pairwise(names))
        foot = max(letter["bottom"] for letter in sheet.chars) / POINTS_PER_MM
        heading = next(word["bottom"] for word in sheet.extract_words() if word["text"] == "Draw") / POINTS_PER_MM
    below = page.size.height - page.margin - foot
    assert 0 <= below < 8
    assert foot - heading > 38  # the frame is as high as that at the least


def test_what_is_looked_for_is_not_torn_from_its_stage() -> None:
    """How likely it is stands in one piece; a line that ends with it does not begin anew after the first word."""
    read = read_guide(Path(__file__).parents[4] / "sample_guide").guide
    assert read
    published = make_published(read)
    for walk in published.walks.values():
        printed = render_checklist(checklist_view(published, walk), format_named("checklist"), THEME)
        with pdfplumber.open(io.BytesIO(printed.pdf)) as opened:
            lines = [line for page in opened.pages for line in page.extract_text().splitlines()]
        assert [line for line in lines if line.strip() in {"adult:", "nymph:"} or line.endswith(("(worth", "(worth a", "(outside"))] == []
        assert any("chance)" in line for line in lines)


def test_large_print_says_what_the_checklist_says_in_eighteen_points() -> None:
    made, walk = with_walk(many(5), WALK)
    result = render_large_print(LargePrintWork(checklist_view(made, walk), Look(format_named("large-print-a4"), THEME, contrast=False)))
    assert result.problems == ()
    with pdfplumber.open(io.BytesIO(result.parts[0])) as opened:
        assert min(round(letter["size"], 2) for page in opened.pages for letter in page.chars) >= LARGE_PRINT
        assert all("Italic" not in letter["fontname"] for page in opened.pages for letter in page.chars)
        text = " ".join(" ".join(page.extract_text().split()) for page in opened.pages)
    for words in (
        "A walk in June",
        "20 June 2026, 18:30",
        "the stile",
        "hand lens",
        "Ticks",
        "The Hedge",
        "Look under the leaves.",
        *(f"Bug {n}" for n in range(5)),
    ):
        assert words in text
