"""Where positions may be told: near a place that is known to be public. Any other position is held back until the guide allows it.

By distance, never by cell. A guide that keeps nothing secret has no such ground: it may tell any position.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass, field

from guidebuild.fieldwork.near_places import is_same, measure_apart
from guidebuild.fieldwork.sorted_positions import SortedPositions, sort_positions
from guidebuild.fieldwork.spots import Figures, Spot
from guidebuild.fieldwork.sure_positions import MAY_HOLD, find_sure_positions
from guidebuild.guide.distances import METRES
from guidebuild.guide.records import Position

NEAR = 500.0
"""Metres from a public place within which a position is that place's: a gate, a car park (our own figure)."""
_ABOUT = 2
"""So many cells to a degree: unmarked figures are positions only where they fall into a cell of the guide's places, or beside one."""
_EDGE = 0.1
"""Degrees around the region's box."""


@dataclass(frozen=True, slots=True)
class OpenGround:
    """The public positions of a guide, and where it is about.

    Round `public` ones others may be told; `shown` are told themselves, such as rounded ones; `places` are all, also the secret ones.
    """

    public: tuple[Position, ...]
    shown: tuple[Position, ...]
    places: tuple[Position, ...]
    box: tuple[float, float, float, float] | None = None
    _sorted: SortedPositions = field(init=False, repr=False, compare=False)
    _cells: frozenset[tuple[int, int]] = field(init=False, repr=False, compare=False)
    _middle: tuple[float, float] | None = field(init=False, repr=False, compare=False)

    def __post_init__(self) -> None:
        """Sort the positions, once for all texts."""
        held = (*self.public, *self.places)
        cells = {(math.floor(p.latitude * _ABOUT), math.floor(p.longitude * _ABOUT)) for p in held}
        around = {(north + up, east + right) for north, east in cells for up in (-1, 0, 1) for right in (-1, 0, 1)}
        object.__setattr__(self, "_sorted", sort_positions((*self.public, *self.shown)))
        object.__setattr__(self, "_cells", frozenset(around))
        object.__setattr__(self, "_middle", (held[0].latitude, held[0].longitude) if held else None)

    def find_unknown(self, figures: Figures) -> Iterator[Spot]:
        """The positions of a text that are of no public place; the same figures are judged once."""
        if not MAY_HOLD.search(figures.text):
            return
        known: dict[tuple[float, float, float, bool], bool] = {}
        for spot in find_sure_positions(figures, self._is_about, self._middle):
            said = spot.latitude, spot.longitude, spot.step, spot.signed
            if said not in known:
                known[said] = self.is_public(spot)
            if not known[said]:
                yield spot

    def is_public(self, spot: Spot) -> bool:
        """Whether a position is of a public place: near one, or with the very latitude of one and the longitude of another.

        The last is so where a box is told round public places, or where the rows of a table run together.
        """
        reach = NEAR + spot.step * METRES * 0.71
        # Near the equator either number may be the latitude.
        turned = Spot(spot.text, spot.offset, spot.longitude, spot.latitude, spot.step, spot.halves)
        for one in (spot,) if spot.signed or spot.longitude > 90 else (spot, turned):
            near = self._sorted.at(one.latitude, one.longitude)
            if any(self._is_at(n, one, reach) for n in near):
                return True
            if self._is_half(self._sorted.latitudes, one.latitude, one) and self._is_half(self._sorted.longitudes, one.longitude, one):
                return True
        return False

    def _is_at(self, number: int, spot: Spot, reach: float) -> bool:
        if number < len(self.public):
            return measure_apart(spot, self.public[number]) <= reach
        return is_same(spot, self.shown[number - len(self.public)])

    def say_where(self, spot: Spot) -> str:
        """A position as it is written in guide.yaml; a sign that the text does not tell surely is that of the guide's nearest place."""
        latitude, longitude = spot.latitude, spot.longitude
        held = (*self.public, *self.places)
        if held and not spot.signed:
            nearest = min(held, key=lambda p: abs(abs(p.latitude) - latitude) + abs(abs(p.longitude) - longitude))
            latitude, longitude = (
                -value if sign < 0 else value
                for value, sign in zip((latitude, longitude), (nearest.latitude, nearest.longitude), strict=True)
            )
        return f"{latitude:.5f}, {longitude:.5f}"

    @staticmethod
    def _is_half(held: tuple[tuple[float, int], ...], value: float, spot: Spot) -> bool:
        place = bisect_left(held, (abs(value) - spot.step * 0.51, -1))
        return not spot.signed and place < len(held) and held[place][0] <= abs(value) + spot.step * 0.51

    def _is_about(self, latitude: float, longitude: float, *, signed: bool = False) -> bool:
        """Whether a spot is where the guide is about; without signs, whichever signs it may have."""
        ends = ((1, 1),) if signed else ((1, 1), (1, -1), (-1, 1), (-1, -1))
        return any(self._is_in(north * latitude, east * longitude) for north, east in ends)

    def _is_in(self, latitude: float, longitude: float) -> bool:
        if (math.floor(latitude * _ABOUT), math.floor(longitude * _ABOUT)) in self._cells:
            return True
        if self.box is None:
            return False
        south, west, north, east = self.box
        return _lies_in(latitude, south, north) and _lies_in(longitude, west, east)


def _lies_in(value: float, low: float, high: float) -> bool:
    """Whether degrees lie between two others, or just beyond; a box may reach over the 180th meridian."""
    if low > high:
        return value >= low - _EDGE or value <= high + _EDGE
    return low - _EDGE <= value <= high + _EDGE
