"""Where numbers, leader lines, rings and close-ups stand on a plate: decided here for web, paper and pictures alike.

A ring stands round each mark and is open, so that the mark is seen; its line comes from outside; its number stands beside
the picture. All lengths are in the plate's own unit: hundredths of its width on the web, millimetres on paper.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from math import hypot, inf

from guidebuild.views.pieces.common import MarkView
from guidebuild.views.pieces.leaders import Aim, Columns, Point, arrange, distance_to_line

_EASY = 0.75
"""Radius of a ring whose mark has no width of its own, in radii of a number's disc."""
_LEAST_RING = 0.3
"""The smallest ring where there is room beside it, in radii of a disc."""
_LEAST = 0.5
"""The smallest ring of all, in the plate's unit."""
_ROUND = 1.15
"""A ring leaves so much round its mark, and its line is outside."""
_NEAREST = 0.85
"""A ring reaches at most so far to the next mark."""
_WORTH = 1.5
"""A close-up that enlarges less than this is left out."""
_SURROUNDED = 2.4
"""A close-up shows so many times the mark's width: where it is on the body must be seen too."""
_BODY = 0.3
"""Half of a body's width, in lengths of the measured line: where a close-up is not wanted (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What a plate is drawn on: its size, the picture on it, discs of which radius stand in which columns, and how far apart.

    `gap` is the least distance between the middles of two discs, `wanted` the distance where there is room; `near_up` is the
    radius of a close-up, 0 for none.
    """

    width: float
    height: float
    picture: tuple[float, float, float, float]
    disc: float
    left: float
    right: float
    gap: float
    wanted: float
    near_up: float = 0.0

    def find(self, across: float, down: float) -> Point:
        """A spot of the picture, per cent across and down, on the plate."""
        x, y, width, height = self.picture
        return x + width * across / 100, y + height * down / 100


