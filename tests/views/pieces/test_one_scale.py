"""Pictures side by side: one scale in all frames, subjects whole, what is too small enlarged and said so."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.views.pieces.common import MarkView, PhotoView
from guidebuild.views.pieces.one_scale import (
    ENLARGED,
    LEAST,
    ROUND_LENGTHS,
    Box,
    Framed,
    FrameSet,
    Print,
    find_width,
    frame_at_one_scale,
    measure_subject,
)

Line = tuple[float, float, float, float]
UPRIGHT: Line = (50, 20, 50, 80)
LYING: Line = (20, 60, 80, 55)


def photo(length: float | None, line: Line | None = UPRIGHT, points: tuple[tuple[float, float], ...] = ()) -> PhotoView:
    marks = tuple(MarkView(number, f"mark {number}", point) for number, point in enumerate(points, 1))
    return PhotoView("one", "alt", length=length, measured=line, marks=marks)


def framed(*pictures: tuple[PhotoView, float]) -> tuple[FrameSet, list[Framed]]:
    frames = frame_at_one_scale(pictures)
    assert frames
    return frames, [frame for frame in frames.frames if frame]


def drawn_length(shown: Print, line: Line) -> float:
    """How long the measured line is in the frame, in units of a hundredth of its width."""
    x1, y1, x2, y2 = line
    return hypot((x2 - x1) / 100 * shown.whole.width, (y2 - y1) / 100 * shown.whole.height)


def holds(outer: Box, inner: Box) -> bool:
    near = 1e-6
    across = outer.x - near <= inner.x and inner.x + inner.width <= outer.x + outer.width + near
    return across and outer.y - near <= inner.y and inner.y + inner.height <= outer.y + outer.height + near


# Length in millimetres, and the height of the picture over its width.
SETS = {
    "birds": ((photo(400, LYING), 0.75), (photo(150, LYING), 0.67)),
    "bugs": ((photo(15), 0.75), (photo(7.5), 0.75), (photo(11), 1.33)),
    "wasp and fungus": ((photo(14), 0.75), (photo(160), 1.5)),
    "tree and moss": ((photo(18_000), 1.5), (photo(30), 0.75)),
    "alone": ((photo(12), 1.0),),
    "two alike": ((photo(12), 1.0), (photo(12), 1.0)),
    "eggs": ((photo(0.6), 1.0), (photo(0.9), 0.5)),
}


@pytest.mark.parametrize("name", SETS)
def test_length_in_every_frame_is_that_of_the_bar(name: str) -> None:
    frames, each = framed(*SETS[name])
    for frame in each:
        assert frame.photo.length and frame.photo.measured
        shown = drawn_length(frame.at_scale, frame.photo.measured)
        assert shown / frames.bar_width == pytest.approx(frame.photo.length / frames.bar)
        if frame.enlarged:
            assert drawn_length(frame.enlarged, frame.photo.measured) == pytest.approx(shown * frame.times)


@pytest.mark.parametrize("name", SETS)
def test_bar_is_round_and_fits_a_frame(name: str) -> None:
    frames, _ = framed(*SETS[name])
    assert frames.bar in ROUND_LENGTHS
    assert 10 <= frames.bar_width <= 34


@pytest.mark.parametrize("name", SETS)
def test_subject_is_whole_in_its_frame(name: str) -> None:
    frames, each = framed(*SETS[name])
    for frame, (_, shape) in zip(each, SETS[name], strict=True):
        measured = measure_subject(frame.photo, shape)
        assert measured
        for shown in filter(None, (frame.at_scale, frame.enlarged)):
            times = shown.whole.width / measured.whole.width
            subject = measured.subject.scaled(times).moved(shown.whole.x, shown.whole.y)
            assert holds(shown.shown, subject)
            assert holds(Box(0, 0, 100, frames.height), shown.shown)
            assert holds(shown.whole, shown.shown)


@pytest.mark.parametrize("name", SETS)
def test_small_one_is_enlarged_and_no_other(name: str) -> None:
    frames, each = framed(*SETS[name])
    for frame in each:
        assert frame.photo.length and frame.photo.measured
        small = drawn_length(frame.at_scale, frame.photo.measured) < LEAST / 100 * max(100, frames.height)
        assert bool(frame.enlarged) is small
        assert (frame.times in ENLARGED) is small


def test_bird_of_40_and_one_of_15_cm_need_no_enlargement() -> None:
    assert [frame.times for frame in framed(*SETS["birds"])[1]] == [1, 1]


def test_wasp_beside_a_fungus_is_enlarged() -> None:
    wasp, fungus = framed(*SETS["wasp and fungus"])[1]
    assert wasp.times == 10
    assert fungus.times == 1


def test_picture_without_a_line_has_no_frame() -> None:
    frames = frame_at_one_scale([(photo(12), 1.0), (photo(None, None), 1.0), (photo(12, None), 1.0)])
    assert frames
    assert [frame is None for frame in frames.frames] == [False, True, True]
    assert frame_at_one_scale([(photo(None, None), 1.0)]) is None
    assert measure_subject(photo(None), 1.0) is None


def test_line_without_length_gives_no_scale() -> None:
    assert find_width(photo(12, (50, 50, 50, 50)), 1.0) is None


def test_width_counts_the_shape_of_the_picture() -> None:
    # A picture twice as high as wide, with 10 mm standing over half its height: 20 mm high, 10 mm wide.
    assert find_width(photo(10, (50, 25, 50, 75)), 2.0) == pytest.approx(10)


def test_cut_reaches_out_to_a_mark() -> None:
    plain, marked = measure_subject(photo(10), 1.0), measure_subject(photo(10, points=((95, 50),)), 1.0)
    assert plain
    assert marked
    right, reached = (one.subject.x + one.subject.width for one in (plain, marked))
    assert right < 0.95 * plain.whole.width < reached


def test_mark_is_pointed_at_where_the_picture_shows_it() -> None:
    frames, (frame, _) = framed((photo(10, points=((40, 30), (60, 70))), 1.0), (photo(12), 1.0))
    for pointer, (across, down) in zip(frame.pointers, ((40, 30), (60, 70)), strict=True):
        whole = frame.at_scale.whole
        assert (pointer.x, pointer.y) == pytest.approx((whole.x + across / 100 * whole.width, whole.y + down / 100 * whole.height))
        assert 0 < pointer.label_y < frames.height


def test_marks_of_a_small_one_are_pointed_at_where_it_is_large() -> None:
    wasp = framed((photo(14, points=((50, 50),)), 0.75), (photo(160), 1.5))[1][0]
    assert wasp.enlarged
    (pointer,) = wasp.pointers
    assert holds(wasp.enlarged.shown, Box(pointer.x, pointer.y, 0, 0))


LINES = st.tuples(*[st.floats(5, 95)] * 4).filter(lambda line: hypot(line[2] - line[0], line[3] - line[1]) > 10)
PICTURES = st.tuples(
    st.builds(photo, st.floats(0.5, 3000), LINES, st.lists(st.tuples(*[st.floats(0, 100)] * 2), max_size=3).map(tuple)), st.floats(0.5, 2)
)


@settings(deadline=None)  # how long one takes says nothing on a busy machine
@given(st.lists(PICTURES, min_size=1, max_size=6))
def test_one_scale_whatever_is_shown(pictures: list[tuple[PhotoView, float]]) -> None:
    frames, each = framed(*pictures)
    for frame in each:
        assert frame.photo.length and frame.photo.measured
        assert drawn_length(frame.at_scale, frame.photo.measured) * frames.across / 100 == pytest.approx(frame.photo.length)
        assert holds(Box(0, 0, 100, frames.height), frame.at_scale.shown)
        for pointer in frame.pointers:
            assert 5 < pointer.label_x < 95
