"""Rings round marks, numbers beside the picture and lines between them: nothing covers a mark, wherever marks lie."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations
from math import hypot
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.site.plate import lay_ground
from guidebuild.press.paper.drawing import fit_picture
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.plates import ground_on_paper
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.common import MarkView, PhotoView
from guidebuild.views.pieces.leaders import distance_to_line, lines_cross
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.pieces.pointers import Ground, Placed, place_marks
from tests.guides.whole_guides import HERE, NAMES
from tests.sample.drawings import SAMPLE

POINT = st.tuples(st.floats(0, 100), st.floats(0, 100))
WEB = lay_ground(0.75, pointed=True)
SHAPES = (0.75, 1.0, 4 / 3)
BOXES = (Area(95, 60), Area(120, 105), Area(74, 48), Area(58, 58))
"""Millimetres that plates of the formats of cards have, about."""


def _marks(points: list[tuple[float, float]], wide: float = 0) -> list[MarkView]:
    return [MarkView(number, f"mark {number}", point, wide=wide) for number, point in enumerate(points, 1)]


def _faults(placed: Placed, ground: Ground) -> Iterator[str]:
    """All that would hide a mark, or a number."""
    for pointer in placed.pointers:
        for other in placed.pointers:
            apart = hypot(pointer.label_x - other.x, pointer.label_y - other.y)
            if apart < ground.disc + other.ring - 1e-6:
                yield f"number {pointer.number} covers mark {other.number}"
            if other is not pointer and hypot(pointer.x - other.x, pointer.y - other.y) < other.ring - 1e-6 and pointer.ring < other.ring:
                yield f"mark {pointer.number} stands on the ring of {other.number}"
        if not ground.disc <= pointer.label_y <= ground.height - ground.disc:
            yield f"number {pointer.number} leaves the plate"
    for one, other in combinations(placed.pointers, 2):
        if hypot(one.label_x - other.label_x, one.label_y - other.label_y) < 2 * ground.disc:
            yield f"numbers {one.number} and {other.number} overlap"
        if lines_cross(one.line[:2], one.line[2:], other.line[:2], other.line[2:]):
            yield f"lines {one.number} and {other.number} cross"
    for near in placed.close_ups:
        for pointer in placed.pointers:
            if hypot(near.at_x - pointer.x, near.at_y - pointer.y) < near.radius + pointer.ring:
                yield f"the close-up of {near.number} covers mark {pointer.number}"
            if hypot(near.at_x - pointer.label_x, near.at_y - pointer.label_y) < near.radius + ground.disc:
                yield f"the close-up of {near.number} covers number {pointer.number}"
            if distance_to_line((near.at_x, near.at_y), pointer.line[:2], pointer.line[2:]) < near.radius:
                yield f"the close-up of {near.number} covers line {pointer.number}"


def _plates(folder: Path) -> Iterator[PhotoView]:
    guide = read_guide(folder).guide
    assert guide is not None
    make = make_pieces(make_published(guide))
    for account in make.guide.accounts.values():
        for photo in dict.fromkeys(mark.photo for mark in account.diagnostics if mark.point and mark.photo in make.guide.photos):
            shown = make.photo_of(photo, account)
            if shown:
                yield shown


@pytest.mark.parametrize("folder", [SAMPLE, *(HERE / name for name in NAMES)], ids=lambda folder: folder.name)
def test_no_plate_of_any_guide_hides_a_mark(folder: Path) -> None:
    plates = list(_plates(folder))
    assert len(plates) > 2
    for shape in SHAPES:
        grounds = [lay_ground(shape, pointed=True)]
        grounds += [ground_on_paper(box, fit_picture(box, (1000, round(1000 * shape)))) for box in BOXES]
        for ground in grounds:
            found = {plate.id: list(_faults(place_marks(ground, plate.marks, plate.measured), ground)) for plate in plates}
            assert {name: faults for name, faults in found.items() if faults} == {}, (shape, ground)


def test_numbers_stand_on_the_nearer_side() -> None:
    placed = place_marks(WEB, _marks([(20, 50), (80, 50)]))
    assert [pointer.label_x < 50 for pointer in placed.pointers] == [True, False]


def test_point_is_counted_from_the_pictures_corner() -> None:
    first, last = place_marks(WEB, _marks([(0, 0), (100, 100)])).pointers
    assert (first.x, first.y) == (8, 2)
    assert (last.x, last.y) == (92, 2 + 84 * 0.75)


def test_marks_without_a_point_are_not_drawn() -> None:
    assert place_marks(WEB, [MarkView(1, "guards its young")]).pointers == ()


def test_ring_goes_round_the_whole_mark_and_its_line_stays_outside() -> None:
    (pointer,) = place_marks(WEB, _marks([(50, 50)], wide=15)).pointers
    assert pointer.ring >= 15 / 200 * 84
    assert hypot(pointer.line[2] - pointer.x, pointer.line[3] - pointer.y) == pytest.approx(pointer.ring)


def test_small_mark_is_enlarged_off_the_body_and_a_large_one_is_not() -> None:
    measured = (50.0, 20.0, 50.0, 85.0)
    (near,) = place_marks(WEB, _marks([(50, 50)], wide=5), measured).close_ups
    assert near.times > 1.5
    assert distance_to_line((near.at_x, near.at_y), WEB.find(*measured[:2]), WEB.find(*measured[2:])) > near.radius
    assert place_marks(WEB, _marks([(50, 50)], wide=9), measured).close_ups == ()
    assert place_marks(WEB, _marks([(50, 50)]), measured).close_ups == ()


def test_discs_change_sides_where_a_line_would_run_through_another_mark() -> None:
    """Two marks in one row, the outer one in the way of the inner one's line."""
    placed = place_marks(WEB, _marks([(60, 50), (85, 50)]))
    first, second = placed.pointers
    assert distance_to_line((second.x, second.y), first.line[:2], first.line[2:]) >= second.ring


@settings(deadline=None)
@given(st.lists(POINT, max_size=8))
def test_numbers_keep_apart_and_cover_no_mark_wherever_marks_lie(points: list[tuple[float, float]]) -> None:
    placed = place_marks(WEB, _marks(points))
    assert [p.number for p in placed.pointers] == list(range(1, len(points) + 1))
    faults = [fault for fault in _faults(placed, WEB) if "cross" not in fault and "stands on" not in fault and "covers mark" not in fault]
    assert faults == []
    assert not any(hypot(one.label_x - other.x, one.label_y - other.y) < WEB.disc for one in placed.pointers for other in placed.pointers)


@settings(deadline=None)
@given(st.lists(POINT, max_size=5, unique_by=(lambda p: round(p[0]), lambda p: round(p[1] / 6))))
def test_lines_of_a_usual_number_of_marks_do_not_cross(points: list[tuple[float, float]]) -> None:
    placed = place_marks(WEB, _marks(points))
    for one, other in combinations(placed.pointers, 2):
        assert not lines_cross(one.line[:2], one.line[2:], other.line[:2], other.line[2:])
