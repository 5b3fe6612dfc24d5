"""Names of squares and figures of meeting points on the grids.

The spot is the worked example of the Ordnance Survey's *A guide to coordinate systems in Great Britain* (Caister water tower,
TG 51409 13177), from memory; without the grid of shifts, which is not shipped, a figure may be some metres off.
"""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.square_names import name_square, write_figure
from guidebuild.guide.records import Position
from guidebuild.guide.region import MapGrid

BRITISH = MapGrid(1000, 27700, -92.0)
TOWER = Position(52 + 39 / 60 + 28.8282 / 3600, 1 + 42 / 60 + 57.8663 / 3600)


def test_a_figure_on_the_british_grid_is_right_to_its_ten_metres_or_the_next() -> None:
    letters, east, north = write_figure(BRITISH, TOWER).split()
    assert letters == "TG"
    assert abs(int(east) - 5140) <= 1
    assert abs(int(north) - 1317) <= 1


@pytest.mark.parametrize(
    ("grid", "square", "name"),
    [
        (BRITISH, (651, 313), "TG 51 13"),
        (MapGrid(10_000, 27700), (65, 31), "TG 5 1"),
        (MapGrid(1000, 29903), (316, 234), "O 16 34"),
        (MapGrid(1000, 32630, middle=(-1.2, 51.5)), (562, 5706), "30U 562000 5706000"),
        (MapGrid(1000, 2056), (2600, 1200), "E 2600000 N 1200000"),
        (MapGrid(0.25), (-5, 205), "51.25,-1.25"),
        (MapGrid(0.5, west=89.0), (361, -40), "-20,-179.5"),
    ],
)
def test_a_square_is_called_by_its_south_western_corner(grid: MapGrid, square: tuple[int, int], name: str) -> None:
    assert name_square(grid, square) == name
