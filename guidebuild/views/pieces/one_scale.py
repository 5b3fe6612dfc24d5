"""Pictures of several living things side by side at one scale: where each lies in its frame, and what is enlarged beside it.

All frames of a set are as large as one another and show as many millimetres, so that lengths may be held against each other from
frame to frame. The scale is chosen so that the longest fits; what is too small to be made out is shown again, enlarged.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from math import hypot, inf

from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.pointers import Ground, Pointer, place_marks

LEAST = 25.0
"""Per cent of a frame's longer side: a subject that is shorter than this is shown again, enlarged."""
ENLARGED = (2, 3, 4, 5, 10, 20, 50, 100, 200, 500, 1000)
"""How many times it may be enlarged beside itself."""
ROUND_LENGTHS = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000, 2000, 5000)
"""Lengths of a scale bar, millimetres."""

_NEAR_BODY = (8.0, 50.0)
"""What is cut out where nothing says how far the subject goes, in per cent of the measured line: past its ends, and to its sides."""
_ROUND_MARK = 0.06
"""What stays round a mark, in lengths of the subject."""
_SIDES = 7.0
"""Per cent of a frame's width kept free of the subject, left and right: the numbers stand there."""
RING = 5.4
"""Radius of the ring round a number, per cent of a frame's width."""
_NUMBERS = 12.0
"""Least distance between two numbers, per cent of a frame's width."""
_GAP = 3.0
_LONGEST_BAR = 33.0
_GROWN = 2.0
"""How many times as large the frames may become for a picture that may not be cut."""


@dataclass(frozen=True, slots=True)
class Box:
    """A part of a plane, by its upper left corner and its size."""

    x: float
    y: float
    width: float
    height: float

    @property
    def middle(self) -> tuple[float, float]:
        """Its middle, across and down."""
        return self.x + self.width / 2, self.y + self.height / 2

    def scaled(self, times: float) -> Box:
        """The same, so many times as large, seen from the corner of the plane."""
        return Box(self.x * times, self.y * times, self.width * times, self.height * times)

    def moved(self, across: float, down: float) -> Box:
        """The same at another place."""
        return replace(self, x=self.x + across, y=self.y + down)

    def round(self, others: Iterable[Box]) -> Box:
        """The least box that holds it and others."""
        boxes = (self, *others)
        left, top = min(box.x for box in boxes), min(box.y for box in boxes)
        right, foot = max(box.x + box.width for box in boxes), max(box.y + box.height for box in boxes)
        return Box(left, top, right - left, foot - top)

    def within(self, other: Box) -> Box:
        """What both have in common."""
        x, y = max(self.x, other.x), max(self.y, other.y)
        return Box(x, y, min(self.x + self.width, other.x + other.width) - x, min(self.y + self.height, other.y + other.height) - y)


@dataclass(frozen=True, slots=True)
class Print:
    """One showing of a picture in a frame: where the whole picture would lie, and the part of it that is shown."""

    whole: Box
    shown: Box

    def scaled(self, times: float) -> Print:
        """The same, so many times as large."""
        return Print(self.whole.scaled(times), self.shown.scaled(times))

    def moved(self, across: float, down: float) -> Print:
        """The same at another place."""
        return Print(self.whole.moved(across, down), self.shown.moved(across, down))


@dataclass(frozen=True, slots=True)
class Framed:
    """A picture in its frame, 100 units across: at the scale of the set, and enlarged so many `times` where that is small."""

    photo: PhotoView
    at_scale: Print
    pointers: tuple[Pointer, ...] = ()
    enlarged: Print | None = None
    times: int = 1


@dataclass(frozen=True, slots=True)
class FrameSet:
    """Frames of one size and scale: their height in units of a hundredth of their width, how many millimetres they are across, the bar.

    `frames` stand in the order of the pictures that were given; None for one that has no measured line, or cannot be shown at this scale.
    """

    height: float
    across: float
    bar: float  # millimetres
    frames: tuple[Framed | None, ...]

    @property
    def bar_width(self) -> float:
        """The length of the bar in units of a frame."""
        return self.bar * 100 / self.across


@dataclass(frozen=True, slots=True)
class Measured:
    """A picture in millimetres of what it shows: its own size, and the part in which the subject is."""

    photo: PhotoView
    whole: Box
    subject: Box
    length: float


Measure = Callable[[PhotoView, float], Measured | None]
"""Where in a picture, of this height over its width, the subject is; None where nothing says how large it is."""


