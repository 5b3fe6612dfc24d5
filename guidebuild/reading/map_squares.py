"""How large the squares of a guide's maps are, and on which grid they lie: as its author says, else by the size of the region."""

from __future__ import annotations

import math
import re
from typing import NamedTuple

from guidebuild.guide.distances import METRES
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.region import Area, MapGrid, box_of

_MEND = "Write 100 m, 1 km, 2 km, 10 km, quarter degree, 0.5° or the like."
_FRACTIONS = {"quarter": 0.25, "half": 0.5, "tenth": 0.1}
METRES_OF_SQUARES = (100.0, 200.0, 500.0, 1_000.0, 2_000.0, 5_000.0, 10_000.0, 20_000.0, 50_000.0, 100_000.0)
DEGREES_OF_SQUARES = (0.25, 0.5, 1.0, 2.0, 5.0, 10.0)
MOST_ACROSS = 30
"""Squares along the longer side: on a phone each is then some 12 pixels wide."""
_WIDEST = 12.0
"""Degrees of longitude that one plane grid is used for: two zones of UTM."""
_NATIONAL = {
    "GB": (27700, (-9.0, 49.8, 2.0, 61.0)),
    "IE": (29903, (-10.6, 51.4, -5.3, 55.4)),
    "NL": (28992, (3.2, 50.8, 7.2, 53.7)),
    "BE": (31370, (2.5, 49.5, 6.4, 51.5)),
    "LU": (2169, (5.7, 49.4, 6.5, 50.2)),
    "CH": (2056, (6.0, 45.8, 10.5, 47.8)),
    "FR": (2154, (-9.9, 41.1, 10.4, 51.6)),
    "SE": (3006, (10.0, 55.0, 24.2, 69.1)),
    "FI": (3067, (19.1, 58.8, 31.6, 70.1)),
    "EE": (3301, (20.4, 57.5, 28.2, 60.0)),
    "NZ": (2193, (166.4, -47.3, 178.6, -34.1)),
}
"""Grids of countries in which people give their records, by EPSG number and with where the register says that they are used."""

_SVALBARD = ((31, 0, 9), (33, 9, 21), (35, 21, 33), (37, 33, 42))
"""Zones of UTM north of 72°, from which longitude to which."""


class SquareSize(NamedTuple):
    """How long a square's side is, in metres or in degrees."""

    size: float
    degrees: bool


def parse_squares(text: str) -> SquareSize | Unreadable:
    """A side of squares: `1 km`, `100 m`, `quarter degree`, `0.25°`."""
    found = re.fullmatch(r"(?:(\d{1,6}(?:\.\d{1,4})?)|(quarter|half|tenth)) ?(m|km|°|degrees?)", text.strip().lower())
    if found is None or (found[2] and found[3] in {"m", "km"}):
        return Unreadable(f"'{text}' is no size of squares.", _MEND)
    number = float(found[1]) if found[1] else _FRACTIONS[found[2]]
    if found[3] in {"m", "km"}:
        metres = number * (1000 if found[3] == "km" else 1)
        return SquareSize(metres, False) if 10 <= metres <= 1_000_000 else Unreadable(f"Squares of '{text}' cannot be drawn.", _MEND)
    return SquareSize(number, True) if 0.001 <= number <= 30 else Unreadable(f"Squares of '{text}' cannot be drawn.", _MEND)


def choose_grid(outline: tuple[Area, ...], country: str, wanted: SquareSize | None) -> MapGrid:
    """The grid that a region's squares lie on."""
    west, south, east, north = box_of(spot for area in outline for ring in area for spot in ring)
    middle = round((west + east) / 2, 6), round((south + north) / 2, 6)
    in_degrees = wanted.degrees if wanted else east - west > _WIDEST or max(abs(south), abs(north)) > 80
    across = max((east - west) * math.cos(math.radians(middle[1])), north - south)
    if in_degrees:
        size = wanted.size if wanted else next((s for s in DEGREES_OF_SQUARES if across / s <= MOST_ACROSS), DEGREES_OF_SQUARES[-1])
        return MapGrid(size, 0, _floor(west), middle)
    longest = across * METRES
    size = wanted.size if wanted else next((s for s in METRES_OF_SQUARES if longest / s <= MOST_ACROSS), METRES_OF_SQUARES[-1])
    return MapGrid(size, _find_plane(country, middle), _floor(west), middle)


def _floor(degrees: float) -> float:
    """The longitude that a region begins at, with room for what lies just outside it."""
    return math.floor(degrees) - 90.0


def _find_plane(country: str, middle: tuple[float, float]) -> int:
    """The grid of the country, where the middle of the region lies in it, else the zone of UTM."""
    east, north = (middle[0] + 180) % 360 - 180, middle[1]
    code, (west, south, last, top) = _NATIONAL.get(country, (0, (0.0, 0.0, 0.0, 0.0)))
    if code and west <= east <= last and south <= north <= top:
        return code
    return (32600 if north >= 0 else 32700) + _find_zone(east, north)


def _find_zone(east: float, north: float) -> int:
    """The zone of UTM: six degrees wide, but for the south-west of Norway and for Svalbard (DMA TM 8358.1, 3-2)."""
    if 56 <= north < 64 and 3 <= east < 12:
        return 32
    if north >= 72:
        return next((zone for zone, west, last in _SVALBARD if west <= east < last), int((east + 180) // 6) % 60 + 1)
    return int((east + 180) // 6) % 60 + 1