@dataclass(frozen=True, slots=True)
class Pointer:
    """One number beside the picture, the ring round its mark, and the line between them, from edge to edge."""

    number: int
    words: str
    x: float
    y: float
    ring: float
    label_x: float
    label_y: float
    line: tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class CloseUp:
    """A small mark enlarged: what lies within `reach` of (`x`, `y`), drawn round (`at_x`, `at_y`) with a `radius`."""

    number: int
    x: float
    y: float
    reach: float
    at_x: float
    at_y: float
    radius: float

    @property
    def times(self) -> float:
        """How many times as large as on the picture."""
        return self.radius / self.reach

    def join(self, ring: float) -> tuple[float, float, float, float]:
        """The line from the ring round the mark to the close-up's rim."""
        apart = hypot(self.at_x - self.x, self.at_y - self.y) or 1.0
        across, down = (self.at_x - self.x) / apart, (self.at_y - self.y) / apart
        end = max(apart - self.radius, ring)
        return self.x + across * ring, self.y + down * ring, self.x + across * end, self.y + down * end

    def enlarge(self, picture: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        """Where the whole picture (corner and size) lies, enlarged, so that the mark stands in the middle of the close-up."""
        x, y, width, height = picture
        return self.at_x - (self.x - x) * self.times, self.at_y - (self.y - y) * self.times, width * self.times, height * self.times


@dataclass(frozen=True, slots=True)
class Placed:
    """All that stands on a plate."""

    pointers: tuple[Pointer, ...]
    close_ups: tuple[CloseUp, ...] = ()


def place_marks(ground: Ground, marks: Iterable[MarkView], measured: tuple[float, float, float, float] | None = None) -> Placed:
    """Place the pointers of the marks that have a point, in the order of their numbers, and close-ups of those that are small.

    `measured` is the line along the body, if there is one: close-ups keep off it.
    """
    pointed = sorted((mark for mark in marks if mark.point), key=lambda mark: mark.number)
    spots = [ground.find(*mark.point) for mark in pointed if mark.point]
    aims = [Aim(*spot, ring) for spot, ring in zip(spots, _rings(ground, pointed, spots), strict=True)]
    low = ground.disc * 1.15
    columns = Columns(ground.left, ground.right, low, ground.height - low, ground.disc, ground.gap, ground.wanted)
    labels = arrange(aims, columns)
    pointers = tuple(
        Pointer(mark.number, mark.words, aim.x, aim.y, aim.ring, *label, _line(label, ground.disc, aim))
        for mark, aim, label in zip(pointed, aims, labels, strict=True)
    )
    return Placed(pointers, tuple(_close_ups(ground, pointed, pointers, measured)))


def _rings(ground: Ground, marks: Sequence[MarkView], spots: Sequence[Point]) -> Iterator[float]:
    """The radius of each ring: round the whole mark where its width is known, and never over the next mark."""
    for mark, (x, y) in zip(marks, spots, strict=True):
        wanted = mark.wide / 200 * ground.picture[2] * _ROUND if mark.wide else ground.disc * _EASY
        near = min((apart for u, v in spots if (apart := hypot(u - x, v - y)) > 0), default=inf)
        beside = min(x - ground.left, ground.right - x) - ground.disc
        wanted = min(wanted, beside) if beside > 0 else wanted
        yield max(min(wanted, near * _NEAREST, ground.picture[2] / 3), min(ground.disc * _LEAST_RING, max(beside, _LEAST)))


def _line(label: Point, disc: float, aim: Aim) -> tuple[float, float, float, float]:
    """From the edge of the disc to the edge of the ring."""
    across, down = aim.x - label[0], aim.y - label[1]
    whole = hypot(across, down) or 1.0
    reach = min(aim.ring, max(whole - disc, 0.0))
    start, end = disc / whole, 1 - reach / whole
    return label[0] + across * start, label[1] + down * start, label[0] + across * end, label[1] + down * end


def _close_ups(
    ground: Ground, marks: Sequence[MarkView], pointers: Sequence[Pointer], measured: tuple[float, float, float, float] | None
) -> Iterator[CloseUp]:
    """One for each mark whose width is known to be less than a disc's, where a place is free."""
    placed: list[CloseUp] = []
    for mark, pointer in zip(marks, pointers, strict=True):
        if not (ground.near_up and mark.wide and mark.wide / 100 * ground.picture[2] < ground.disc * 2):
            continue
        reach = max(mark.wide / 200 * ground.picture[2] * _SURROUNDED, ground.disc * _EASY)
        free = [(cost, spot) for spot in _spots(ground) if (cost := _price(ground, spot, pointer, pointers, placed, measured)) is not None]
        if ground.near_up / reach < _WORTH or not free:
            continue
        _, (at_x, at_y) = min(free)
        placed.append(CloseUp(pointer.number, pointer.x, pointer.y, reach, at_x, at_y, ground.near_up))
    yield from placed


_STEPS = 12


def _spots(ground: Ground) -> Iterator[Point]:
    """Where the middle of a close-up may stand: all over the picture, a little inside its edge."""
    x, y, width, height = ground.picture
    edge = ground.near_up * 1.08
    if width < edge * 2 or height < edge * 2:
        return
    for across in range(_STEPS + 1):
        for down in range(_STEPS + 1):
            yield x + edge + (width - edge * 2) * across / _STEPS, y + edge + (height - edge * 2) * down / _STEPS


def _price(  # noqa: PLR0913, PLR0917 - all that a close-up could be in the way of
    ground: Ground,
    spot: Point,
    own: Pointer,
    pointers: Sequence[Pointer],
    placed: Sequence[CloseUp],
    measured: tuple[float, float, float, float] | None,
) -> float | None:
    """How unwelcome a close-up is here; None where it would cover a mark, a line, a number or another close-up."""
    radius = ground.near_up
    for pointer in pointers:
        ends = ((pointer.line[0], pointer.line[1]), (pointer.line[2], pointer.line[3]))
        if hypot(spot[0] - pointer.x, spot[1] - pointer.y) < radius * 1.1 + pointer.ring or distance_to_line(spot, *ends) < radius * 1.1:
            return None
        if hypot(spot[0] - pointer.label_x, spot[1] - pointer.label_y) < radius + ground.disc * 1.1:
            return None
    if any(hypot(spot[0] - other.at_x, spot[1] - other.at_y) < radius * 2.1 for other in placed):
        return None
    far = hypot(spot[0] - own.x, spot[1] - own.y) / ground.width
    if measured is None:
        return far
    head, tail = ground.find(*measured[:2]), ground.find(*measured[2:])
    body = hypot(head[0] - tail[0], head[1] - tail[1]) * _BODY + radius
    over = max(0.0, body - distance_to_line(spot, head, tail)) / radius
    return far + over * 10


def number_marks(marks: Sequence[MarkView], photo: str) -> tuple[MarkView, ...]:
    """The marks with numbers for those that this photo points at, counted on without a gap, and 0 for the others."""
    pointed = [mark for mark in marks if mark.point and mark.photo == photo]
    numbers = {mark.number: number for number, mark in enumerate(pointed, 1)}
    return tuple(replace(mark, number=numbers.get(mark.number, 0)) for mark in marks)
