"""What is cut out of a picture: close to its subject for thumbs, round all of the animal where it is shared or posted."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.one_scale import Box, Measured, measure_subject

_LEAST = 30.0
"""The narrowest part that is shown, per cent of the picture's width: less would be coarse."""
_ROUND_POINT = 70.0
"""Per cent of the picture's width and height that are shown round a point of interest, where nothing says how large the subject is."""
REACH = (45.0, 70.0)
"""How far an animal goes beyond the line along its body, in per cent of it, where the photo's entry does not say: past the ends, and to
the sides. Drawn shieldbugs with antennae and legs reach 42 and 69 (measured in the sample); for others common practice, no source."""
_ROUND_MARK = 4.0
"""Per cent of the picture's width that stay round a mark, where the picture has them."""

_ROUNDING = 1e-9
"""A frame as high as its subject may come out a little less, from dividing and multiplying by its ratio."""


def may_be_cut(photo: PhotoView) -> bool:
    """Whether the picture's licence allows changed copies."""
    return photo.licence is None or photo.licence.derivatives


def show_whole(shape: float, ratio: float) -> Box:
    """A frame round all of a picture, with tone beside it."""
    width = max(100.0, 100 * shape * ratio)
    return Box((100 - width) / 2, (100 * shape - width / ratio) / 2, width, width / ratio)


def cut_to_subject(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """The part to show in a frame `ratio` times as wide as high, in hundredths of the picture's width; None for all of it.

    `shape` is the picture's height over its width. The part has the frame's shape and may be larger than the picture where the
    subject is: then tone stands beside.
    """
    if not may_be_cut(photo):
        return show_whole(shape, ratio)
    measured, animal = measure_subject(photo, shape), find_animal(photo, shape)
    if photo.measured and photo.reach and animal:  # where its author says how far it goes, as with spread wings, nothing of it is cut off
        subject = animal
    elif measured:
        subject = measured.subject.scaled(100 / measured.whole.width)
    elif photo.focus:
        wide = min(max(_ROUND_POINT, _ROUND_POINT * shape * ratio), 100.0, 100.0 * shape * ratio)
        subject = Box(photo.focus[0] - wide / 2, photo.focus[1] * shape - wide / ratio / 2, wide, wide / ratio)
    else:
        return None
    return _frame(subject, shape, ratio, max(subject.width, subject.height * ratio, _LEAST))


def cut_to_animal(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """The same with all of the animal in it, antennae, legs and tail, as large as the frame can hold it."""
    animal = find_animal(photo, shape) if photo.measured and may_be_cut(photo) else None
    if animal is None:
        return cut_to_subject(photo, shape, ratio)
    return _frame(animal, shape, ratio, max(animal.width, animal.height * ratio, _LEAST))


def cut_widest(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """As much of the picture as has the frame's shape and holds all of the animal; None where nothing says where that is.

    Where no such part of the picture can hold it, the part is larger than the picture, and tone stands beside.
    """
    if not may_be_cut(photo):
        return show_whole(shape, ratio)
    animal = find_animal(photo, shape)
    if animal is None:
        return None
    widest = min(100.0, 100.0 * shape * ratio)
    return _frame(animal, shape, ratio, max(widest, animal.width, animal.height * ratio), photo.focus)


def find_animal(photo: PhotoView, shape: float) -> Box | None:
    """Where in a picture all of its subject is, in hundredths of its width: told from the measured line, the marks and the focus."""
    points = [mark.point for mark in photo.marks if mark.point] + ([photo.focus] if photo.focus else [])
    boxes = [Box(x - _ROUND_MARK, y * shape - _ROUND_MARK, 2 * _ROUND_MARK, 2 * _ROUND_MARK) for x, y in points]
    if photo.measured:
        boxes.append(_box_round_line(photo.measured, photo.reach or REACH, shape))
    if not boxes:
        return None
    left, top = min(box.x for box in boxes), min(box.y for box in boxes)
    right, foot = max(box.x + box.width for box in boxes), max(box.y + box.height for box in boxes)
    return Box(left, top, right - left, foot - top).within(Box(0, 0, 100, 100 * shape))


def measure_animal(photo: PhotoView, shape: float) -> Measured | None:
    """All of an animal in millimetres; None where it was not measured."""
    measured, animal = measure_subject(photo, shape), find_animal(photo, shape)
    if measured is None or animal is None:
        return None
    return replace(measured, subject=animal.scaled(measured.whole.width / 100))


def _box_round_line(line: tuple[float, float, float, float], reach: tuple[float, float], shape: float) -> Box:
    x1, y1, x2, y2 = line
    across, down = x2 - x1, (y2 - y1) * shape
    length = hypot(across, down)
    along, beside = 0.5 + reach[0] / 100, reach[1] / 100
    half_wide, half_high = abs(across) * along + abs(down) * beside, abs(down) * along + abs(across) * beside
    # Aslant, the corners of such a box are further out than any animal goes.
    limit = length * max(along, beside)
    half_wide, half_high = min(half_wide, limit), min(half_high, limit)
    return Box((x1 + x2) / 2 - half_wide, (y1 + y2) / 2 * shape - half_high, 2 * half_wide, 2 * half_high)


def _frame(subject: Box, shape: float, ratio: float, width: float, wanted: tuple[float, float] | None = None) -> Box:
    """A frame of this width that holds a subject, round a wanted point (per cent) as far as that can be."""
    height = width / ratio
    across, down = (wanted[0], wanted[1] * shape) if wanted else subject.middle
    frame = Box(_slide(across, width, 100.0), _slide(down, height, 100.0 * shape), width, height)
    return replace(
        frame,
        x=_hold(frame.x, width, subject.x, subject.width) if wanted else frame.x,
        y=_hold(frame.y, height, subject.y, subject.height) if wanted else frame.y,
    )


def _hold(start: float, size: float, first: float, length: float) -> float:
    """A start that is moved no further than it takes to hold all of a subject."""
    return min(max(start, first + length - size), first) if length <= size + _ROUNDING else start


def _slide(middle: float, size: float, whole: float) -> float:
    """Where a part round `middle` begins, kept inside the picture where it is not larger than it."""
    return min(max(middle - size / 2, 0.0), whole - size) if size <= whole else (whole - size) / 2
