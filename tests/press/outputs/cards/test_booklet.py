"""A booklet in the hand: facing pages, numbers that lead where they say, nothing lost, and pages in order once it is folded."""

from __future__ import annotations

import io
import re
from dataclasses import replace
from types import SimpleNamespace

import pdfplumber
import pikepdf
import pytest
from pypdf import PdfReader, PdfWriter

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.outputs.cards.booklet import bind
from guidebuild.press.outputs.cards.booklet.alike import render_alike
from guidebuild.press.outputs.cards.booklet.bind import PrintedEnds, bind_booklet, number_spreads, print_ends, trim_pages
from guidebuild.press.outputs.cards.booklet.binding import find_spine, is_glued, make_cover, make_inside
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.marks import number_tabs
from guidebuild.press.outputs.cards.booklet.plates import draw_pictures
from guidebuild.press.outputs.cards.booklet.species import render_species
from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.formats import POINTS_PER_MM, Area, format_named, paper_named
from guidebuild.press.paper.imposition import booklet_crops
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import SheetsNamed, make_booklet
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.booklet.book import BookletView, booklet_view
from guidebuild.views.booklet.spreads import AlikeSpread
from guidebuild.views.pieces.common import PhotoView
from guidebuild.words import words
from tests.press.small_guide import THEME, guide

A6 = Leaf(format_named("booklet-a6"))
Booklet = tuple[BookletView, CardResult, dict[str, int], int]


def print_booklet(shown: Guide, pictures: Pictures, leaf: Leaf = A6) -> Booklet:
    view = booklet_view(make_published(shown))
    ends = print_ends(view, pictures, leaf, THEME)
    pages = number_spreads(view, ends.front)
    spreads = {}
    for spread in view.spreads:
        render = render_alike if isinstance(spread, AlikeSpread) else render_species
        spreads[spread.id] = render(spread, pictures, leaf, THEME, pages)
    return view, bind_booklet(view, spreads, pictures, leaf, THEME, ends=ends), pages, ends.front


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
            (tab,) = [rect for rect in page.rects if rect["height"] > 20 * POINTS_PER_MM and rect["width"] < 13 * POINTS_PER_MM]
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


def test_a_species_without_pictures_says_so(pictures: Pictures) -> None:
    view = booklet_view(make_published(guide()))
    made = render_species(replace(view.species[0], pictures=()), {}, A6, THEME, {})
    assert made.problems == ()
    assert "No picture yet" in PdfReader(io.BytesIO(made.pdf)).pages[0].extract_text()


def test_where_a_spread_is_missing_no_booklet_is_made(pictures: Pictures) -> None:
    view = booklet_view(make_published(guide()))
    made = bind_booklet(view, {}, pictures, A6, THEME, ends=PrintedEnds())
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


def test_above_64_pages_the_spine_is_as_wide_as_the_leaves_are_thick(booklet: Booklet) -> None:
    """100 leaves of a block at 0.1 mm are 10 mm (leaves, half the pages, times the thickness of a sheet: common practice, no source)."""
    assert [is_glued(pages) for pages in (64, 65, 68)] == [False, True, True]
    assert find_spine(204, 0.1) == pytest.approx(10.0)
    pages = PdfReader(io.BytesIO(booklet[1].pdf)).pages
    cover = make_cover(booklet[1].pdf, A6, 10.0, SheetsNamed("Invented Bugs"))
    with pdfplumber.open(io.BytesIO(cover)) as opened:
        outside, inside = opened.pages
        assert outside.width / POINTS_PER_MM == pytest.approx(2 * 105 + 10 + 2 * 3, abs=0.1)
        assert outside.height / POINTS_PER_MM == pytest.approx(148 + 2 * 3, abs=0.1)
        middle = outside.width / 2
        upright = [letter for letter in outside.chars if letter["upright"]]
        front, back = ({letter["text"] for letter in upright if (letter["x0"] > middle) is right} for right in (True, False))
        assert set("".join(pages[0].extract_text().split())) <= front | {" "}
        assert "8" in back  # the figures of the rule
        on_spine = "".join(letter["text"] for letter in outside.chars if not letter["upright"])
        assert "".join(on_spine.split()) in {"InventedBugs", "sguBdetnevnI"}
        assert all(abs((letter["x0"] + letter["x1"]) / 2 - middle) < 5 * POINTS_PER_MM for letter in outside.chars if not letter["upright"])
        left = [letter["text"] for letter in inside.chars if letter["x1"] < middle]
        assert sorted(left) == sorted(letter for letter in left if letter in pages[1].extract_text())
    inside = make_inside(booklet[1].pdf, SheetsNamed("Invented Bugs", "The leaves."))
    assert [page.extract_text() for page in PdfReader(io.BytesIO(inside)).pages] == [page.extract_text() for page in pages[2:-2]]
    for made in (cover, inside):
        with pikepdf.Pdf.open(io.BytesIO(made)) as opened, opened.open_metadata() as metadata:
            assert (str(opened.docinfo.Title), metadata["dc:title"]) == ("Invented Bugs", "Invented Bugs")


