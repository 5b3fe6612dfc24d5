"""Where each national grid is looked for: as the EPSG register says, which comes with pyproj."""

from __future__ import annotations

import math

import pytest
from pyproj import CRS
from pyproj.aoi import AreaOfInterest
from pyproj.database import query_utm_crs_info

from guidebuild.fieldwork.plane_grids import find_plane_figures

IN_USE = (
    *(27700, 29903, 2157, 3109, 28992, 31370, 3812, 2169, 21781, 2056, 2154, 27572, 3763, 31466, 31467, 31468, 4647, 5650, 31287, 31254),
    *(31255, 31256, 3003, 3004, 2180, 2176, 2177, 2178, 2179, 5514, 23700, 3844, 3794, 3765, 3301, 3059, 3346, 3067, 3006, 3057, 2100),
    *(3035, 2039, 3414, 2326, 2193, 27200),
)
WHOLE_COUNTRY = {2393: 3067, 3021: 3006}
"""Older grids that the register gives one zone each, and whose country used that zone everywhere: the grid that has its corners."""
A_LITTLE = 0.06
"""Degrees; the corners are rounded to a tenth."""


def grids_at(latitude: float, longitude: float) -> set[int]:
    return {figures.grid for figures in find_plane_figures(latitude, longitude)}


@pytest.mark.parametrize("grid", [*IN_USE, *WHOLE_COUNTRY])
def test_a_grid_is_looked_for_where_the_register_says_that_it_is_used(grid: int) -> None:
    area = CRS.from_epsg(WHOLE_COUNTRY.get(grid, grid)).area_of_use
    assert area is not None
    west, south, east, north = area.bounds
    middle, centre = (south + north) / 2, (west + east) / 2
    for step, is_used in ((A_LITTLE, True), (-A_LITTLE, False)):
        assert (grid in grids_at(middle, west + step)) is is_used
        assert (grid in grids_at(middle, east - step)) is is_used
        assert (grid in grids_at(south + step, centre)) is is_used
        assert (grid in grids_at(north - step, centre)) is is_used


def test_web_maps_have_every_place_but_the_poles() -> None:
    for latitude, longitude in ((84.9, 0.0), (-84.9, 0.0), (10.0, 179.9), (10.0, -179.9)):
        assert 3857 in grids_at(latitude, longitude)
    for latitude in (85.1, -85.1):
        assert 3857 not in grids_at(latitude, 0.0)


@pytest.mark.parametrize("latitude", [51.3, 1.2, -33.4, -79.0, 83.0])
@pytest.mark.parametrize("longitude", [-179.0, -90.1, -3.2, 3.1, 9.0, 123.1, 146.9, 176.9])
def test_the_zone_of_utm_is_that_of_the_register(latitude: float, longitude: float) -> None:
    """One that is near enough for people to keep to its neighbour has both."""
    zones = query_utm_crs_info(
        datum_name="WGS 84", area_of_interest=AreaOfInterest(longitude, latitude, longitude, latitude), contains=True
    )
    asked = {int(zone.code) for zone in zones} & set(range(32600, 32800))
    found = {grid for grid in grids_at(latitude, longitude) if 32600 <= grid < 32800}
    assert len(asked) == 1
    assert asked <= found
    into = (longitude + 180) % 6
    assert len(found) == 1 + (into < 1.5 or into > 4.5)


@pytest.mark.parametrize(
    ("longitude", "zones"), [(1.4, {30, 31}), (1.6, {31}), (4.4, {31}), (4.6, {31, 32}), (179.0, {60, 1}), (-179.0, {1, 60})]
)
def test_near_the_edge_of_a_zone_the_neighbour_s_figures_are_looked_for_too(longitude: float, zones: set[int]) -> None:
    assert {grid - 32600 for grid in grids_at(50.0, longitude) if 32600 < grid < 32700} == zones
    assert {grid - 32700 for grid in grids_at(-50.0, longitude) if 32700 < grid < 32800} == zones


def test_there_is_no_utm_at_the_poles() -> None:
    for latitude, has_utm in ((84.4, True), (84.6, False), (-80.4, True), (-80.6, False)):
        assert any(32600 < grid < 32800 for grid in grids_at(latitude, 20.0)) is has_utm


def test_australia_has_a_grid_of_its_own_in_its_zones() -> None:
    """GDA94 / MGA zones 48 to 58 (EPSG 28348 to 28358)."""
    for zone in range(46, 61):
        own = [grid for grid in grids_at(-30.0, zone * 6 - 183.0) if 28300 < grid < 28400]
        assert own == ([28300 + zone] if 48 <= zone <= 58 else [])
    assert not any(28300 < grid < 28400 for grid in grids_at(30.0, 129.0))


def test_figures_are_those_of_the_projection_without_their_signs() -> None:
    """Easting 500,000 m on the middle of a zone, northing 0 at the equator, 10,000,000 m there from the south (UTM's definition)."""
    for latitude, grid, north in ((1e-9, 32631, 0), (-1e-9, 32731, 10_000_000)):
        (utm,) = [figures for figures in find_plane_figures(latitude, 3.0) if figures.grid == grid]
        assert (utm.east, utm.north) == (pytest.approx(500_000, abs=0.01), pytest.approx(north, abs=0.01))
        assert utm.east_unit == utm.north_unit == 1
    (web,) = [figures for figures in find_plane_figures(60.0, -2.0) if figures.grid == 3857]
    assert web.east == pytest.approx(math.radians(2) * 6_378_137)  # spherical Mercator, on the longer axis of WGS 84
    assert web.east_unit == web.north_unit == pytest.approx(0.5)  # at 60° it stretches everything twofold


def test_degrees_are_looked_for_as_whole_numbers() -> None:
    for many in (10**5, 10**6, 10**7):
        (whole,) = [figures for figures in find_plane_figures(-60.0, -2.5) if figures.grid == many]
        assert (whole.east, whole.north) == (2.5 * many, 60.0 * many)
        assert whole.north_unit * many == pytest.approx(111_320)
        assert whole.east_unit * many == pytest.approx(111_320 / 2)
    assert {10**5, 10**6, 10**7} == {grid for grid in grids_at(89.9, 0.0) if grid % 10 == 0 and grid >= 10**5}
    (pole,) = [figures for figures in find_plane_figures(90.0, 0.0) if figures.grid == 10**5]
    assert pole.east_unit * 10**5 == pytest.approx(1_113.2)
