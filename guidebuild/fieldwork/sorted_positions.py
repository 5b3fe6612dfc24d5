"""Positions sorted by latitude and by longitude: which of them a number may be half of is asked without looking at each."""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterable
from typing import NamedTuple

from guidebuild.guide.records import Position

_WIDEST = 0.2  # degrees of latitude: further than any distance that counts and half the coarsest step
_NONE: frozenset[int] = frozenset()
_Sorted = tuple[tuple[float, int], ...]
"""Degrees without their sign, and whose they are."""


class SortedPositions(NamedTuple):
    """Positions known by their numbers; degrees are taken without their sign, so both sides of equator and meridian are looked at."""

    latitudes: _Sorted
    longitudes: _Sorted
    width: float
    """Degrees of longitude to which `_WIDEST` comes where the meridians are closest."""

    def at_latitude(self, degrees: float) -> frozenset[int]:
        """The positions whose latitude is near."""
        return _find_near(self.latitudes, abs(degrees), _WIDEST)

    def at_longitude(self, degrees: float) -> frozenset[int]:
        """The positions whose longitude is near."""
        return _find_near(self.longitudes, abs(degrees), self.width)

    def at(self, latitude: float, longitude: float) -> frozenset[int]:
        """The positions of which both are near."""
        return self.at_latitude(latitude) & self.at_longitude(longitude)


def sort_positions(positions: Iterable[Position]) -> SortedPositions:
    """Positions made ready to be asked for; each is known by its place in the list."""
    held = list(positions)
    thinnest = min((math.cos(math.radians(position.latitude)) for position in held), default=1.0)
    return SortedPositions(
        tuple(sorted((abs(position.latitude), number) for number, position in enumerate(held))),
        tuple(sorted((abs(position.longitude), number) for number, position in enumerate(held))),
        _WIDEST / max(thinnest, _WIDEST / 360),
    )


def _find_near(held: _Sorted, degrees: float, reach: float) -> frozenset[int]:
    low, high = bisect_left(held, (degrees - reach, -1)), bisect_right(held, (degrees + reach, len(held)))
    return frozenset(number for _, number in held[low:high]) if low < high else _NONE
