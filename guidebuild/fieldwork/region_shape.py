"""The region's outline as a shape: what lies in it, how far off it is, and how much of it a square holds."""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache

from shapely import LineString, MultiPolygon, Point, Polygon, prepare
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points, substring

from guidebuild.guide.distances import METRES
from guidebuild.guide.projection import measure_along
from guidebuild.guide.records import Position
from guidebuild.guide.region import Line, LonLat, Region


@lru_cache(maxsize=4)
def make_shape(region: Region) -> BaseGeometry:
    """The outline."""
    shape = MultiPolygon([(area[0], area[1:]) for area in region.outline])
    prepare(shape)
    return shape


def place_spot(region: Region, position: Position) -> LonLat:
    """A position with its longitude as the region counts it."""
    return ((position.longitude - region.grid.west) % 360 + region.grid.west, position.latitude)


def measure_off(region: Region, spot: LonLat) -> float:
    """Metres from a spot to the outline; 0 inside."""
    shape, point = make_shape(region), Point(spot)
    if shape.covers(point):
        return 0.0
    near, _ = nearest_points(shape, point)
    return measure_along(((near.x, near.y), spot))


def measure_held(region: Region, corners: Line) -> float:
    """How much of a square the outline holds, from 0 to 1."""
    square = Polygon(corners)
    return float(make_shape(region).intersection(square).area / square.area) if square.area else 0.0


def is_held_by(region: Region, corners: Line) -> bool:
    """Whether a square holds the whole outline."""
    return bool(Polygon(corners).covers(make_shape(region)))


def measure_beside(line: Sequence[LonLat], spot: LonLat) -> float:
    """Metres from a spot to the nearest point of a line."""
    return float(_flatten(line, spot).distance(Point(0, 0)))


def find_beside(line: Sequence[LonLat], spot: LonLat) -> LonLat:
    """The point of a line that is nearest to a spot, be it between two of its corners."""
    near, _ = nearest_points(_flatten(line, spot), Point(0, 0))
    return spot[0] + near.x / _squeeze(spot) / METRES, spot[1] + near.y / METRES


def _flatten(line: Sequence[LonLat], spot: LonLat) -> BaseGeometry:
    """A line in metres east and north of a spot."""
    squeeze = _squeeze(spot)
    flat = [(((east - spot[0] + 180) % 360 - 180) * squeeze * METRES, (north - spot[1]) * METRES) for east, north in line]
    return LineString(flat) if len(flat) > 1 else Point(flat[0])


def _squeeze(spot: LonLat) -> float:
    return math.cos(math.radians(spot[1]))


def cut_line(line: Line, start: LonLat, end: LonLat) -> Line:
    """The part of a line between the points of it that are nearest to two spots."""
    whole = LineString(line)
    part = substring(whole, *sorted((whole.project(Point(start)), whole.project(Point(end)))))
    return tuple((x, y) for x, y in part.coords)
