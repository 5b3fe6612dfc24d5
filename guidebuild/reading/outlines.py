"""Rings as they were drawn → the outline of a region: whole across the 180th meridian, valid, and with no more corners than can be seen."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import pairwise

from shapely import LinearRing, LineString, MultiPolygon, Polygon, get_num_coordinates, union_all
from shapely.geometry.base import BaseGeometry
from shapely.validation import explain_validity

from guidebuild.guide.region import Area, Line, box_of
from guidebuild.reading.map_files import has_too_few, is_open

MOST_CORNERS = 4000
"""More than any print of a map shows."""
_FINEST = 1 / 4000
"""Of the outline's longer side: what is smaller is not seen at any size that a map is printed in."""


@dataclass(frozen=True, slots=True)
class Trouble:
    """What is wrong with an outline: the code of its finding and the words."""

    code: str
    words: str


@dataclass(frozen=True, slots=True)
class Outline:
    """An outline with what was met on the way to it; without areas where none can be drawn."""

    areas: tuple[Area, ...]
    troubles: tuple[Trouble, ...]


def make_outline(areas: Iterable[Area], file: str) -> Outline:
    """The outline that some rings draw."""
    rings = tuple(tuple(ring for ring in area if ring) for area in areas)
    troubles: list[Trouble] = []
    if any(has_too_few(area) for area in rings):
        return Outline((), (Trouble("map-not-readable", f"{file}: a ring has fewer than three corners."),))
    opened = next((ring for area in rings for ring in area if is_open(ring)), None)
    if opened:
        troubles.append(Trouble("map-open", f"{file}: the outline is open: it begins at {_say(opened[0])} and ends at {_say(opened[-1])}."))
    closed = [tuple((*ring, ring[0]) if is_open(ring) else ring for ring in area) for area in unwrap_rings(rings)]
    if any(LinearRing(ring).is_ccw == bool(number) for area in closed for number, ring in enumerate(area)):
        troubles.append(Trouble("map-inside-out", f"{file}: a ring of the outline runs the wrong way round."))
    polygons = [Polygon(area[0], area[1:]) for area in closed]
    if broken := next((polygon for polygon in polygons if not polygon.is_valid), None):
        reason, _, where = explain_validity(broken).partition("[")
        told = "crosses itself" if "ntersection" in reason else "is not that of an area"
        spot = where.rstrip("]").split()
        at = f" at {_say((float(spot[0]), float(spot[1])))}" if len(spot) > 1 else ""
        return Outline((), (*troubles, Trouble("map-crosses-itself", f"{file}: the outline {told}{at}.")))
    whole = union_all(polygons)
    corners = int(get_num_coordinates(whole))
    if corners > MOST_CORNERS:
        whole = simplify_shape(whole, MOST_CORNERS)
        left = int(get_num_coordinates(whole))
        troubles.append(Trouble("map-simplified", f"{file} has {corners:,} corners; maps are drawn with {left:,} of them."))
    return Outline(tuple(_list_areas(whole)), tuple(troubles))


def _say(spot: tuple[float, float]) -> str:
    return f"{spot[1]:.4f}, {(spot[0] + 180) % 360 - 180:.4f}"


def simplify_shape(shape: BaseGeometry, most: int) -> BaseGeometry:
    """The shape with at most so many corners, if that is possible without losing it."""
    west, south, east, north = shape.bounds
    fine = max(east - west, north - south) * _FINEST
    made = shape
    for _ in range(12):
        made = shape.simplify(fine, preserve_topology=True)
        if isinstance(made, MultiPolygon):
            seen = [part for part in made.geoms if part.area > fine * fine]
            made = MultiPolygon(seen) if seen else made
        if get_num_coordinates(made) <= most:
            break
        fine *= 2
    return made


def _list_areas(shape: BaseGeometry) -> Iterator[Area]:
    parts = shape.geoms if hasattr(shape, "geoms") else (shape,)
    for part in parts:
        if isinstance(part, Polygon) and not part.is_empty:
            # Outer rings against the clock and holes with it (RFC 7946, 3.1.6), each beginning at its own least corner.
            made = part.normalize().reverse() if not LinearRing(part.normalize().exterior.coords).is_ccw else part.normalize()
            yield tuple(tuple((x, y) for x, y in ring.coords) for ring in (made.exterior, *made.interiors))


def unwrap_rings(areas: tuple[Area, ...]) -> tuple[Area, ...]:
    """The same rings whole: one that jumps over the 180th meridian goes on past 180, and so do those that lie beyond it."""
    whole = tuple(tuple(unwrap_line(ring) for ring in area) for area in areas)
    west, _, east, _ = box_of(spot for area in whole for ring in area for spot in ring)
    # Parts that RFC 7946 (3.1.9) has cut apart: those west of the meridian are the eastern ones.
    if east - west <= 180:
        return whole
    moved = tuple(tuple(_moved(ring) if max(x for x, _ in ring) <= 0 else ring for ring in area) for area in whole)
    there_west, _, there_east, _ = box_of(spot for area in moved for ring in area for spot in ring)
    return moved if there_east - there_west < east - west else whole


def unwrap_line(line: Line) -> Line:
    """A line whose longitudes go on past 180 instead of jumping to -180."""
    if all(abs(there[0] - here[0]) <= 180 for here, there in pairwise(line)):
        return line
    return tuple((x + 360 if x < 0 else x, y) for x, y in line)


def _moved(line: Line) -> Line:
    return tuple((x + 360, y) for x, y in line)


def simplify_line(line: Line, fine: float) -> Line:
    """A line with no more corners than can be seen, `fine` in degrees."""
    return tuple((x, y) for x, y in LineString(line).simplify(fine).coords) if len(line) > 2 else line
