"""Eastings and northings in a text that stand near a secret place, though no letters say on which grid.

Each number of the text is looked up among the figures of all places at once: fifty places cost little more than one.
"""

from __future__ import annotations

import re
from bisect import bisect_left, bisect_right
from collections.abc import Iterable, Iterator
from functools import lru_cache
from typing import NamedTuple

from guidebuild.fieldwork.plane_grids import find_plane_figures
from guidebuild.guide.records import Position

_SAME = 15.0  # metres: the least that datums and rounding put figures of one place apart
_NEARBY = 0.2  # degrees: as far as any distance that counts
_GAP = 200  # characters between the halves, as for degrees
_NUMBER = re.compile(r"(?<![\d.])(?:\d{5,10}|\d{1,4}(?:(?P<joint>[ \u00a0\u202f'’.,])\d{3})(?:(?P=joint)\d{3})?)(?:[.,]\d{1,4})?(?!\d)")
_WHOLE = re.compile(r"[.,]\d{1,4}$")


class PlanePair(NamedTuple):
    """An easting and a northing that belong to a place, by its number, and how many metres off they are."""

    place: int
    start: int
    end: int
    east: float
    north: float
    grid: int


class _Half(NamedTuple):
    low: float
    high: float
    place: int
    grid: int
    is_east: bool


class PlaneIndex(NamedTuple):
    """The ranges in which the figures of each place lie, sorted by where they start, in groups of about the same width."""

    groups: tuple[tuple[tuple[float, ...], tuple[_Half, ...], float], ...]

    def find(self, text: str) -> Iterator[PlanePair]:
        """Every pair of figures that stand near one of the places, in whichever order."""
        last: dict[tuple[int, int, bool], tuple[int, int, float]] = {}
        for start, end, value in _numbers(text):
            for half in self._halves_at(value):
                other = last.get((half.place, half.grid, not half.is_east))
                if other and 0 <= start - other[1] <= _GAP:
                    east, north = (value, other[2]) if half.is_east else (other[2], value)
                    yield PlanePair(half.place, other[0], end, east, north, half.grid)
                last[half.place, half.grid, half.is_east] = start, end, value

    def _halves_at(self, value: float) -> Iterator[_Half]:
        for lows, halves, widest in self.groups:
            for half in halves[bisect_left(lows, value - widest) : bisect_right(lows, value)]:
                if value <= half.high:
                    yield half


@lru_cache(maxsize=16)
def index_places(places: tuple[tuple[float, float, float], ...]) -> PlaneIndex:
    """An index of places by latitude, longitude and the distance in metres within which they are found."""
    by_width: dict[int, list[_Half]] = {}
    for number, (latitude, longitude, metres) in enumerate(places):
        for figures in find_plane_figures(latitude, longitude):
            for value, unit, is_east in ((figures.east, figures.east_unit, True), (figures.north, figures.north_unit, False)):
                reach = metres / unit
                by_width.setdefault(len(str(int(reach))), []).append(_Half(value - reach, value + reach, number, figures.grid, is_east))
    groups = (sorted(halves) for halves in by_width.values())
    return PlaneIndex(tuple((tuple(h.low for h in held), tuple(held), max(h.high - h.low for h in held)) for held in groups))


def find_hidden_pairs(text: str, places: tuple[tuple[float, float, float], ...], shown: Iterable[Position]) -> Iterator[PlanePair]:
    """Pairs near a place that are none of the positions that may be shown."""
    for pair in index_places(places).find(text):
        near = (there for there in shown if abs(abs(there.latitude) - abs(places[pair.place][0])) < _NEARBY)
        if not any(_is_figure_of(pair, there) for there in near):
            yield pair


def _is_figure_of(pair: PlanePair, there: Position) -> bool:
    return any(
        max(abs(pair.east - figures.east) * figures.east_unit, abs(pair.north - figures.north) * figures.north_unit) <= _SAME
        for figures in find_plane_figures(there.latitude, there.longitude)
        if figures.grid == pair.grid
    )


def _numbers(text: str) -> Iterator[tuple[int, int, float]]:
    for match in _NUMBER.finditer(text):
        joint = match["joint"]
        # In 450.091 and 450,091 the sign may part thousands; with five figures before it, it starts the decimals.
        figures = match[0]
        if joint is None:
            value = float(figures.replace(",", "."))
        else:
            tail = _WHOLE.search(figures)
            cut = figures[: tail.start()] if tail and len(tail[0]) != 4 else figures
            value = float(re.sub(r"\D", "", cut))
        yield match.start(), match.end(), value
