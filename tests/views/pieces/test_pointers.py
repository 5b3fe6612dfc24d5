"""Numbers beside a plate: near their marks, apart from each other, and no two lines cross."""

from __future__ import annotations

from itertools import combinations

from hypothesis import given
from hypothesis import strategies as st

from guidebuild.views.pieces.common import MarkView
from guidebuild.views.pieces.pointers import lay_out

POINT = st.tuples(st.floats(0, 100), st.floats(0, 100))


def _marks(points: list[tuple[float, float]]) -> list[MarkView]:
    return [MarkView(number, f"mark {number}", point) for number, point in enumerate(points, 1)]


def test_numbers_stand_on_the_nearer_side() -> None:
    plate = lay_out(_marks([(20, 50), (80, 50)]), shape=0.75)
    assert [pointer.label_x < 50 for pointer in plate.pointers] == [True, False]


def test_point_is_counted_from_the_pictures_corner() -> None:
    plate = lay_out(_marks([(0, 0), (100, 100)]), shape=0.75, margin=10, top=2)
    first, last = plate.pointers
    assert (first.x, first.y) == (10, 2)
    assert (last.x, last.y) == (90, 2 + 80 * 0.75)


def test_marks_without_a_point_are_not_drawn() -> None:
    assert lay_out([MarkView(1, "guards its young")], shape=1).pointers == ()


@given(st.lists(POINT, max_size=8))
def test_numbers_keep_apart_and_in_order(points: list[tuple[float, float]]) -> None:
    plate = lay_out(_marks(points), shape=0.75)
    assert [p.number for p in plate.pointers] == list(range(1, len(points) + 1))
    for one, other in combinations(plate.pointers, 2):
        if one.label_x == other.label_x:
            assert abs(one.label_y - other.label_y) >= 9 - 1e-6
            if one.y < other.y:
                assert one.label_y < other.label_y
