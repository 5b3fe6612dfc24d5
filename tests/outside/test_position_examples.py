"""Worked examples of published schemes: the search for secret places knows each of them as its place, and knows none far away.

The numbers are from memory of the sources named beside them; where pyproj or the scheme's own library can tell, they are held against it.
"""

from __future__ import annotations

import pytest
from openlocationcode import openlocationcode
from pyproj import Geod, Transformer

from guidebuild.fieldwork.codes_of_places import decode_geohash, decode_locator, encode_geohash, encode_locator
from guidebuild.fieldwork.grid_letters import squares_in
from guidebuild.fieldwork.leaks import leaks_in
from guidebuild.guide.records import Position
from tests.fieldwork.test_position_forms import keep_secret

GEOD = Geod(ellps="WGS84")
CAISTER = Position(52.657979, 1.716052)
EIFFEL = Position(48.8582, 2.2945)
EXAMPLES = {
    # Ordnance Survey, "A guide to coordinate systems in Great Britain", annex C: the water tower at Caister, E 651409.903 N 313177.270.
    "TG 51409 13177": CAISTER,
    "TG514131": CAISTER,
    "E 651409.903, N 313177.270": CAISTER,
    "651409 313177": CAISTER,
    # The Eiffel Tower in UTM and MGRS (NIMA TM 8358.1 gives the rules; the figures are widely published).
    "31U 448251 5411932": EIFFEL,
    "31U DQ 48251 11932": EIFFEL,
    "31UDQ4825111932": EIFFEL,
    # Wikipedia, "Universal Transverse Mercator coordinate system": the CN Tower.
    "17T 630084 4833438": Position(43.642567, -79.387139),
    "17N 630084 4833438": Position(43.642567, -79.387139),
    # Schreutelkamp and Strang van Hees (2001), "Benaderingsformules voor de transformatie tussen RD- en WGS84-kaartcoördinaten":
    # Amersfoort, and the tower of the Westerkerk in Amsterdam.
    "RD 155000, 463000": Position(52.15517440, 5.38720621),
    "X 120700.723 Y 487525.501": Position(52.37453253, 4.88352559),
    # G. Niemeyer (2008), geohash.org.
    "u4pruydqqvj": Position(57.64911, 10.40744),
    "u4pruydq": Position(57.64911, 10.40744),
    # Open Location Code, test_data/encoding.csv.
    "8FVC2222+22": Position(47.0000625, 8.0000625),
    "4VCPPQGP+Q9": Position(-41.2730625, 174.7859375),
    # RFC 5870, sections 6 and 1: geo URIs of places in Vienna and Cambodia.
    "geo:48.2010,16.3695,183": Position(48.2010, 16.3695),
    "geo:13.4125,103.8667": Position(13.4125, 103.8667),
    # ISO 6709, annex H: points with and without height.
    "+48.8577+002.295/": Position(48.8577, 2.295),
    "+40.6894-074.0447/": Position(40.6894, -74.0447),
    "+27.5916+086.5640+8850CRSWGS_84/": Position(27.5916, 86.5640),
    # NMEA 0183: the sentence that is quoted everywhere.
    "$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47": Position(48.1173, 11.516667),
}


@pytest.mark.parametrize(("text", "place"), EXAMPLES.items())
def test_each_example_gives_its_place_away_and_no_other(text: str, place: Position) -> None:
    assert [leak for leak in leaks_in(text, keep_secret(place)) if leak.what != "The name"]
    far = Position(place.latitude - 0.71, place.longitude + 0.93)
    assert list(leaks_in(text, keep_secret(far))) == []


def metres(one: tuple[float, float], other: Position) -> float:
    return float(GEOD.inv(one[1], one[0], other.longitude, other.latitude)[2])


@pytest.mark.parametrize("text", ["TG 51409 13177", "31U 448251 5411932", "31U DQ 48251 11932", "17T 630084 4833438"])
def test_letters_and_figures_lead_to_the_published_degrees(text: str) -> None:
    assert min(metres((square.latitude, square.longitude), EXAMPLES[text]) for square in squares_in(text)) < 8


@pytest.mark.parametrize(
    ("code", "east", "north", "place"),
    [
        (27700, 651409.903, 313177.270, CAISTER),
        (28992, 155000.0, 463000.0, EXAMPLES["RD 155000, 463000"]),
        (28992, 120700.723, 487525.501, EXAMPLES["X 120700.723 Y 487525.501"]),
        (32631, 448251.0, 5411932.0, EIFFEL),
        (32617, 630084.0, 4833438.0, EXAMPLES["17T 630084 4833438"]),
    ],
)
def test_what_is_remembered_of_the_sources_is_what_pyproj_says(code: int, east: float, north: float, place: Position) -> None:
    longitude, latitude = Transformer.from_crs(code, 4326, always_xy=True).transform(east, north)
    assert metres((latitude, longitude), place) < 8


def test_codes_are_made_and_read_as_published() -> None:
    there = EXAMPLES["u4pruydqqvj"]
    assert encode_geohash(there, 11) == "u4pruydqqvj"
    assert metres(decode_geohash("u4pruydqqvj")[0], there) < 1
    newington = Position(41.71478, -72.72726)  # the station W1AW, whose locator is FN31pr
    assert encode_locator(newington)[:6].casefold() == "fn31pr"
    assert metres(decode_locator("FN31pr")[0], newington) < 5_000
    area = openlocationcode.decode("8FVC2222+22")
    assert (area.latitudeCenter, area.longitudeCenter) == pytest.approx((47.0000625, 8.0000625))
