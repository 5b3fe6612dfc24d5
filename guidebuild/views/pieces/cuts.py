"""What is cut out of a picture: close to its subject for thumbs, round all of the animal where it is shared or posted."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.one_scale import Box, Measured, box_round_line, measure_subject

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


def show_whole(shape: float, ratio: float) -> Box:
    """A frame round all of a picture, with tone beside it."""
    width = max(100.0, 100 * shape * ratio)
    return Box((100 - width) / 2, (100 * shape - width / ratio) / 2, width, width / ratio)


def cut_to_subject(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """The part to show in a frame `ratio` times as wide as high, in hundredths of the picture's width; None for all of it.

    `shape` is the picture's height over its width. The part has the frame's shape and may be larger than the picture where the
    subject is: then tone stands beside.
    """
    if not photo.may_be_cut:
        return show_whole(shape, ratio)
    measured = measure_subject(replace(photo, length=photo.length or 1.0), shape)  # its line says where, however long that is in truth
    if measured:
        subject = measured.subject.scaled(100 / measured.whole.width)
    elif photo.focus:
        wide = min(max(_ROUND_POINT, _ROUND_POINT * shape * ratio), 100.0, 100.0 * shape * ratio)
        near = _frame(Box(photo.focus[0], photo.focus[1] * shape, 0, 0), shape, ratio, wide)
        subject = near.round(filter(None, [find_animal(photo, shape)]))
    else:
        return None
    return _frame(subject, shape, ratio, max(subject.width, subject.height * ratio, _LEAST))


def cut_to_animal(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """The same with all of the animal in it, antennae, legs and tail, as large as the frame can hold it."""
    animal = find_animal(photo, shape) if photo.measured and photo.may_be_cut else None
    if animal is None:
        return cut_to_subject(photo, shape, ratio)
    return _frame(animal, shape, ratio, max(animal.width, animal.height * ratio, _LEAST))


def cut_widest(photo: PhotoView, shape: float, ratio: float) -> Box | None:
    """As much of the picture as has the frame's shape and holds all of the animal; None where nothing says where that is.

    Where no such part of the picture can hold it, the part is larger than the picture, and tone stands beside.
    """
    if not photo.may_be_cut:
        return show_whole(shape, ratio)
    animal = find_animal(photo, shape)
    if animal is None:
        return None
    widest = min(100.0, 100.0 * shape * ratio)
    return _frame(animal, shape, ratio, max(widest, animal.width, animal.height * ratio), photo.focus)


def find_animal(photo: PhotoView, shape: float) -> Box | None:
    """Where in a picture all of its subject is, in hundredths of its width: told from the measured line, the marks and the focus."""
    points = [*photo.points, *([photo.focus] if photo.focus else [])]
    boxes = [Box(x - _ROUND_MARK, y * shape - _ROUND_MARK, 2 * _ROUND_MARK, 2 * _ROUND_MARK) for x, y in points]
    if photo.measured:
        boxes.append(box_round_line(photo.measured, photo.reach, shape) if photo.reach else _box_as_usual(photo.measured, shape))
    return boxes[0].round(boxes[1:]).within(Box(0, 0, 100, 100 * shape)) if boxes else None


def measure_animal(photo: PhotoView, shape: float) -> Measured | None:
    """All of an animal in millimetres; None where it was not measured."""
    measured, animal = measure_subject(photo, shape), find_animal(photo, shape)
    if measured is None or animal is None:
        return None
    return replace(measured, subject=animal.scaled(measured.whole.width / 100))


def _box_as_usual(line: tuple[float, float, float, float], shape: float) -> Box:
    x1, y1, x2, y2 = line
    # Aslant, the corners of such a box are further out than any animal goes of which its author says nothing.
    limit = hypot(x2 - x1, (y2 - y1) * shape) * max(0.5 + REACH[0] / 100, REACH[1] / 100)
    x, y = (x1 + x2) / 2, (y1 + y2) / 2 * shape
    return box_round_line(line, REACH, shape).within(Box(x - limit, y - limit, 2 * limit, 2 * limit))


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