def frame_whole(photo: PhotoView, shape: float) -> Framed:
    """A picture that has no scale in a frame of its own, whole, with its pointers."""
    whole = Box(0, 0, 100, 100 * shape)
    return Framed(photo, Print(whole, whole), _point(photo, whole, 100 * shape))


def is_kept_whole(photo: PhotoView) -> bool:
    """Whether a picture that has no frame at the scale of others lacks it because its licence allows no cut."""
    return photo.measured is not None and photo.length is not None and not photo.may_be_cut


def find_width(photo: PhotoView, shape: float) -> float | None:
    """How many millimetres a picture is across where its subject is; None without a measured line. `shape` is its height over its width."""
    if not (photo.length and photo.measured):
        return None
    x1, y1, x2, y2 = photo.measured
    share = hypot(x2 - x1, (y2 - y1) * shape) / 100
    return photo.length / share if share else None


def frame_at_one_scale(pictures: Sequence[tuple[PhotoView, float]], measure: Measure | None = None) -> FrameSet | None:
    """Frames for pictures, each with its height over its width; None where none is measured.

    `measure` says where in a picture its subject is; without it, that is the body with its marks. A picture that may not be cut is shown
    whole at the same scale, or has no frame, where that would leave too little of the others or of itself.
    """
    measured = _choose([(measure or measure_subject)(photo, shape) for photo, shape in pictures])
    known = [one for one in measured if one]
    if not known:
        return None
    across, high = _need(known)
    height = high * 100 / across
    return FrameSet(
        height=height,
        across=across,
        bar=_choose_bar(across),
        frames=tuple(_frame(one, 100 / across, height) if one else None for one in measured),
    )


def _choose(measured: Iterable[Measured | None]) -> list[Measured | None]:
    """What is framed at one scale; a picture that may not be cut counts as a whole, as if it were all subject."""
    each = [one if one is None or one.photo.may_be_cut else replace(one, subject=one.whole) for one in measured]
    cut = [one for one in each if one and one.photo.may_be_cut]
    most = max(_need(cut)) * _GROWN if cut else inf
    whole = [one for one in each if one and not one.photo.may_be_cut and _is_seen(one, size := max(_need([one]))) and size <= most]
    largest = max(_need([*cut, *whole])) if cut or whole else 0.0
    return [one if one and (one.photo.may_be_cut or (one in whole and _is_seen(one, largest))) else None for one in each]


def _need(shown: Sequence[Measured]) -> tuple[float, float]:
    """How wide and how high frames must be for all of these, millimetres of life. What is cut keeps clear of the numbers at the sides."""
    free = 100 / (100 - 2 * _SIDES)
    across = max(one.subject.width * (free if one.photo.may_be_cut else 1) for one in shown)
    return across, max(one.subject.height for one in shown)


def _is_seen(one: Measured, frame: float) -> bool:
    """Whether a subject can be made out in a frame whose longer side is so many millimetres."""
    return one.length >= frame * LEAST / 100


def frame_at_scale(one: Measured, across: float, shape: float) -> Framed:
    """One picture in a frame `across` millimetres of life wide and `shape` times as high: frames of several sizes may share a scale."""
    return _frame(one, 100 / across, shape * 100)


def choose_length(most: float) -> float:
    """The longest round length of no more than so many millimetres; the shortest there is where none is."""
    return max((length for length in ROUND_LENGTHS if length <= most), default=ROUND_LENGTHS[0])


def say_length(millimetres: float) -> str:
    """A length as it stands beside a bar."""
    return f"{millimetres / 10:g} cm" if millimetres >= 50 else f"{millimetres:g} mm"


def measure_subject(photo: PhotoView, shape: float) -> Measured | None:
    """Where in a picture its subject is, told from the measured line, its reach beyond it, and the marks; None without a line."""
    wide = find_width(photo, shape)
    if wide is None or not photo.length or not photo.measured:
        return None
    whole = Box(0, 0, wide, wide * shape)
    length, near = photo.length, photo.length * _ROUND_MARK
    points = [(x / 100 * wide, y / 100 * wide * shape) for x, y in photo.points]
    body = box_round_line(photo.measured, photo.reach or _NEAR_BODY, shape).scaled(wide / 100)
    subject = body.round(Box(x - near, y - near, 2 * near, 2 * near) for x, y in points)
    return Measured(photo, whole, subject.within(whole), length)


