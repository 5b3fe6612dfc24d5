"""Positions on other datums against published shifts."""

from __future__ import annotations

import pytest

from guidebuild.guide.problem import Unreadable
from guidebuild.reading.datums import convert_position

# From memory: Meades Ranch, the origin of NAD27, 39°13'26.686"N 98°32'30.506"W there and 39°13'26.712"N 98°32'31.745"W on NAD83;
# the meridian of Greenwich on OSGB36 runs some 5.9" west of WGS 84's zero, the Airy transit 5.31". Within what is said of the
# mean shifts of the EPSG register (some ten metres: a ten-thousandth of a degree).
SHIFTS = {
    "NAD27": ((39.2240794, -98.5418072), (39.2240867, -98.5421514)),
    "North American Datum 1927": ((39.2240794, -98.5418072), (39.2240867, -98.5421514)),
    "OSGB36": ((51.47788, 0.0), (51.47839, -0.00162)),
    "EPSG:4277": ((51.47788, 0.0), (51.47839, -0.00162)),
    "urn:ogc:def:crs:EPSG::4277": ((51.47788, 0.0), (51.47839, -0.00162)),
}


@pytest.mark.parametrize("datum", SHIFTS)
def test_a_position_is_moved_to_wgs_84(datum: str) -> None:
    typed, wanted = SHIFTS[datum]
    found = convert_position(*typed, datum)
    assert not isinstance(found, Unreadable)
    assert found == pytest.approx(wanted, abs=1e-4)
    assert found != typed


@pytest.mark.parametrize("datum", ["", "WGS84", "EPSG:4326", "World Geodetic System 1984", "ETRS89", "not recorded"])
def test_what_is_wgs_84_or_not_said_stays(datum: str) -> None:
    assert convert_position(51.1, -1.3, datum) == (51.1, -1.3)


@pytest.mark.parametrize("datum", ["Martian 1877", "EPSG:99999", "my own"])
def test_an_unknown_datum_is_told(datum: str) -> None:
    assert isinstance(convert_position(51.1, -1.3, datum), Unreadable)
