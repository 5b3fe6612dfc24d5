"""No printed word is too small to be read: measured on the finished files, month letters, credits, folios and rules included.

6.5 pt, and 8 pt for the texts of leaflets, are clear-print practice for notes and for running text (common practice, no source).
"""

from __future__ import annotations

import io
from dataclasses import replace
from pathlib import Path

import pdfplumber
import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.leaflet import render_leaflet
from guidebuild.press.outputs.cards.plate import render_plate
from guidebuild.press.paper.drawing import LEAST_TYPE, PLAIN, month_row
from guidebuild.press.paper.formats import POINTS_PER_MM, Format, PrintKind, format_named, read_formats
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import leaflet_views
from tests.press.small_guide import THEME, guide

LEAST, LEAST_OF_LEAFLETS = 6.495, 7.99
SAME_PAGES = {"deck.pdf", "sheets-a4.pdf", "booklet-a4.pdf", "walk-september-hedge-a4.pdf"}
"""The pages of other documents once more; the sheets of the other walk stand for all that are laid out for a printer."""


def _only_least(name: str) -> Format:
    printed = format_named(name)
    return replace(printed, largest_type=printed.least_type)


def find_sizes(pdf: Path | io.BytesIO) -> set[float]:
    """The sizes of all letters on a document, points."""
    with pdfplumber.open(pdf) as opened:
        letters = [letter for page in opened.pages for letter in page.chars if letter["text"].strip()]
    # Of what is turned, such as the tabs of a booklet, pdfplumber tells how wide a letter is in place of its size.
    return {round(letter["size"] if letter["upright"] else letter["width"], 3) for letter in letters}


@pytest.mark.slow
def test_nothing_that_the_sample_publishes_is_under_six_and_a_half_points(sample_published: Path) -> None:
    documents = sorted(path for path in (sample_published / "published").rglob("*.pdf") if path.name not in SAME_PAGES)
    assert len(documents) > 60
    least = {path.name: min(find_sizes(path)) for path in documents}
    assert {name: size for name, size in least.items() if size < LEAST} == {}


@pytest.mark.parametrize("name", [name for name, one in read_formats().items() if one.kind in {PrintKind.CARD, PrintKind.PLATE}])
def test_no_card_or_plate_at_its_least_type_is(name: str, views: tuple[CardView, ...], pictures: Pictures) -> None:
    """A theme whose only size is the least that the format allows."""
    printed = format_named(name)
    result = (render_card if printed.kind is PrintKind.CARD else render_plate)(views[0], pictures, _only_least(name), THEME)
    sizes = find_sizes(io.BytesIO(result.pdf))
    assert printed.least_type in {round(size, 1) for size in sizes}
    assert min(sizes) >= LEAST


@pytest.mark.parametrize("name", ["leaflet-a4", "leaflet-letter"])
def test_the_texts_of_a_leaflet_have_eight_points(name: str, pictures: Pictures) -> None:
    """Its credits, the letters of months and the figures of its rule are 6.5 pt, and nothing else is under 8."""
    (view,) = leaflet_views(make_published(guide()))
    sizes = find_sizes(io.BytesIO(render_leaflet(view, pictures, _only_least(name), THEME).pdf))
    small = {size for size in sizes if size < LEAST_OF_LEAFLETS}
    assert small
    assert all(LEAST <= size <= LEAST_TYPE * POINTS_PER_MM + 0.01 for size in small), small


def test_letters_of_months_stay_readable_however_low_their_row_is() -> None:
    drawn = month_row(list("JFMAMJJASOND"), 36, 1.0, "months", PLAIN)
    assert f'font-size="{LEAST_TYPE:.3g}"' in drawn
