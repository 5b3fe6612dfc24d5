"""A booklet in the hand: facing pages, numbers that lead where they say, nothing lost, and pages in order once it is folded."""

from __future__ import annotations

import io
import re
from dataclasses import replace

import pdfplumber
import pytest
from pypdf import PdfReader

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.outputs.cards.booklet.alike import render_alike
from guidebuild.press.outputs.cards.booklet.bind import bind_booklet, count_front, number_spreads, trim_pages
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.marks import number_tabs
from guidebuild.press.outputs.cards.booklet.species import render_species
from guidebuild.press.paper.formats import POINTS_PER_MM, format_named, paper_named
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import make_booklet
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.booklet.book import BookletView, booklet_view
from guidebuild.views.booklet.spreads import AlikeSpread
from tests.press.small_guide import THEME, guide

A6 = Leaf(format_named("booklet-a6"))
Booklet = tuple[BookletView, CardResult, dict[str, int], int]


def print_booklet(shown: Guide, pictures: Pictures, leaf: Leaf = A6) -> Booklet:
    view = booklet_view(make_published(shown))
    front = count_front(view, pictures, leaf, THEME)
    pages = number_spreads(view, front)
    spreads = {}
    for spread in view.spreads:
        render = render_alike if isinstance(spread, AlikeSpread) else render_species
        spreads[spread.id] = render(spread, pictures, leaf, THEME, pages)
    return view, bind_booklet(view, spreads, pictures, leaf, THEME, front=front), pages, front


@pytest.fixture(scope="module")
def booklet(pictures: Pictures) -> Booklet:
    return print_booklet(guide(), pictures)


@pytest.fixture(scope="module")
def texts(booklet: Booklet) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(booklet[1].pdf)).pages]


def test_plates_stand_left_and_words_right(booklet: Booklet, texts: list[str]) -> None:
    view, _, pages, front = booklet
    assert front % 2 == 1
    for spread in view.species:
        plate = pages[spread.id]
        assert plate % 2 == 0
        assert spread.card.name.plain not in texts[plate - 1]
        assert spread.card.name.plain in texts[plate]
        assert "guarded by the female" in texts[plate]


def test_look_alikes_stand_before_the_first_of_their_species(booklet: Booklet, texts: list[str]) -> None:
    view, _, pages, _ = booklet
    (alike,) = view.alikes
    assert pages[alike.id] < min(pages[spread.id] for spread in view.species)
    assert {one.id for one in alike.each} == {spread.id for spread in view.species}
    for one in alike.each:
        assert f"{one.name.short} p. {pages[one.id]}" in texts[pages[alike.id] - 1]


def test_every_number_leads_to_the_page_that_bears_it(booklet: Booklet, texts: list[str]) -> None:
    """Folios are counted from the cover; calendar, index and look-alikes name those pages."""
    view, _, pages, front = booklet
    for number, text in enumerate(texts[1:-1], 2):
        assert str(number) in re.findall(r"\d+", text), number
    calendar = next(text for text in texts[:front] if "In this booklet" in text)
    index = next(text for text in texts if "Index Index" in text or "Index" in text.split()[:2])
    for spread in view.species:
        assert f"{spread.card.name.short} {pages[spread.id]}" in calendar
        assert f"{spread.card.name.short} {pages[spread.id]}" in index
        assert f"{spread.card.name.plain} {pages[spread.id]}" in index
    birch = next(spread for spread in view.species if spread.id == "birch")
    assert f"Parent Bug Elasmucha grisea p. {pages['parent']}" in texts[pages[birch.id]]