def test_crop_marks_stand_where_a_small_booklet_is_cut_and_folded() -> None:
    marks = booklet_crops(paper_named("a4").size.turned, A6.size)
    assert {round(mark.x1, 1) for mark in marks if mark.x1 == mark.x2} == {43.5, 148.5, 253.5}
    assert {round(mark.y1, 1) for mark in marks if mark.y1 == mark.y2} == {31.0, 179.0}
    assert booklet_crops(paper_named("a4").size.turned, format_named("booklet").size) == ()


def test_ten_millimetres_on_a_plate_are_ten_times_its_scale(pictures: Pictures) -> None:
    """The measured line of each picture is as long as its length times the scale of the bar: 10 mm of life to 0.2 mm times the scale."""
    for times in (1.0, 0.1):  # a bird is drawn smaller than it is
        drawn = pictures["plate"]
        length = 9.0 / times
        photos = [
            PhotoView(ident, ident, length=length * part, measured=(20, 50, 20 + 60 * part, 50))
            for ident, part in (("plate", 1.0), ("half", 0.5))
        ]
        shown = draw_pictures(photos, {"plate": drawn, "half": replace(drawn)}, Area(80, 110), PLAIN, words("en"), caption=4)
        bar = float(re.search(r'width="([\d.]+)mm"', shown.bar or "")[1])  # type: ignore[index]
        of_life = float(shown.bar_words.split()[0]) * (10 if shown.bar_words.endswith("cm") else 1)
        scale = bar / of_life
        for photo, face in zip(photos, shown.faces, strict=True):
            assert face is not None
            wide = float(re.findall(r'<image [^>]*width="([\d.]+)"', face.drawing)[-1])
            line = wide * (photo.measured[2] - photo.measured[0]) / 100  # type: ignore[index]
            assert line * 10 / photo.length == pytest.approx(10 * scale, abs=0.2 * scale)  # type: ignore[operator]
            assert face.box.x + face.box.width <= 80.01
            assert face.box.y + face.box.height + 4 <= 110.01


def test_each_photo_is_embedded_once(booklet: Booklet) -> None:
    """It stands on plates, among look-alikes, in the key and on the cover, each time as large as another."""
    with pikepdf.open(io.BytesIO(booklet[1].pdf)) as opened:
        images = [thing for thing in opened.objects if isinstance(thing, pikepdf.Stream) and thing.get("/Subtype") == "/Image"]
        assert len(images) == 1


@pytest.mark.parametrize("guess", [1, 3, 9, 40])
def test_numbers_are_true_whatever_was_guessed(booklet: Booklet, pictures: Pictures, monkeypatch: pytest.MonkeyPatch, guess: int) -> None:
    view, right, pages, front = booklet
    monkeypatch.setattr(bind, "_USUAL_FRONT", guess)
    ends = print_ends(view, pictures, A6, THEME)
    assert ends.front == front
    spreads = {spread.id: CardResult(spread.id, _cut_out(right.pdf, pages[spread.id] - 1), ()) for spread in view.spreads}
    bound = bind_booklet(view, spreads, pictures, A6, THEME, ends=ends)
    said = [[page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages[:front]] for pdf in (bound.pdf, right.pdf)]
    assert said[0] == said[1]


@pytest.mark.parametrize("bare", [{5: 6, 7: 5}, {5: 2, 3: 4}, {5: 3, 3: 5}, {5: 9, 9: 10, 11: 9}])
def test_figures_that_take_other_room_end_in_pages_for_notes(monkeypatch: pytest.MonkeyPatch, bare: dict[int, int]) -> None:
    """Where numbers of one length make one page too many and those of the other one too few, no number would be true without an end."""
    seen: list[int] = []

    def lay_out(front: int, notes: int = 0) -> SimpleNamespace:
        seen.append(front)
        return SimpleNamespace(document=SimpleNamespace(pages=[None] * (bare.get(front, 5) + notes)))

    monkeypatch.setattr(bind, "lay_out_front", lay_out)
    laid = bind._lay_out_before(lambda front: front)  # type: ignore[arg-type, return-value]
    assert len(laid.document.pages) == seen[-1]
    assert seen[-1] % 2 == 1
    assert len(seen) < 5


@pytest.mark.parametrize("pages", [2, 4, 5, 6])
def test_a_theme_without_pages_for_notes_comes_to_an_end_with_true_numbers(monkeypatch: pytest.MonkeyPatch, pages: int) -> None:
    seen: list[int] = []

    def lay_out(front: int, notes: int = 0) -> SimpleNamespace:
        seen.append(front)
        assert len(seen) < 9
        return SimpleNamespace(document=SimpleNamespace(pages=[None] * pages))

    monkeypatch.setattr(bind, "lay_out_front", lay_out)
    laid = bind._lay_out_before(lambda front: front)  # type: ignore[arg-type, return-value]
    assert len(laid.document.pages) == seen[-1] == pages


def _cut_out(pdf: bytes, first: int) -> bytes:
    """Two facing pages."""
    written, writer = io.BytesIO(), PdfWriter()
    for page in PdfReader(io.BytesIO(pdf)).pages[first : first + 2]:
        writer.add_page(page)
    writer.write(written)
    return written.getvalue()
