"""Degrees → a map's plane and the squares of its grid, and back. The projections are those of the EPSG register, through pyproj."""

from __future__ import annotations

from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray
from pyproj import CRS, Geod, Transformer

from guidebuild.guide.region import Line, LonLat, MapGrid, PackedSquare, Square

_GEOD = Geod(ellps="WGS84")


def measure_along(line: Line) -> float:
    """Metres along a line on the ellipsoid of WGS 84, each stretch the shortest way (Karney 2013, through pyproj)."""
    return sum(_GEOD.line_lengths(*_halves(line))) if len(line) > 1 else 0.0


def _halves(line: Sequence[LonLat]) -> tuple[list[float], list[float]]:
    return [east for east, _ in line], [north for _, north in line]


@lru_cache(maxsize=16)
def _transformer(grid: MapGrid, *, back: bool = False) -> Transformer:
    """From degrees to metres on a plane, or back."""
    east, north = grid.middle
    plane = grid.epsg or CRS.from_proj4(f"+proj=eqc +lat_ts={north} +lon_0={east} +datum=WGS84")
    return Transformer.from_crs(plane, 4326, always_xy=True) if back else Transformer.from_crs(4326, plane, always_xy=True)


def project_line(grid: MapGrid, line: Sequence[LonLat]) -> list[tuple[float, float]]:
    """Metres east and north on the map's plane."""
    if not line:
        return []
    easts, norths = _transformer(grid).transform(*_halves(line))
    return list(zip(easts, norths, strict=True))


def unproject_line(grid: MapGrid, line: Sequence[tuple[float, float]]) -> list[LonLat]:
    """Degrees east and north of spots on the map's plane."""
    easts, norths = _transformer(grid, back=True).transform(*_halves(line))
    return list(zip(easts, norths, strict=True))


_BITS, _HALF = 32, 2**31


Floats = NDArray[np.float64]
Packed = NDArray[np.int64]


def pack_squares(grid: MapGrid, norths: Sequence[float], easts: Sequence[float]) -> list[PackedSquare]:
    """The square of each spot, given as degrees north and east, packed."""
    packed: list[PackedSquare] = pack_array(grid, np.array(easts, dtype=float), np.array(norths, dtype=float)).tolist()
    return packed


def pack_array(grid: MapGrid, x: Floats, y: Floats) -> Packed:
    """The same of degrees east and degrees north in arrays."""
    if grid.epsg:
        x, y = project_array(grid, x, y)
        if not (np.isfinite(x).all() and np.isfinite(y).all()):  # beyond the projection
            x, y = np.nan_to_num(x, posinf=0, neginf=0), np.nan_to_num(y, posinf=0, neginf=0)
    else:
        x = (x - grid.west) % 360 + grid.west
    return pack_columns(np.floor(x / grid.size), np.floor(y / grid.size))


def pack_columns(columns: Floats, rows: Floats) -> Packed:
    """Columns and rows of squares as one number each."""
    packed: Packed = (columns.astype(np.int64) << _BITS) + rows.astype(np.int64) + _HALF
    return packed


def project_array(grid: MapGrid, x: Floats, y: Floats) -> tuple[Floats, Floats]:
    """Degrees east and north as metres on the map's plane."""
    east, north = _transformer(grid).transform(x, y)
    return east, north


def unpack_square(packed: PackedSquare) -> Square:
    """The column and row of a square."""
    return packed >> _BITS, (packed & (2**_BITS - 1)) - _HALF


def find_square(grid: MapGrid, spot: LonLat) -> Square:
    """The square that a spot lies in."""
    return unpack_square(pack_squares(grid, [spot[1]], [spot[0]])[0])


def square_corners(grid: MapGrid, square: Square) -> Line:
    """The four corners of a square in degrees, from the south-west one round by the east."""
    size = grid.size
    plain = [((square[0] + x) * size, (square[1] + y) * size) for x, y in ((0, 0), (1, 0), (1, 1), (0, 1))]
    if not grid.epsg:
        return tuple(plain)
    easts, norths = _transformer(grid, back=True).transform(*_halves(plain))
    return tuple(zip(easts, norths, strict=True))


def square_middle(grid: MapGrid, square: Square) -> LonLat:
    """The middle of a square in degrees."""
    east, north = (square[0] + 0.5) * grid.size, (square[1] + 0.5) * grid.size
    if not grid.epsg:
        return east, north
    x, y = _transformer(grid, back=True).transform(east, north)
    return float(x), float(y)


def project_to_grid(grid: MapGrid, spot: LonLat) -> tuple[float, float]:
    """East and north of a spot on the grid, in metres."""
    x, y = _transformer(grid).transform(*spot)
    return float(x), float(y)
