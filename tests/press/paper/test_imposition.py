"""Where pages go on sheets: checked by turning the sheet over, folding it, and reading it."""

from __future__ import annotations

from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.press.paper.formats import Area, format_named, paper_named, read_formats, read_papers
from guidebuild.press.paper.imposition import (
    EDGE,
    Flip,
    Grid,
    Placed,
    best_grid,
    booklet_sides,
    eight_panels,
    impose_booklet,
    n_up,
    one_sided,
    reckon_creep,
)

A4 = paper_named("a4").size
CARD = Area(86, 54)
SIZES = st.floats(30, 140, allow_nan=False).map(lambda x: round(x, 2))


def rows(side: tuple[Placed, ...]) -> list[list[int]]:
    """Card numbers from 1 as one sees them, row by row from the top."""
    levels = sorted({round(place.y, 6) for place in side}, reverse=True)
    return [[p.page // 2 + 1 for p in sorted(side, key=lambda p: p.x) if round(p.y, 6) == level] for level in levels]


def two_by_two() -> Grid:
    return Grid(A4, CARD, 2, 2, 6.0, turned=False)


def test_backs_of_a_long_edge_flip_are_mirrored_in_each_row() -> None:
    front, back = n_up(4, two_by_two(), Flip.LONG)
    assert rows(front) == [[1, 2], [3, 4]]
    assert rows(back) == [[2, 1], [4, 3]]
    assert {place.turn for place in back} == {0}


def test_backs_of_a_short_edge_flip_swap_rows_and_stand_on_their_head() -> None:
    front, back = n_up(4, two_by_two(), Flip.SHORT)
    assert rows(back) == [[3, 4], [1, 2]]
    assert {place.turn for place in back} == {180}
    assert rows(front) == [[1, 2], [3, 4]]


def test_a_landscape_sheet_flips_the_other_way() -> None:
    grid = Grid(A4.turned, CARD, 2, 2, 6.0, turned=False)
    assert rows(n_up(4, grid, Flip.LONG)[1]) == [[3, 4], [1, 2]]
    assert rows(n_up(4, grid, Flip.SHORT)[1]) == [[2, 1], [4, 3]]


def test_an_odd_count_leaves_blanks_that_keep_backs_behind_fronts() -> None:
    sides = n_up(3, two_by_two(), Flip.LONG)
    assert [len(side) for side in sides] == [3, 3]
    last_front, last_back = sides[0][2], sides[1][2]
    assert last_back.x == pytest.approx(A4.width - last_front.x - last_front.size.width)
    assert last_back.x > last_front.x


@given(
    width=SIZES,
    height=SIZES,
    count=st.integers(1, 40),
    flip=st.sampled_from(Flip),
    bleed=st.sampled_from([0.0, 3.0, 3.175]),
    wide=st.booleans(),
)
def test_turned_over_every_back_covers_its_front(*, width: float, height: float, count: int, flip: Flip, bleed: float, wide: bool) -> None:
    paper = A4.turned if wide else A4
    grid = best_grid(paper, Area(width, height), bleed=bleed)
    if grid is None:
        return
    sides = n_up(count, grid, flip)
    assert len(sides) == 2 * -(-count // grid.count)
    for front, back in zip(sides[::2], sides[1::2], strict=True):
        for there, here in zip(front, back, strict=True):
            assert here.page == there.page + 1
            again = here.behind(paper, flip, there.page)  # turning over twice changes nothing
            assert (again.x, again.y, again.turn) == (pytest.approx(there.x), pytest.approx(there.y), there.turn)


@given(width=SIZES, height=SIZES, bleed=st.sampled_from([0.0, 3.0, 5.0]))
def test_nothing_overlaps_and_nothing_leaves_the_printable_paper(*, width: float, height: float, bleed: float) -> None:
    grid = best_grid(A4, Area(width, height), bleed=bleed)
    if grid is None:
        return
    places = grid.places(range(grid.count))
    for n, one in enumerate(places):
        assert one.x - bleed >= EDGE - 1e-6
        assert one.y - bleed >= EDGE - 1e-6
        assert one.x + one.size.width + bleed <= A4.width - EDGE + 1e-6
        for other in places[n + 1 :]:
            apart_x = abs(one.x - other.x) >= one.size.width + 2 * bleed - 1e-6
            apart_y = abs(one.y - other.y) >= one.size.height + 2 * bleed - 1e-6
            assert apart_x or apart_y


def test_a_card_wider_than_the_paper_has_no_grid() -> None:
    assert best_grid(A4, Area(250, 400)) is None


@pytest.mark.parametrize("name", [name for name, one in read_formats().items() if one.sides == 2])
@pytest.mark.parametrize("bleed", [0.0, 3.0])
def test_every_card_fits_on_office_paper(name: str, bleed: float) -> None:
    card = format_named(name)
    assert best_grid(A4, card.size, bleed=bleed, edge=max(0.0, EDGE - card.margin)) is not None


def test_crop_marks_keep_clear_of_the_bleed() -> None:
    grid = best_grid(A4, CARD, bleed=3.0)
    assert grid is not None
    low, high = grid.bottom - 3.0, A4.height - grid.bottom + 3.0
    for mark in grid.crop_marks(3.0):
        if mark.x1 == mark.x2:
            assert mark.y2 <= low + 1e-6 or mark.y1 >= high - 1e-6


def test_cards_that_touch_share_one_cut() -> None:
    grid = best_grid(A4, format_named("a6").size, edge=0.0)
    assert grid is not None
    assert (grid.columns, grid.rows) == (2, 2)
    assert grid.upright_cuts() == pytest.approx((0.0, 105.0, 210.0))


def test_the_eight_panels_are_read_in_a_ring() -> None:
    panels = eight_panels(A4.turned)
    assert [place.turn for place in panels] == [0, 180, 180, 180, 180, 0, 0, 0]
    # Walking from panel to panel one always steps to a neighbour that shares an edge: the ring of a folded strip.
    for one, other in pairwise(panels):
        step = abs(one.x - other.x) / one.size.width + abs(one.y - other.y) / one.size.height
        assert step == pytest.approx(1)


@given(pages=st.integers(1, 64))
def test_a_stitched_booklet_reads_in_order(pages: int) -> None:
    total = -(-pages // 4) * 4
    sides = impose_booklet(pages)
    read: dict[int, int | None] = {}
    for sheet in range(total // 4):
        (front_left, front_right), (back_left, back_right) = sides[2 * sheet], sides[2 * sheet + 1]
        # Folded: the right half of the front and, behind it, the left half of the back are one leaf; the other two the other.
        read |= {2 * sheet: front_right, 2 * sheet + 1: back_left, total - 2 * sheet - 2: back_right, total - 2 * sheet - 1: front_left}
    assert [read[n] for n in range(total)] == [n if n < pages else None for n in range(total)]


def test_booklet_pages_meet_at_the_fold() -> None:
    sides = booklet_sides(8, A4.turned, paper_named("a5").size)
    for left, right in sides:
        assert left.x + left.size.width == pytest.approx(A4.height / 2)
        assert right.x == pytest.approx(A4.height / 2)


def test_inner_pages_creep_towards_the_fold_by_the_sheets_outside_them() -> None:
    """By hand, twelve A5 pages on three A4 sheets of paper 0.1 mm thick: 12|1 2|11 stay, 10|3 4|9 move 0.1 mm, 8|5 6|7 0.2 mm."""
    sides = booklet_sides(12, A4.turned, paper_named("a5").size, 0.1)
    pages = [(left.page + 1, right.page + 1) for left, right in sides]
    assert pages == [(12, 1), (2, 11), (10, 3), (4, 9), (8, 5), (6, 7)]
    moved = [(round(left.x - 0.5, 6), round(right.x - 148.5, 6)) for left, right in sides]
    assert moved == [(0, 0), (0, 0), (0.1, -0.1), (0.1, -0.1), (0.2, -0.2), (0.2, -0.2)]


def test_every_paper_says_how_thick_it_is() -> None:
    assert {paper.thickness for paper in read_papers().values()} == {0.1}
    assert reckon_creep(0, 0.1) == 0
    assert reckon_creep(15, 0.1) == pytest.approx(1.5)


def test_one_sided_pages_fill_sheets_in_order() -> None:
    assert [[place.page for place in side] for side in one_sided(5, two_by_two())] == [[0, 1, 2, 3], [4]]
