"""Coordinates as typed."""

import pytest

from guidebuild.guide.coordinate_text import parse_coordinate
from guidebuild.guide.problem import Unreadable

LATITUDES = {
    "41.2": 41.2, "41,2": 41.2, "−41.2": -41.2, "-41.2": -41.2, "12°30’00”N": 12.5, "12° 30' 0\" N": 12.5, "12 30 0 N": 12.5,
    "12º30′S": -12.5, "N 12° 30,0'": 12.5, "12.5° S": -12.5, "12°30'30''N": 12 + 30.5 / 60, "90": 90.0, "0": 0.0,
}  # fmt: skip
REFUSED = {
    "95": "The latitude 95 is out of range.",
    "12.5 E": "“12.5 E” is no latitude: it ends in E.",
    "-12.5 S": "The latitude “-12.5 S” has a sign and a letter.",
    "12° 75' N": "The latitude “12° 75' N” has 60 or more minutes or seconds.",
    "12.5 O": "The O in “12.5 O” means east in German and west in French.",
    "N 12 N": "The latitude “N 12 N” names two sides.",
    "by the weir": "The latitude “by the weir” cannot be read.",
    "": "The latitude “” cannot be read.",
}


@pytest.mark.parametrize(("text", "degrees"), LATITUDES.items(), ids=LATITUDES)
def test_a_latitude_is_read(text: str, degrees: float) -> None:
    assert parse_coordinate(text, "latitude") == pytest.approx(degrees)


@pytest.mark.parametrize(("text", "message"), REFUSED.items(), ids=REFUSED)
def test_a_senseless_latitude_says_why(text: str, message: str) -> None:
    found = parse_coordinate(text, "latitude")
    assert isinstance(found, Unreadable)
    assert found.message == message


def test_west_is_below_zero() -> None:
    assert parse_coordinate("1° 18' 43.56\" W", "longitude") == pytest.approx(-1.3121)
