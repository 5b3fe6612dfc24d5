"""Names of squares and figures of meeting points on the grids.

The spot is the worked example of the Ordnance Survey's *A guide to coordinate systems in Great Britain* (Caister water tower,
TG 51409 13177), from memory; without the grid of shifts, which is not shipped, a figure may be some metres off.

Squares of 100, 10 and 1 km and of 100 m: the Field Studies Council's *Grid References for Biological Recording* (SO, SO49, SO4492,
SO441929 of one spot) and the Northern Irish example H6727 of the Bat Conservation Trust's tutorial on 1 km grid references. Squares of
2 km, 200 m and 5 km: help on grid references of the Kent and Medway Biological Records Centre, pages 2 and 6 (TQ75G is the four squares
TQ7252, TQ7253, TQ7352 and TQ7353; TR6437B is one of 200 m in TR6437), and the tables of `gridRef` in the R package rnbn (S. Ball, JNCC):
letters of fifths from A in the south-west, and NW, NE, SW and SE of 5 km.
Bands and zones of UTM: the table of rows in PCI Geomatics' help (*UTM grid zones*), the zones of Norway and Svalbard as in DMA TM 8358.1,
3-2, told in the issue SIS-353 of Apache SIS.
"""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.square_names import name_square, write_figure
from guidebuild.guide.projection import find_square
from guidebuild.guide.records import Position
from guidebuild.guide.region import MapGrid
from guidebuild.reading.map_squares import SquareSize, choose_grid

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
        (MapGrid(100_000, 27700), (3, 2), "SO"),
        (MapGrid(10_000, 27700), (34, 29), "SO 4 9"),
        (MapGrid(1000, 27700), (344, 292), "SO 44 92"),
        (MapGrid(100, 27700), (3441, 2929), "SO 441 929"),
        (MapGrid(1000, 29903), (267, 327), "H 67 27"),
        (MapGrid(100_000, 29903), (2, 3), "H"),
        (MapGrid(2000, 27700), (572 // 2, 152 // 2), "TQ75G"),
        (MapGrid(2000, 27700), (570 // 2, 150 // 2), "TQ75A"),
        (MapGrid(2000, 27700), (570 // 2, 158 // 2), "TQ75E"),
        (MapGrid(2000, 27700), (574 // 2, 156 // 2), "TQ75N"),
        (MapGrid(2000, 27700), (574 // 2, 158 // 2), "TQ75P"),
        (MapGrid(2000, 27700), (578 // 2, 158 // 2), "TQ75Z"),
        (MapGrid(200, 27700), (6640 // 2, 1372 // 2), "TR6437B"),
        (MapGrid(5000, 27700), (57 * 2, 15 * 2), "TQ75SW"),
        (MapGrid(5000, 27700), (57 * 2, 15 * 2 + 1), "TQ75NW"),
        (MapGrid(5000, 27700), (57 * 2 + 1, 15 * 2), "TQ75SE"),
        (MapGrid(5000, 27700), (57 * 2 + 1, 15 * 2 + 1), "TQ75NE"),
        # No letters stand for these sizes: the corner, and the size itself (common practice, no source).
        (MapGrid(20_000, 27700), (28, 7), "TQ 6 4 (20 km)"),
        (MapGrid(250, 27700), (2289, 610), "TQ 7225 5250 (250 m)"),
        (MapGrid(1000, 32630, middle=(-1.2, 51.5)), (562, 5706), "30U 562000 5706000"),
        (MapGrid(1000, 2056), (2600, 1200), "E 2600000 N 1200000"),
        (MapGrid(0.25), (-5, 205), "51.25,-1.25"),
        (MapGrid(0.5, west=89.0), (361, -40), "-20,-179.5"),
    ],
)
def test_a_square_is_called_by_its_south_western_corner(grid: MapGrid, square: tuple[int, int], name: str) -> None:
    assert name_square(grid, square) == name


UTM_ROWS = {
    "C": (-80, -72), "D": (-72, -64), "E": (-64, -56), "F": (-56, -48), "G": (-48, -40), "H": (-40, -32), "J": (-32, -24), "K": (-24, -16),
    "L": (-16, -8), "M": (-8, 0), "N": (0, 8), "P": (8, 16), "Q": (16, 24), "R": (24, 32), "S": (32, 40), "T": (40, 48), "U": (48, 56),
    "V": (56, 64), "W": (64, 72), "X": (72, 84),
}  # fmt: skip


@pytest.mark.parametrize("letter", list(UTM_ROWS))
def test_the_band_of_a_spot_and_of_a_square_is_its_own(letter: str) -> None:
    south, north = UTM_ROWS[letter]
    # A grid whose region has its middle elsewhere: it is the spot that counts.
    grid = MapGrid(1000, 32630 if north > 0 else 32730, middle=(-3.0, 20.0 if north > 0 else -20.0))
    for latitude in (south + 0.01, (south + north) / 2, north - 0.02):
        spot = Position(latitude, -3.0)
        assert write_figure(grid, spot).startswith(f"30{letter} ")
        assert name_square(grid, find_square(grid, (-3.0, latitude))).startswith(f"30{letter} ")


def test_on_both_sides_of_the_equator_northings_are_those_of_their_side() -> None:
    # By definition: 0 m north of the equator, 10,000,000 m south of it.
    for code in (32736, 32636):
        grid = MapGrid(1000, code, middle=(33.0, 0.0))
        assert write_figure(grid, Position(0.001, 33.00001)).startswith("36N 500001 110")
        assert write_figure(grid, Position(-0.001, 33.00001)).startswith("36M 500001 9999889")
        assert name_square(grid, find_square(grid, (33.00001, -0.001))) == "36M 500000 9999000"
        assert name_square(grid, find_square(grid, (33.00001, 0.001))) == "36N 500000 0"


def test_where_utm_ends_no_band_is_made_up() -> None:
    assert write_figure(MapGrid(1000, 32633, middle=(15.0, 80.0)), Position(84.5, 15.0)).startswith("E ")


@pytest.mark.parametrize(
    ("east", "north", "zone"),
    [
        (5.3, 60.4, 32), (2.9, 60.4, 31), (5.3, 55.9, 31), (5.3, 64.1, 31), (11.9, 60.0, 32), (12.1, 60.0, 33),
        (8.0, 73.0, 31), (10.0, 73.0, 33), (15.6, 78.2, 33), (20.5, 79.0, 33), (22.0, 79.0, 35), (33.5, 79.0, 37), (43.0, 79.0, 38),
        (-1.2, 51.5, 30), (151.2, -33.9, 56), (180.5, -16.5, 1),
    ],
)  # fmt: skip
def test_the_zone_of_a_region_knows_norway_and_svalbard(east: float, north: float, zone: int) -> None:
    ring = ((east - 0.05, north - 0.05), (east + 0.05, north - 0.05), (east + 0.05, north + 0.05), (east - 0.05, north + 0.05))
    grid = choose_grid((((*ring, ring[0]),),), "", SquareSize(1000, False))
    assert grid.epsg == (32600 if north > 0 else 32700) + zone