def box_round_line(line: tuple[float, float, float, float], reach: tuple[float, float], shape: float) -> Box:
    """What lies within `reach` of a line (per cent of it: past its ends, to its sides), in hundredths of the picture's width."""
    x1, y1, x2, y2 = line
    across, down = abs(x2 - x1), abs(y2 - y1) * shape
    along, beside = 0.5 + reach[0] / 100, reach[1] / 100
    half_wide, half_high = across * along + down * beside, down * along + across * beside
    return Box((x1 + x2) / 2 - half_wide, (y1 + y2) / 2 * shape - half_high, 2 * half_wide, 2 * half_high)


def _choose_bar(across: float) -> float:
    """The longest round length that takes no more than a third of a frame."""
    return choose_length(across * _LONGEST_BAR / 100)


def _frame(one: Measured, scale: float, height: float) -> Framed:
    """One picture in its frame; `scale` is units a millimetre."""
    frame = Box(0, 0, 100, height)
    if one.photo.may_be_cut and not _is_seen(one, max(100, height) / scale):
        small = _frame_enlarged(one, scale, frame)
        if small:
            return small
    shown = _print(one, scale, frame, Box(_SIDES, 0, 100 - 2 * _SIDES, height))
    return Framed(one.photo, shown, _point(one.photo, shown.whole, height))


def _print(one: Measured, scale: float, frame: Box, inner: Box) -> Print:
    """The subject in the middle of `inner`, with as much of what is round it as the frame holds and the picture has."""
    whole, subject = one.whole.scaled(scale), one.subject.scaled(scale)
    x = _slide(whole.width, (subject.x, subject.x + subject.width), (0, frame.width), (inner.x, inner.x + inner.width))
    y = _slide(whole.height, (subject.y, subject.y + subject.height), (0, frame.height), (inner.y, inner.y + inner.height))
    placed = whole.moved(x, y)
    return Print(placed, placed.within(frame))


def _slide(size: float, subject: tuple[float, float], frame: tuple[float, float], inner: tuple[float, float]) -> float:
    """How far to move a picture along one side so that it fills the frame where it can, and its subject stays inside `inner`."""
    low, high = frame[1] - size, frame[0]
    wanted = min(max(sum(inner) / 2 - sum(subject) / 2, low), high) if low < high else (low + high) / 2
    # What keeps the subject clear of the numbers goes before what fills the frame; what keeps it whole, before both.
    inner = inner if subject[1] - subject[0] <= inner[1] - inner[0] else frame
    return min(max(wanted, inner[0] - subject[0]), inner[1] - subject[1])


def _frame_enlarged(one: Measured, scale: float, frame: Box) -> Framed | None:
    """A small subject in the lower left corner, and the same enlarged above it or beside it; None where there is no room for that."""
    subject = one.subject.scaled(scale)
    beside = Box(subject.width + _GAP, 0, frame.width - subject.width - _GAP, frame.height)
    above = Box(0, 0, frame.width, frame.height - subject.height - _GAP)
    fitting = [(times, room) for room in (beside, above) for times in ENLARGED if _fits(subject, times, room)]
    if not fitting:
        return None
    times, room = max(fitting, key=lambda fit: fit[0])
    corner = Box(0, frame.height - subject.height, subject.width, subject.height)
    at_scale = _cut(one, scale, corner)
    wide, high = subject.width * times, subject.height * times
    place = Box(room.x + (room.width - wide) / 2, room.y + (room.height - high) / 2, wide, high)
    enlarged = _cut(one, scale * times, place)
    return Framed(one.photo, at_scale, _point(one.photo, enlarged.whole, frame.height), enlarged, times)


def _fits(subject: Box, times: int, room: Box) -> bool:
    # The numbers stand at the sides, so an enlarged picture leaves them room too.
    return subject.width * times <= room.width - _SIDES and subject.height * times <= room.height


def _cut(one: Measured, scale: float, place: Box) -> Print:
    """The subject alone, its corner at that of `place`."""
    whole = one.whole.scaled(scale).moved(place.x - one.subject.x * scale, place.y - one.subject.y * scale)
    return Print(whole, place)


def _point(photo: PhotoView, whole: Box, height: float) -> tuple[Pointer, ...]:
    """The pointers of a picture in a frame, with their numbers at the frame's sides."""
    edge = RING + 0.6
    picture = (whole.x, whole.y, whole.width, whole.height)
    return place_marks(Ground(100, height, picture, RING, edge, 100 - edge, _NUMBERS, _NUMBERS), photo.marks).pointers
