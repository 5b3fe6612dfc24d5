"""The paper that a guide's maps are drawn on: the outline, its lines and how degrees become units of the drawing."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from shapely import LineString, MultiLineString, MultiPolygon, Polygon, box, get_num_coordinates
from shapely.geometry.base import BaseGeometry

from guidebuild.guide.projection import measure_along, project_line, square_corners, unproject_line
from guidebuild.guide.region import Line, LonLat, Region, Square

LONGEST = 320
"""Units along the longer side."""
_MARGIN = 8
_MOST_CORNERS = 400
"""Corners that an outline is drawn with: a kilobyte, packed."""
_FINEST = 0.4
"""Units that are not seen at any size of these maps."""
_HATCH = 7
Spot = tuple[float, float]
"""Units from the left and from the top."""


@dataclass(frozen=True)
class MapFrame:
    """The outline as it is drawn. `left` and `top` are metres on the map's plane, `unit` the metres of one unit of the drawing."""

    region: Region
    left: float
    top: float
    unit: float
    width: int
    height: int
    land: str
    lines: str
    shape: BaseGeometry

    def place(self, spots: Sequence[LonLat]) -> list[Spot]:
        """Where spots, given in degrees, stand in the drawing."""
        west = self.region.grid.west
        whole = [((east - west) % 360 + west, north) for east, north in spots]
        return [((x - self.left) / self.unit, (self.top - y) / self.unit) for x, y in project_line(self.region.grid, whole)]

    def draw_squares(self, squares: Iterable[Square]) -> list[tuple[Spot, ...]]:
        """The corners of squares."""
        grid, size = self.region.grid, self.region.grid.size
        if not grid.epsg:
            return [tuple(self.place(square_corners(grid, square))) for square in squares]
        return [
            tuple(
                (((column + x) * size - self.left) / self.unit, (self.top - (row + y) * size) / self.unit)
                for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))
            )
            for column, row in squares
        ]

    @property
    def metres(self) -> float:
        """How many metres on the ground a unit is, in the middle of the drawing."""
        x, y = self.left + self.width / 2 * self.unit, self.top - self.height / 2 * self.unit
        ends = unproject_line(self.region.grid, [(x, y), (x + 10 * self.unit, y)])
        return measure_along(tuple(ends)) / 10

    @property
    def north(self) -> float:
        """How many degrees clockwise from the top the north lies, in the middle of the drawing."""
        east, north = self.region.grid.middle
        (x, y), (there_x, there_y) = self.place([(east, north), (east, north + 0.01)])
        return math.degrees(math.atan2(there_x - x, y - there_y))

    @property
    def told(self) -> str:
        """What is needed to find out where a spot of the drawing is: for the last look before publishing."""
        grid = self.region.grid
        return f"{grid.size:g} {grid.epsg} {grid.west:g} {grid.middle[0]!r} {grid.middle[1]!r} {self.left!r} {self.top!r} {self.unit!r}"

    def hatch(self, corners: Sequence[Spot]) -> str:
        """Lines across the part of the land that an area covers, and the area's border as far as it lies in the drawing."""
        area = Polygon(corners)
        inside = area.intersection(self.shape)
        reach = self.width + self.height
        slant = MultiLineString([[(at, 0), (at - self.height, self.height)] for at in range(0, reach, _HATCH)])
        border = LineString([*corners, corners[0]]).intersection(box(0, 0, self.width, self.height))
        return write_lines(list_lines(slant.intersection(inside))) + write_lines(list_lines(border))


@lru_cache(maxsize=4)
def make_frame(region: Region) -> MapFrame:
    """The frame of a region, made once for all its maps."""
    grid = region.grid
    areas = [[project_line(grid, ring) for ring in area] for area in region.outline]
    shape: BaseGeometry = MultiPolygon([(area[0], area[1:]) for area in areas])
    west, south, east, north = shape.bounds
    unit = max(east - west, north - south) / LONGEST
    if grid.epsg and grid.size > unit:
        unit = grid.size / max(1, round(grid.size / unit))  # squares begin and end on whole units
        west, north = math.floor(west / grid.size) * grid.size, math.ceil(north / grid.size) * grid.size
    left, top = west - _MARGIN * unit, north + _MARGIN * unit
    width, height = math.ceil((east - left) / unit) + _MARGIN, math.ceil((top - south) / unit) + _MARGIN
    drawn = _simplify(_scale(shape, left, top, unit))
    lines = [_to_units(project_line(grid, line), left, top, unit) for line in region.lines]
    page = box(0, 0, width, height)
    cut = [part for line in lines for part in list_lines(LineString(line).simplify(_FINEST).intersection(page))]
    return MapFrame(region, left, top, unit, width, height, _write_areas(drawn), write_lines(cut), drawn)


def lay_land(frame: MapFrame, region: Region) -> MapFrame:
    """The frame of a part of a region, with as much of the region's outline as lies in it."""
    areas = [[frame.place(ring) for ring in area] for area in region.outline]
    page = box(-2, -2, frame.width + 2, frame.height + 2)
    shape = _simplify(MultiPolygon([(area[0], area[1:]) for area in areas])).buffer(0).intersection(page)
    return replace(frame, land=_write_areas(shape), shape=shape)


def _to_units(line: Sequence[Spot], left: float, top: float, unit: float) -> list[Spot]:
    return [((x - left) / unit, (top - y) / unit) for x, y in line]


def _scale(shape: BaseGeometry, left: float, top: float, unit: float) -> BaseGeometry:
    parts = [[_to_units(list(ring.coords), left, top, unit) for ring in (part.exterior, *part.interiors)] for part in shape.geoms]
    return MultiPolygon([(rings[0], rings[1:]) for rings in parts])


def _simplify(shape: BaseGeometry) -> BaseGeometry:
    fine = _FINEST
    made = shape.simplify(fine)
    while get_num_coordinates(made) > _MOST_CORNERS and fine < LONGEST / 10:
        fine *= 1.5
        made = shape.simplify(fine)
    return made if not made.is_empty else shape


def _write_areas(shape: BaseGeometry) -> str:
    parts = [part for part in getattr(shape, "geoms", (shape,)) if isinstance(part, Polygon) and not part.is_empty]
    return "".join(write_line(list(ring.coords)[:-1]) + "z" for part in parts for ring in (part.exterior, *part.interiors))


def list_lines(shape: BaseGeometry) -> list[list[Spot]]:
    """The lines of a shape, whatever else it holds."""
    if isinstance(shape, LineString):
        return [] if shape.is_empty else [list(shape.coords)]
    return [line for part in getattr(shape, "geoms", ()) for line in list_lines(part)]


def write_lines(lines: Iterable[Sequence[Spot]]) -> str:
    """Lines as the path of a drawing."""
    return "".join(map(write_line, lines))


def write_line(line: Sequence[Spot]) -> str:
    """One line: every corner by where it stands, so that a reader of the file can tell it."""
    return "M" + "L".join(f"{round(x, 1):g} {round(y, 1):g}" for x, y in line)


def project_track(frame: MapFrame, lines: Iterable[Line]) -> str:
    """A way as a path."""
    return write_lines(list(LineString(frame.place(line)).simplify(_FINEST).coords) for line in lines if len(line) > 1)
