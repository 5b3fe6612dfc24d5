"""Walks in a small booklet: no page for the sake of a few lines, and what gives way for that can still be read."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.booklet.ends import Ends, lay_out_back
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.paper.flow import used_of, walk
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.layout import Laid, write_pdf
from guidebuild.press.paper.setup import make_setup
from guidebuild.press.paper.spill import LEAST_FILL
from guidebuild.session import open_session
from guidebuild.views.booklet.book import BookletView, WalkPage, booklet_view
from tests.press.outputs.test_type_sizes import LEAST, find_sizes
from tests.press.small_guide import THEME

SAMPLE = Path(__file__).parents[4] / "sample_guide"


@pytest.fixture(scope="module")
def sample() -> BookletView:
    return booklet_view(make_published(open_session(SAMPLE).guide))


def lay(view: BookletView, size: str, theme: tuple[Path, ...] = tuple(THEME)) -> Laid:
    leaf = Leaf(format_named(size))
    numbers = {spread.id: 44 for spread in view.spreads}
    return lay_out_back(Ends(view, make_setup({}, leaf.format, theme), leaf, numbers, theme), 55)


def fills(laid: Laid) -> Iterator[tuple[str, float]]:
    """For each page of a walk the number of the walk, and how much of the page it takes."""
    for page in laid.document.pages:
        box = page._page_box
        found = [inner.element for inner in walk(box, flow=True) if inner.element is not None and inner.element.get("data-walk")]
        if found:
            yield found[0].get("data-walk"), used_of(box, lines=True) / box.height


def with_stops(view: BookletView, count: int, *, mapped: bool) -> BookletView:
    """Its first walk alone, with so many of its stops' notes said again below them."""
    page: WalkPage = view.walks[0]
    stops = page.checklist.stops
    more = replace(page.checklist, stops=(*stops, *(stops[number % len(stops)] for number in range(count))))
    return replace(view, walks=(replace(page, checklist=more, map=page.map if mapped else None),))


@pytest.mark.parametrize("size", ["booklet-a6", "booklet-4x6"])
def test_each_walk_of_the_sample_has_one_page(sample: BookletView, size: str, tmp_path: Path) -> None:
    """Two pages had two and four lines each; the numbers of a map without names are in the list below it, and large enough."""
    laid = lay(sample, size)
    assert [number for number, _ in fills(laid)] == ["1", "2"]
    file = tmp_path / "back.pdf"
    file.write_bytes(write_pdf(laid, "booklet")[0])
    assert min(find_sizes(file)) >= LEAST


@pytest.mark.parametrize(("size", "times"), [("booklet", 2), ("booklet-a6", 1)])
def test_names_stay_on_a_map_that_has_room(sample: BookletView, size: str, times: int) -> None:
    """On the map and in the list of stops; where a narrower map has numbers alone, in the list."""
    with pdfplumber.open(io.BytesIO(write_pdf(lay(sample, size), "booklet")[0])) as opened:
        assert len(opened.pages[1].search(r"Chapel\s*Garden")) == times


def test_a_theme_that_names_no_walk_keeps_its_pages(sample: BookletView, tmp_path: Path) -> None:
    """Its own template need not say which walk a page is of: then none is pulled back."""
    own = tmp_path / "cards" / "booklet_back.html"
    own.parent.mkdir()
    shipped = (THEME[-1] / "cards" / "booklet_back.html").read_text(encoding="utf-8")
    own.write_text(shipped.replace(' data-walk="{{ loop.index }}"', ""), encoding="utf-8")
    assert len(lay(sample, "booklet-a6", (tmp_path, *THEME)).document.pages) == len(lay(sample, "booklet-a6").document.pages) + 2


@pytest.mark.parametrize(("mapped", "most"), [(True, 0), (False, 3)])
def test_a_page_of_a_few_lines_is_pulled_back(sample: BookletView, mapped: bool, most: int) -> None:
    """Of walks with ever more words: what cannot be pulled back stays as it was. Without this it was six, and four without a map."""
    short = []
    for count in range(16):
        pages = [fill for _, fill in fills(lay(with_stops(sample, count, mapped=mapped), "booklet-a6"))]
        short += [count] if len(pages) > 1 and pages[-1] < LEAST_FILL else []
    assert len(short) <= most
