"""Sizes and page orders against published figures; each check names its source."""

from __future__ import annotations

from itertools import pairwise

import pytest

from guidebuild.press.paper.formats import MM_PER_INCH, Area, format_named, paper_named
from guidebuild.press.paper.imposition import best_grid, eight_panels, impose_booklet
from guidebuild.reading.parse_values import parse_bleed

# ISO 216, as listed at papersizes.guide/a-inches.
A_SERIES = {"a3": (297, 420), "a4": (210, 297), "a5": (148, 210)}
A_FORMATS = {
    "a6": (105, 148),
    "a7": (74, 105),
    "plate-a5": (148, 210),
    "booklet": (148, 210),
    "booklet-a6": (105, 148),
    "checklist": (148, 210),
}


@pytest.mark.parametrize(("name", "size"), A_SERIES.items())
def test_papers_are_those_of_iso_216(name: str, size: tuple[int, int]) -> None:
    assert (paper_named(name).size.width, paper_named(name).size.height) == size


@pytest.mark.parametrize(("name", "size"), A_FORMATS.items())
def test_formats_are_those_of_iso_216(name: str, size: tuple[int, int]) -> None:
    assert (format_named(name).size.width, format_named(name).size.height) == size


def test_each_a_size_is_half_the_one_before() -> None:
    """ISO 216: the long side halved, rounded down, becomes the short one."""
    sizes = [(297, 420), (210, 297), (148, 210), (105, 148), (74, 105)]
    assert all((bigger[1] // 2, bigger[0]) == smaller for bigger, smaller in pairwise(sizes))


def test_the_wallet_card_is_id_1() -> None:
    """ISO/IEC 7810, ID-1: 85.60 × 53.98 mm; 1011.02 × 637.56 pixels at 300 dpi (computed)."""
    size = format_named("id-1").size
    assert (size.width, size.height) == (85.60, 53.98)
    assert (size.width / MM_PER_INCH * 300, size.height / MM_PER_INCH * 300) == pytest.approx((1011.02, 637.56), abs=0.005)


def test_letter_and_a4_in_points() -> None:
    """Letter 8.5 × 11 in is 612 × 792 pt, A4 595.276 × 841.890 pt (arithmetic on the published sizes)."""
    assert paper_named("letter").size.points == pytest.approx((612, 792))
    assert paper_named("a4").size.points == pytest.approx((595.276, 841.890), abs=0.001)
    assert format_named("leaflet-letter").size.points == pytest.approx((792, 612))


@pytest.mark.parametrize(("name", "inches"), [("index-3x5", (3, 5)), ("index-4x6", (4, 6))])
def test_index_cards_are_whole_inches(name: str, inches: tuple[int, int]) -> None:
    """Common practice, no source; 1 in is 25.4 mm exactly (International Yard and Pound Agreement, 1959, from memory)."""
    size = format_named(name).size
    assert (size.width, size.height) == pytest.approx((inches[0] * 25.4, inches[1] * 25.4))


def test_bleed_adds_three_millimetres_all_round() -> None:
    """shropshireprinting.co.uk/Paper-Sizes: A4 with bleed 216 × 303; documentdepot.net: 3.5 × 2 in becomes 3.75 × 2.25."""
    bleeds = [parse_bleed("3 mm"), parse_bleed("1/8 in")]
    a4, card = (size.grown(by) for size, by in zip((paper_named("a4").size, Area(3.5 * 25.4, 2 * 25.4)), bleeds, strict=True))
    assert (a4.width, a4.height) == (216, 303)
    assert (card.width, card.height) == pytest.approx((3.75 * 25.4, 2.25 * 25.4))


def test_cards_on_a_sheet_with_ten_millimetre_margins() -> None:
    """Arithmetic: A4 takes ten ID-1 and four A7, Letter nine ID-1 lying turned."""
    a4, letter = paper_named("a4").size, paper_named("letter").size
    id1, a7 = format_named("id-1").size, format_named("a7").size
    counts = [best_grid(paper, card, edge=10.0) for paper, card in ((a4, id1), (a4, a7), (letter, id1))]
    assert [grid.count for grid in counts if grid] == [10, 4, 9]
    assert counts[2] is not None
    assert counts[2].turned


def test_cards_on_a_sheet_without_margins() -> None:
    """Arithmetic: A4 takes eight A7 or four A6."""
    a4 = paper_named("a4").size
    grids = [best_grid(a4, format_named(name).size, edge=0.0) for name in ("a7", "a6")]
    assert [grid.count for grid in grids if grid] == [8, 4]


@pytest.mark.parametrize("pages", range(4, 41, 4))
def test_facing_pages_sum_to_one_more_than_all(pages: int) -> None:
    """magazine-printer.com, imposition for saddle stitching: facing pages on a side sum to N + 1."""
    assert all((left or 0) + (right or 0) + 2 == pages + 1 for left, right in impose_booklet(pages))


def test_an_eight_page_booklet_is_imposed_as_published() -> None:
    """pnwboces.org and magazine-printer.com: 8|1, 2|7, 6|3, 4|5."""
    assert [(left, right) for left, right in impose_booklet(8)] == [(7, 0), (1, 6), (5, 2), (3, 4)]


def test_the_eight_panel_sheet_has_5_4_3_2_over_6_7_8_1() -> None:
    """Common practice for a sheet folded in eight and slit once, no source; the ring 1…8 is checked in press_print."""
    panels = eight_panels(paper_named("a4").size.turned)
    upper = [p.page + 1 for p in sorted(panels, key=lambda p: p.x) if p.turn == 180]
    lower = [p.page + 1 for p in sorted(panels, key=lambda p: p.x) if p.turn == 0]
    assert (upper, lower) == ([5, 4, 3, 2], [6, 7, 8, 1])
