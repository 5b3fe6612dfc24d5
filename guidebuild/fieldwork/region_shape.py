"""The region's outline as a shape: what lies in it, how far off it is, and how much of it a square holds."""

from __future__ import annotations

from functools import lru_cache

from shapely import MultiPolygon, Point, Polygon, prepare
from shapely.geometry.base import BaseGeometry
from shapely.ops import nearest_points

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


def holds_spot(region: Region, spot: LonLat) -> bool:
    """Whether a spot lies inside the outline or on it."""
    return bool(make_shape(region).covers(Point(spot)))


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
