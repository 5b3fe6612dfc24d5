"""Generalising places against Chapman (2020), Chapman & Wieczorek (2020) and the geodesy library pyproj."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pyproj import Geod

from guidebuild.fieldwork.secrecy import public_position, step_metres
from guidebuild.guide.records import Position

# Chapman & Wieczorek (2020), Georeferencing Best Practices, table of uncertainty by precision, in metres at 0, 30, 60 and 85°.
# The printed 146,962 of 1° at 30° is not above the formula's 146,962.13, so a metre either way is allowed.
UNCERTAINTY = {
    1.0: (156_904, 146_962, 124_605, 112_109),
    0.1: (15_691, 14_697, 12_461, 11_211),
    0.01: (1_570, 1_470, 1_246, 1_121),
    0.001: (157, 147, 125, 112),
    0.0001: (16, 15, 13, 12),
}


@pytest.mark.parametrize(("step", "metres"), UNCERTAINTY.items())
def test_uncertainty_by_precision(step: float, metres: tuple[int, ...]) -> None:
    assert [math.ceil(step_metres(latitude, step)) for latitude in (0, 30, 60, 85)] == pytest.approx(metres, abs=1)


def test_a_cell_is_measured_on_the_ellipsoid_of_pyproj() -> None:
    """The diagonal of a cell so small that the bend of the Earth within it does not count."""
    for latitude in (0.0, 30.0, 51.3, 60.0, 85.0):
        _, _, metres = Geod(ellps="WGS84").inv(0.0, latitude - 5e-5, 1e-4, latitude + 5e-5)
        assert step_metres(latitude, 1e-4) == pytest.approx(metres, rel=2e-9, abs=0)


@pytest.mark.parametrize(("latitude", "band"), [(0.04, 0), (29.94, 0), (30.0, 1), (59.94, 1), (60.0, 2), (84.94, 2), (85.0, 3), (89.0, 3)])
@pytest.mark.parametrize("hemisphere", [1, -1])
def test_the_uncertainty_that_is_told_is_that_of_the_band_nearer_to_the_equator(latitude: float, band: int, hemisphere: int) -> None:
    for category, step in ((2, 0.1), (3, 0.01), (4, 0.001)):
        found = public_position(Position(hemisphere * latitude, 20.0), category)
        assert found is not None
        assert found.uncertainty == math.ceil(step_metres((0, 30, 60, 85)[band], step)) == pytest.approx(UNCERTAINTY[step][band], abs=1)


def test_worked_example_of_the_same_text() -> None:
    """10.27, −123.6 given to 0.01°: 1.5568 km."""
    assert step_metres(10.27, 0.01) / 1000 == pytest.approx(1.5568, abs=0.00005)


# Chapman (2020), tables 6 and 7: extreme gives none, high 0.1°, medium 0.01°, low 0.001°, by rounding.
CATEGORIES = {1: None, 2: (51.1, -1.3), 3: (51.1, -1.31), 4: (51.103, -1.312), 0: (51.10349, -1.31211)}


@pytest.mark.parametrize(("category", "degrees"), CATEGORIES.items())
def test_categories_round_by_their_step(category: int, degrees: tuple[float, float] | None) -> None:
    found = public_position(Position(51.10349, -1.31211, 30), category)
    assert (found and (found.latitude, found.longitude)) == degrees


def test_rounding_goes_to_the_nearest_not_down() -> None:
    """The published practice is to round; cutting digits off would shift every place towards the equator."""
    found = public_position(Position(51.0962, -1.3189, 30), 3)
    assert found is not None
    assert (found.latitude, found.longitude) == (51.1, -1.32)


@given(st.floats(-85, 85), st.floats(-179, 179), st.integers(2, 4))
@settings(max_examples=150, deadline=None)
def test_the_published_circle_holds_the_true_place(latitude: float, longitude: float, category: int) -> None:
    found = public_position(Position(latitude, longitude, 25), category)
    assert found is not None
    assert found.uncertainty is not None
    _, _, metres = Geod(ellps="WGS84").inv(longitude, latitude, found.longitude, found.latitude)
    assert metres + 25 <= found.uncertainty
