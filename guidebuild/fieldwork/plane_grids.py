"""The figures that a position has on national grids, UTM and web maps, so that they can be looked for without their letters.

Each grid is a definition of the EPSG register, with the corners of where it is used (west, south, east, north, as the register
gives them). The projections are pyproj's, with the data in its wheel: nothing is fetched.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from pyproj import Transformer

from guidebuild.guide.records import Position

_GRIDS = {
    27700: (-9.0, 49.8, 2.0, 61.0),  # British national grid
    29903: (-10.6, 51.4, -5.3, 55.4),  # Irish grid
    2157: (-10.6, 51.4, -5.3, 55.4),  # Irish Transverse Mercator
    3109: (-2.6, 48.9, -1.8, 49.4),  # Jersey
    28992: (3.2, 50.8, 7.2, 53.7),  # Dutch RD
    31370: (2.5, 49.5, 6.4, 51.5),  # Belgian Lambert 72
    3812: (2.5, 49.5, 6.4, 51.5),  # Belgian Lambert 2008
    2169: (5.7, 49.4, 6.5, 50.2),  # Luxembourg
    21781: (6.0, 45.8, 10.5, 47.8),  # Swiss LV03
    2056: (6.0, 45.8, 10.5, 47.8),  # Swiss LV95
    2154: (-9.9, 41.1, 10.4, 51.6),  # French Lambert-93
    27572: (-4.9, 42.3, 8.2, 51.1),  # French Lambert II étendu
    3763: (-9.6, 37.0, -6.2, 42.2),  # Portuguese TM06
    31466: (5.9, 49.1, 7.5, 53.8),  # German Gauss-Krüger, zones 2 to 4
    31467: (7.5, 47.3, 10.5, 55.1),
    31468: (10.5, 47.4, 13.5, 54.6),
    4647: (6.0, 47.3, 12.0, 55.5),  # German UTM with the zone before the easting
    5650: (11.6, 47.5, 15.0, 55.0),
    31287: (9.5, 46.4, 17.2, 49.0),  # Austrian Lambert
    31254: (9.5, 46.8, 11.8, 47.6),  # Austrian Gauss-Krüger
    31255: (11.8, 46.4, 14.8, 48.8),
    31256: (14.8, 46.6, 17.2, 49.0),
    3003: (5.9, 36.5, 12.0, 47.0),  # Italian Gauss-Boaga
    3004: (12.0, 34.8, 19.0, 47.1),
    2180: (14.1, 49.0, 24.1, 55.9),  # Polish 1992
    2176: (14.1, 50.3, 16.5, 55.4),  # Polish 2000
    2177: (16.5, 49.4, 19.5, 55.9),
    2178: (19.5, 49.1, 22.5, 54.5),
    2179: (22.5, 49.0, 24.1, 54.4),
    5514: (12.1, 47.7, 22.6, 51.1),  # Czech and Slovak S-JTSK; the sign does not count
    23700: (16.1, 45.7, 22.9, 48.6),  # Hungarian EOV
    3844: (20.3, 43.4, 31.4, 48.3),  # Romanian Stereo 70
    3794: (13.4, 45.4, 16.6, 46.9),  # Slovenian
    3765: (13.4, 42.3, 19.4, 46.5),  # Croatian
    3301: (20.4, 57.5, 28.2, 60.0),  # Estonian
    3059: (19.1, 55.7, 28.2, 58.1),  # Latvian
    3346: (19.0, 53.9, 26.8, 56.5),  # Lithuanian
    3067: (19.1, 58.8, 31.6, 70.1),  # Finnish TM35FIN
    2393: (19.1, 58.8, 31.6, 70.1),  # Finnish uniform coordinates, used for the whole country
    3006: (10.0, 55.0, 24.2, 69.1),  # SWEREF 99 TM
    3021: (10.0, 55.0, 24.2, 69.1),  # RT 90, used for the whole country
    3057: (-30.9, 60.0, -5.5, 69.6),  # Icelandic
    2100: (19.6, 34.9, 28.3, 41.8),  # Greek
    3035: (-35.6, 24.6, 44.8, 84.7),  # European equal area, in which atlases keep their squares
    2039: (34.2, 29.4, 35.7, 33.3),  # Israeli
    3414: (103.6, 1.1, 104.1, 1.5),  # Singapore
    2326: (113.8, 22.1, 114.5, 22.6),  # Hong Kong
    2193: (166.4, -47.3, 178.6, -34.1),  # New Zealand TM 2000
    27200: (166.4, -47.3, 178.6, -34.1),  # New Zealand map grid
    3857: (-180.0, -85.0, 180.0, 85.0),  # web maps
}
_MGA = range(48, 59)  # zones of Australia's map grid of 1994; that of 2020 lies 1.8 m off
_WHOLE_NUMBERS = (10**5, 10**6, 10**7)  # degrees as devices store them


class PlaneFigures(NamedTuple):
    """East and north of a position on a grid, without their signs, and how many metres one unit of each is.

    `grid` is the grid's EPSG number, or how many units a degree has.
    """

    grid: int
    east: float
    north: float
    east_unit: float
    north_unit: float


@lru_cache(maxsize=4096)
def find_plane_figures(latitude: float, longitude: float) -> tuple[PlaneFigures, ...]:
    """What a position is called on every grid that is in use there."""
    return tuple(_each(Position(latitude, longitude)))


def _each(position: Position) -> Iterator[PlaneFigures]:
    # The Mercator projection of web maps stretches everything by the secant of the latitude.
    stretch = math.cos(math.radians(position.latitude))
    for code in _codes_at(position):
        east, north = _transformer(code).transform(position.longitude, position.latitude)
        if math.isfinite(east) and math.isfinite(north):
            unit = stretch if code == 3857 else 1.0
            yield PlaneFigures(code, abs(east), abs(north), unit, unit)
    metres = 111_320.0
    for many in _WHOLE_NUMBERS:
        east, north = abs(position.longitude) * many, abs(position.latitude) * many
        yield PlaneFigures(many, east, north, metres * max(stretch, 0.01) / many, metres / many)


def _codes_at(position: Position) -> Iterator[int]:
    latitude, longitude = position.latitude, position.longitude
    for code, (west, south, east, north) in _GRIDS.items():
        if west <= longitude <= east and south <= latitude <= north:
            yield code
    if not -80.5 <= latitude <= 84.5:
        return
    # Near the edge of a zone people keep to the neighbour's.
    for place in (longitude - 1.5, longitude, longitude + 1.5):
        zone = int((place + 180) // 6) % 60 + 1
        if place == longitude or zone != int((longitude + 180) // 6) % 60 + 1:
            yield (32600 if latitude >= 0 else 32700) + zone
            if latitude < 0 and zone in _MGA:
                yield 28300 + zone


@lru_cache(maxsize=64)
def _transformer(code: int) -> Transformer:
    return Transformer.from_crs(4326, code, always_xy=True)
