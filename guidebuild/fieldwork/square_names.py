"""What squares and spots of a grid are called: by letters and figures where the grid has letters, else by metres or degrees."""

from __future__ import annotations

from guidebuild.guide.projection import project_to_grid
from guidebuild.guide.records import Position
from guidebuild.guide.region import MapGrid, Square

_LETTERS = "ABCDEFGHJKLMNOPQRSTUVWXYZ"  # without I
_BANDS = "CDEFGHJKLMNPQRSTUVWX"
_BRITISH, _IRISH = 27700, 29903
_HUNDRED_KM = 100_000


def name_square(grid: MapGrid, square: Square) -> str:
    """A square by its south-west corner, as exactly as it is large: `SU 555 788`, `30U 455500 5178800`, `51.25,-1.5`."""
    east, north = square[0] * grid.size, square[1] * grid.size
    if not grid.epsg:
        return f"{north:g},{(east + 180) % 360 - 180:g}"
    digits = next((digits for digits in range(1, 6) if 10.0 ** (5 - digits) <= grid.size), 5)
    return _write_figure(grid, round(east), round(north), digits)


def write_figure(grid: MapGrid, position: Position) -> str:
    """A spot to 10 m on the grid of the maps; "" where they have none but degrees."""
    if not grid.epsg:
        return ""
    east, north = project_to_grid(grid, (position.longitude, position.latitude))
    return _write_figure(grid, int(east), int(north), 4, position.latitude)


def _write_figure(grid: MapGrid, east: int, north: int, digits: int, latitude: float | None = None) -> str:
    letters = _find_letters(grid.epsg, east, north)
    if letters:
        step = 10 ** (5 - digits)
        return f"{letters} {east % _HUNDRED_KM // step:0{digits}d} {north % _HUNDRED_KM // step:0{digits}d}"
    if 32600 < grid.epsg < 32800:
        band = _BANDS[min(max(int((grid.middle[1] if latitude is None else latitude) + 80) // 8, 0), len(_BANDS) - 1)]
        return f"{grid.epsg % 100}{band} {east} {north}"
    return f"E {east} N {north}"


def _find_letters(epsg: int, east: int, north: int) -> str:
    """The letters of a square of 100 km on the British or the Irish grid; "" elsewhere, and beyond their letters."""
    across, up = east // _HUNDRED_KM, north // _HUNDRED_KM
    if epsg == _BRITISH and -10 <= across < 15 and -5 <= up < 20:
        across, up = across + 10, up + 5
        return _LETTERS[(4 - up // 5) * 5 + across // 5] + _LETTERS[(4 - up % 5) * 5 + across % 5]
    if epsg == _IRISH and 0 <= across < 5 and 0 <= up < 5:
        return _LETTERS[(4 - up) * 5 + across]
    return ""
