"""The region of a guide as its maps draw it: an outline, lines, and the grid whose squares are filled."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.guide.findings import NOWHERE, At
from guidebuild.guide.text.inline import Unshown

LonLat = tuple[float, float]
"""Degrees east and north, in the order of RFC 7946. East of the 180th meridian they may go on past 180."""
Line = tuple[LonLat, ...]
Area = tuple[Line, ...]
"""An outer ring and its holes; each ring ends where it begins."""
Square = tuple[int, int]
"""A square of a grid: its column and its row, counted from the grid's origin."""
PackedSquare = int
"""The same as one number (`projection.pack_squares`): Python looks for garbage among pairs, and takes long to."""


@dataclass(frozen=True, slots=True)
class MapGrid:
    """The grid whose squares a map fills: `size` in metres on the grid of an EPSG number, or in degrees where that is 0.

    `west` is the longitude that the region begins at, so that one which lies on both sides of the 180th meridian stays whole;
    `middle` is where degrees are drawn in true proportion.
    """

    size: float
    epsg: int = 0
    west: float = -180.0
    middle: LonLat = (0.0, 0.0)


@dataclass(frozen=True, slots=True)
class Region:
    """What `map:` of guide.yaml says, as it is drawn. `recent` is how many years a sighting counts as a recent one."""

    outline: tuple[Area, ...]
    lines: tuple[Line, ...] = ()
    grid: MapGrid = MapGrid(0.1)
    recent: int = 10
    on_cards: bool = False
    file: Unshown = ""
    at: At = NOWHERE

    def corners(self) -> Iterator[LonLat]:
        """Every corner of the outline."""
        return (spot for area in self.outline for ring in area for spot in ring)


def box_of(spots: Iterator[LonLat]) -> tuple[float, float, float, float]:
    """West, south, east and north of some spots."""
    easts, norths = zip(*spots, strict=True)
    return min(easts), min(norths), max(easts), max(norths)
