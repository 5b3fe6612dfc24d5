"""Numbers in two columns beside a picture: an order in which their lines cross neither each other nor another mark."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import hypot

Point = tuple[float, float]
_CROSSING, _THROUGH, _COVERED, _CROWDED = 1e4, 3e3, 1e5, 1e6
"""What each fault of an arrangement weighs beside a unit of a line's length."""
_ROUNDS = 12


@dataclass(frozen=True, slots=True)
class Aim:
    """A mark with the ring round it."""

    x: float
    y: float
    ring: float


@dataclass(frozen=True, slots=True)
class Columns:
    """Where the middles of discs may stand: two columns, from `top` to `bottom`, `wanted` apart, or down to `gap` where room is short."""

    left: float
    right: float
    top: float
    bottom: float
    disc: float
    gap: float
    wanted: float


_Sides = tuple[tuple[int, ...], tuple[int, ...]]
"""Marks by their places in the list, left and right, from top to bottom."""


def arrange(aims: Sequence[Aim], columns: Columns) -> list[Point]:
    """The middle of each mark's disc.

    Each stands on the side its mark is nearer to, from top to bottom; where a line would then cross another, or run through
    another mark's ring, or a disc would cover one, discs change places as long as that helps.
    """
    middle = (columns.left + columns.right) / 2
    order = sorted(range(len(aims)), key=lambda n: (aims[n].y, aims[n].x))
    sides: _Sides = (tuple(n for n in order if aims[n].x < middle), tuple(n for n in order if aims[n].x >= middle))
    best, cost = sides, _weigh(aims, sides, columns)
    for _ in range(_ROUNDS):
        if cost < _THROUGH:
            break
        other = min(((_weigh(aims, moved, columns), moved) for moved in _moves(best)), default=(cost, best))
        if other[0] >= cost:
            break
        cost, best = other
    places = _places(aims, best, columns)
    return [places[n] for n in range(len(aims))]


def _moves(sides: _Sides) -> Iterator[_Sides]:
    """Every arrangement in which one disc stands elsewhere."""
    for side in (0, 1):
        for mark in sides[side]:
            left, right = ([n for n in one if n != mark] for one in sides)
            for at in range(len(left) + 1):
                yield (*left[:at], mark, *left[at:]), tuple(right)
            for at in range(len(right) + 1):
                yield tuple(left), (*right[:at], mark, *right[at:])


def _places(aims: Sequence[Aim], sides: _Sides, columns: Columns) -> dict[int, Point]:
    places: dict[int, Point] = {}
    for side, x in zip(sides, (columns.left, columns.right), strict=True):
        places |= {mark: (x, y) for mark, y in zip(side, spread([aims[n].y for n in side], columns), strict=True)}
    return places


def spread(wanted: Sequence[float], columns: Columns) -> list[float]:
    """Heights as near as can be to the wanted ones, in this order, so far apart that no two discs touch."""
    room = columns.bottom - columns.top
    gap = max(min(columns.wanted, room / max(len(wanted) - 1, 1)), columns.gap)
    placed: list[float] = []
    for height in wanted:
        placed.append(max(height, placed[-1] + gap if placed else columns.top))
    limit = columns.bottom
    for n in range(len(placed) - 1, -1, -1):
        placed[n] = min(placed[n], limit)
        limit = placed[n] - gap
    return placed


def _weigh(aims: Sequence[Aim], sides: _Sides, columns: Columns) -> float:
    """The length of all lines, and above it what each fault weighs."""
    places = _places(aims, sides, columns)
    lines = {n: (places[n], (aims[n].x, aims[n].y)) for n in places}
    cost = sum(hypot(a[0] - b[0], a[1] - b[1]) for a, b in lines.values())
    cost += _CROWDED * sum(y < columns.top - columns.disc / 2 for _, y in places.values())
    cost += _CROSSING * sum(lines_cross(*lines[one], *lines[other]) for one, other in combinations(lines, 2))
    for n, aim in enumerate(aims):
        spot = (aim.x, aim.y)
        cost += _THROUGH * sum(distance_to_line(spot, *line) < aim.ring for other, line in lines.items() if other != n)
        cost += _COVERED * sum(hypot(x - aim.x, y - aim.y) < columns.disc + aim.ring for x, y in places.values())
    return cost


def lines_cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Whether the line from a to b crosses that from c to d."""
    return _turn(a, b, c) * _turn(a, b, d) < 0 and _turn(c, d, a) * _turn(c, d, b) < 0


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def distance_to_line(spot: Point, a: Point, b: Point) -> float:
    """From a spot to the nearest point of the line from a to b."""
    across, down = b[0] - a[0], b[1] - a[1]
    length = across * across + down * down
    share = min(max(((spot[0] - a[0]) * across + (spot[1] - a[1]) * down) / length, 0.0), 1.0) if length else 0.0
    return hypot(spot[0] - a[0] - across * share, spot[1] - a[1] - down * share)
