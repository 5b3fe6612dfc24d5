"""What squares and spots of a grid are called: by letters and figures where the grid has letters, else by metres or degrees."""

from __future__ import annotations

import math

from guidebuild.guide.projection import project_to_grid, square_corners
from guidebuild.guide.records import Position
from guidebuild.guide.region import MapGrid, Square

_LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ"  # without I
_FIFTHS = "ABCDEFGHIJKLMNPQRSTUVWXYZ"  # without O; from the south-western corner up, column by column
_QUARTERS = ("SW", "NW", "SE", "NE")
_BANDS = "CDEFGHJKLMNPQRSTUVWX"
_BRITISH, _IRISH = 27700, 29903
_HUNDRED_KM = 100_000
_ACROSS_EQUATOR = 10_000_000
"""Metres that northings of UTM are greater by in the south."""


def name_square(grid: MapGrid, square: Square) -> str:
    """A square as people write it: `SU 555 788`, `SU57P` of 2 km, else by its south-west corner: `30U 455500 5178800`, `51.25,-1.5`."""
    size = grid.size
    east, north = square[0] * size, square[1] * size
    if not grid.epsg:
        return f"{north:g},{(east + 180) % 360 - 180:g}"
    letters = _find_letters(grid.epsg, round(east), round(north))
    if letters:
        return _name_lettered(letters, round(east) % _HUNDRED_KM, round(north) % _HUNDRED_KM, size)
    return _write_plain(grid, round(east), round(north), square_corners(grid, square)[0][1] if _is_utm(grid) else 0.0)


def write_figure(grid: MapGrid, position: Position) -> str:
    """A spot to 10 m on the grid of the maps; "" where they have none but degrees."""
    if not grid.epsg:
        return ""
    east, north = map(math.floor, project_to_grid(grid, (position.longitude, position.latitude)))
    letters = _find_letters(grid.epsg, east, north)
    if letters:
        return _write_lettered(letters, east % _HUNDRED_KM, north % _HUNDRED_KM, 10)
    return _write_plain(grid, east, north, position.latitude)


def _name_lettered(letters: str, east: int, north: int, size: float) -> str:
    """A square of a grid with letters, by what stands for its size: figures, letters of fifths and quarters, or else the size itself."""
    if size == _HUNDRED_KM:
        return letters
    if math.log10(size).is_integer():
        return _write_lettered(letters, east, north, round(size))
    for parts in (2, 5):
        whole = round(size * parts)
        if size * parts == whole and whole in (1_000, 10_000):
            column, row = round(east % whole // size), round(north % whole // size)
            part = _QUARTERS[column * 2 + row] if parts == 2 else _FIFTHS[column * 5 + row]
            return _write_lettered(letters, east, north, whole).replace(" ", "") + part
    step = next((10**power for power in (4, 3, 2, 1) if size % 10**power == 0), 1)
    return f"{_write_lettered(letters, east, north, step)} ({f'{size / 1000:g} km' if size >= 1000 else f'{size:g} m'})"


def _write_lettered(letters: str, east: int, north: int, step: int) -> str:
    digits = len(str(_HUNDRED_KM // step)) - 1
    return f"{letters} {east // step:0{digits}d} {north // step:0{digits}d}"


def _is_utm(grid: MapGrid) -> bool:
    return 32600 < grid.epsg < 32800


def _write_plain(grid: MapGrid, east: int, north: int, latitude: float) -> str:
    """Metres, and on UTM the zone with the letter of the band: of the twenty, each is 8° high, and the last 12°."""
    latitude = round(latitude, 9)
    if not _is_utm(grid) or not -80 <= latitude <= 84:
        return f"E {east} N {north}"
    band = _BANDS[min(math.floor((latitude + 80) / 8), len(_BANDS) - 1)]
    if (band < "N") != (grid.epsg > 32700):  # a region on both sides of the equator, on the grid of one of them
        north += _ACROSS_EQUATOR if band < "N" else -_ACROSS_EQUATOR
    return f"{grid.epsg % 100}{band} {east} {north}"


def _find_letters(epsg: int, east: int, north: int) -> str:
    """The letters of a square of 100 km on the British or the Irish grid; "" elsewhere, and beyond their letters."""
    across, up = east // _HUNDRED_KM, north // _HUNDRED_KM
    if epsg == _BRITISH and -10 <= across < 15 and -5 <= up < 20:
        across, up = across + 10, up + 5
        return _LETTERS[(4 - up // 5) * 5 + across // 5] + _LETTERS[(4 - up % 5) * 5 + across % 5]
    if epsg == _IRISH and 0 <= across < 5 and 0 <= up < 5:
        return _LETTERS[(4 - up) * 5 + across]
    return ""
