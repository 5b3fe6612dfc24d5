"""How near a position in a text must be to a secret place to give it away: by distance, never by the cell it falls into.

A cell has edges: by a receiver that is 30 m off, a place near an edge of the finest cells falls into the next one.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from guidebuild.fieldwork.sorted_positions import sort_positions
from guidebuild.fieldwork.spots import Figures, Spot, spots_near
from guidebuild.guide.distances import METRES, Degrees, measure_metres
from guidebuild.guide.records import Position

DISTANCES = {1.0: 10_000.0, 0.1: 8_000.0, 0.01: 800.0, 0.001: 100.0}
"""Metres around a place, by the step in degrees that may be shown of it (1 where nothing may).

Half the diagonal of the cell, so that wherever the place lies in its cell, all that is nearer than readers may know is found.
Where nothing may be shown there is no cell: ten kilometres is a parish and its neighbours (our own figure). For the finest cells,
100 m is more than half the diagonal (79 m), by what a receiver under trees is off (our own figure).
"""
AT_PLACE = 100.0
"""Metres round a place that count as the place: more than a receiver is off under trees (our own figure, as for the finest cells)."""
BARE_DISTANCE = 1_000.0
"""Metres for figures that no letters or signs mark as a position: further off, numbers of any kind would be held for one."""


def measure_reach(position: Position) -> float:
    """Metres round a position that count as the place: as far as it is large, and no less than a receiver can be off."""
    return max(position.uncertainty or 0.0, AT_PLACE)


def lies_in_place(spot: Degrees, position: Position, more: float = 0.0) -> bool:
    """Whether a spot, in degrees north and east, lies in the place that stands there, or within so many metres of it."""
    return measure_metres(spot, (position.latitude, position.longitude)) <= measure_reach(position) + more


def gives_away(spot: Spot, true: Position, step: float) -> bool:
    """Whether a spot is near a place and told more exactly than the step that may be shown of it.

    A square counts as exact from half the step down: grids in metres never fit grids in degrees.
    """
    finest = step / 2 if spot.signed else step * 0.999
    return spot.step < finest and measure_apart(spot, true) <= DISTANCES[step] + spot.step * METRES * math.sqrt(0.5)


def find_telling_spots(near: Iterable[tuple[Spot, frozenset[int]]], places: Sequence[tuple[Position, float]]) -> Iterator[tuple[Spot, int]]:
    """The spots that give a place away, with its number; `places` are positions with their steps. The same figures are judged once."""
    known: dict[tuple[float, float, float, bool], tuple[int, ...]] = {}
    for spot, numbers in near:
        said = spot.latitude, spot.longitude, spot.step, spot.signed
        if said not in known:
            known[said] = tuple(n for n in sorted(numbers) if gives_away(spot, *places[n]))
        yield from ((spot, n) for n in known[said])


def measure_apart(spot: Spot, there: Position) -> float:
    """Metres between a spot and a position; of a spot without signs, to the position without its own."""
    return measure_metres((spot.latitude, spot.longitude), (_sign(there.latitude, spot), _sign(there.longitude, spot)))


def is_same(spot: Spot, place: Position) -> bool:
    """Whether the spot is this place, as exactly as the spot is told (a square's degrees of longitude are wider)."""
    wide = spot.step * (2 if spot.signed else 0.51)
    return abs(spot.latitude - _sign(place.latitude, spot)) <= wide and abs(spot.longitude - _sign(place.longitude, spot)) <= wide


def find_shown_halves(figures: Figures, shown: Sequence[Position]) -> frozenset[int]:
    """Where numbers start that are half of a position that may be shown.

    In a table the latitude of one row stands near the longitude of another: such a number is not half of another position.
    """
    near = spots_near(figures, sort_positions(shown))
    return frozenset(half for spot, places in near if any(is_same(spot, shown[n]) for n in places) for half in spot.halves)


def _sign(value: float, spot: Spot) -> float:
    return value if spot.signed else abs(value)