def test_folios_heads_and_tabs_stand_at_the_outer_edge(booklet: Booklet) -> None:
    view, result, pages, _ = booklet
    first = pages[view.species[0].id]
    width = A6.size.width * POINTS_PER_MM
    with pdfplumber.open(io.BytesIO(trim_pages(result.pdf))) as opened:
        for number, near in ((first, lambda x: x), (first + 1, lambda x: width - x)):
            page = opened.pages[number - 1]
            (folio,) = [word for word in page.extract_words() if word["text"] == str(number) and word["bottom"] > page.height * 0.9]
            assert min(near(folio["x0"]), near(folio["x1"])) == pytest.approx(A6.outer * POINTS_PER_MM, abs=1)
            (tab,) = [rect for rect in page.rects if rect["height"] > 20 * POINTS_PER_MM and rect["width"] < 10 * POINTS_PER_MM]
            assert min(near(tab["x0"]), near(tab["x1"])) <= 0.01
    # The tab of one family stands at one height on all its pages.


def test_a_tab_for_each_family_begins_again_at_the_top_where_they_are_many() -> None:
    few = number_tabs(["Coreidae", "Cydnidae", "Pentatomidae"], A6)
    assert [tab.place for tab in few.values()] == [0, 1, 2]
    many = number_tabs([f"Longfamilyname{n:02}" for n in range(20)], A6)
    assert len({tab.places for tab in many.values()}) == 1
    places = next(iter(many.values())).places
    assert [tab.place for tab in many.values()] == [n % places for n in range(20)]
    assert A6.inner.height / places >= 20


def fold(sheets: list[tuple[str, str]]) -> list[str]:
    """Read a stack of printed sides as a reader does who folds it: `sheets` are pairs of the left and right half of front, back, front…

    Done by hand with paper: the outermost sheet lies undermost, its front down. Turned over its short edge, the left half of a back lies
    behind the right half of its front. So a folded sheet opens as right of the front, left of the back, (the sheets inside,) right of the
    back, left of the front.
    """
    if not sheets:
        return []
    (front_left, front_right), (back_left, back_right) = sheets[0], sheets[1]
    return [front_right, back_left, *fold(sheets[2:]), back_right, front_left]


def test_folded_the_pages_are_in_the_order_of_reading(booklet: Booklet, texts: list[str]) -> None:
    """Each half of a printed side is read by its place on the paper; `fold`, which asks nothing of the imposing, folds the stack."""
    pages = trim_pages(booklet[1].pdf)
    printed = make_booklet(pages, A6.format, paper_named("a5"))
    halves = []
    with pdfplumber.open(io.BytesIO(printed)) as opened, pdfplumber.open(io.BytesIO(pages)) as single:
        wanted = [sorted(letter["text"] for letter in page.chars) for page in single.pages]
        for side in opened.pages:
            middle = side.width / 2
            left = sorted(letter["text"] for letter in side.chars if (letter["x0"] + letter["x1"]) / 2 < middle)
            right = sorted(letter["text"] for letter in side.chars if (letter["x0"] + letter["x1"]) / 2 >= middle)
            halves.append(("".join(left), "".join(right)))
    assert len(texts) % 4 == 0
    assert fold(halves) == ["".join(letters) for letters in wanted]


def test_where_a_spread_is_missing_no_booklet_is_made(pictures: Pictures) -> None:
    view = booklet_view(make_published(guide()))
    made = bind_booklet(view, {}, pictures, A6, THEME, front=5)
    assert made.pdf == b""
    assert made.problems[-1].what == "no-booklet"
    assert "Parent Bug" in made.problems[-1].message


def test_what_has_no_room_is_told_and_cautions_stay(pictures: Pictures) -> None:
    view = booklet_view(make_published(guide()))
    spread = next(spread for spread in view.species if spread.id == "parent")
    long = replace(spread.card, look=tuple(spread.card.look) * 40)
    made = render_species(replace(spread, card=long), pictures, A6, THEME, {})
    (problem,) = made.problems
    assert problem.what == "left-out"
    assert "leaves out: “" in problem.message
    text = PdfReader(io.BytesIO(made.pdf)).pages[1].extract_text()
    assert "More on its page" in text
