"""Positions in a text: what each notation says, how exactly, and what is no position. All positions are invented."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openlocationcode import openlocationcode

from guidebuild.fieldwork.codes_of_places import encode_geohash
from guidebuild.fieldwork.sorted_positions import SortedPositions, sort_positions
from guidebuild.fieldwork.spots import make_readable, read_figures, spots_near
from guidebuild.guide.records import Position
from tests.fieldwork.code_patterns import code_patterns


class Anywhere(SortedPositions):
    """One position, near to all numbers."""

    def at_latitude(self, degrees: float) -> frozenset[int]:
        return frozenset({0})

    at_longitude = at_latitude


def told(text: str) -> list[tuple[float, float, float]]:
    """Latitude, longitude and step of each reading, north first."""
    near = spots_near(read_figures(make_readable(text)), Anywhere((), (), 0.0))
    return [(round(s.latitude, 6), round(s.longitude, 6), s.step) for s, _ in near if not s.signed]


@pytest.mark.parametrize(
    ("text", "latitude", "longitude", "step"),
    [
        ("51.1278, 1.2846", 51.1278, 1.2846, 1e-4),
        ("7,51.1278,1.2846,50", 51.1278, 1.2846, 1e-4),
        ("170,51.12,1.28", 51.12, 1.28, 0.01),
        ("7;51,1278;1,2846;50", 51.1278, 1.2846, 1e-4),
        ("51,1278; 1,28", 51.1278, 1.28, 1e-4),
        ("51.10, 1.30", 51.1, 1.3, 0.1),
        ("51.0, 1.0", 51.0, 1.0, 0.1),
        ("51° 7.668' N 1° 17.076' W", 51.1278, 1.2846, 1 / 60_000),
        ("51° 7′ 40″ N, 1° 17′ 5″ W", 51.127778, 1.284722, 1 / 3600),
        ("51° 7′ 40.5″ N, 1° 17′ 5.25″ W", 51.127917, 1.284792, 1 / 360_000),
        ("51° 7′ N, 1° 17′ W", 51.116667, 1.283333, 1 / 60),
        ("180.0, 59.9", 180.0, 59.9, 0.1),
        ("179° 59′ E, 51° 7′ N", 179.983333, 51.116667, 1 / 60),
        ("51°7′40″1°17′5″", 51.127778, 1.284722, 1 / 3600),
        ("51° 59′ 59″ N, 1° 59.9′ W", 51.999722, 1.998333, 1 / 3600),
    ],
)
def test_each_notation_says_its_degrees_and_how_exactly(text: str, latitude: float, longitude: float, step: float) -> None:
    found = [(lat, lon, pytest.approx(exact)) for lat, lon, exact in told(text)]
    assert (latitude, longitude, pytest.approx(step)) in [(lat, lon, told_step.expected) for lat, lon, told_step in found]
    assert (longitude, latitude) in [(lat, lon) for lat, lon, _ in found]  # whichever comes first


@pytest.mark.parametrize(
    "text",
    [
        "180.1, 59.9",
        "51.1278",
        "v1.2.3 and 4.5.6",
        "51° 60′ N, 1° 17′ W",
        "51° 7′ 60″ N",
        "51.1278" + " " * 201 + "1.2846",
        "51.1 mm and then 1.3 mm",
        "51.1278 mm and then 1.3 mm",
        "1.36 s, 51,036 words",
    ],
)
def test_what_is_no_position(text: str) -> None:
    assert told(text) == []


@pytest.mark.parametrize("between", [201, 1_000, 5_000])
@pytest.mark.parametrize(("first", "second"), [("lat", "lon"), ("Longitude", "latitude"), ("decimalLatitude=", "decimalLongitude=")])
def test_halves_that_are_called_by_their_names_may_stand_far_apart(first: str, second: str, between: int) -> None:
    north, east = ("51.1278", "1.2846") if "at" in first else ("1.2846", "51.1278")
    start = f"{first} {north}"
    text = start + ("." + " " * between + second + " ")[-between:] + east
    assert text.index(east) - len(start) == between
    assert told(text)[:1] == [(51.1278, 1.2846, 1e-4)]
    assert told(text.replace("at", "xx").replace("on", "xx").replace("lo", "xx")) == []


def test_halves_with_names_are_none_beyond_five_thousand_characters() -> None:
    assert told("lat 51.1278" + " " * 4_997 + "lon 1.2846") == []
    assert told("lat 51.1278" + " " * 4_996 + "lon 1.2846") != []


def test_numbers_of_every_day_are_a_position_where_they_are_named() -> None:
    assert told("lat 51.12 of the old pond by the old weir, and then, behind the gate, its lon 1.28") == [(51.12, 1.28, 0.01)]
    assert told("far 51.12 of the old pond by the old weir, and then, behind the gate, its low 1.28") == []
    assert (51.12, 1.28, 0.01) in told('{"lat": 51.12, "lng": 1.28}')


def test_a_half_goes_with_the_last_of_the_other_name_before_it() -> None:
    rows = ["lat 51.1001", "lon 1.2002", "lat 52.3003", "lat 53.4004", "lon 1.5005"]
    assert told((" " * 300).join(rows)) == [
        (51.1001, 1.2002, 1e-4),
        (52.3003, 1.2002, 1e-4),
        (53.4004, 1.2002, 1e-4),
        (53.4004, 1.5005, 1e-4),
    ]
    assert told("lat 51.1001" + " " * 300 + "lat 52.3003") == []
    assert told("lat 51.1001 then, much later" + " " * 300 + "1.2002") == []


@pytest.mark.parametrize(
    "label",
    ["lat ", "latitude: ", "Lat. ", "data-lat=", "latg ", "<longitude>", "Long = ", "lng=", "LON\t", "decimalLatitude>\n\t ", "geoLong:"],
)
def test_a_name_stands_right_before_its_number(label: str) -> None:
    far = f"51.1278{' ' * 300}{'lon' if 'at' in label.lower() else 'lat'} 1.2846"
    assert told(f"{label}{far}") != []
    assert told(f"{label}{' ' * 9}{far}") == []


@pytest.mark.parametrize("word", ["flat", "salon", "FLAT", "plate", "latter", "along", "belong"])
def test_a_word_that_holds_such_a_name_is_none(word: str) -> None:
    assert told(f"{word} 51.1278{' ' * 300}lon 1.2846{' ' * 300}lat 2.5555") == [(2.5555, 1.2846, 1e-4)]


def test_numbers_up_to_two_hundred_characters_apart_belong_together() -> None:
    assert told("51.1278" + " " * 200 + "1.2846") != []


def test_a_number_belongs_to_those_that_follow_it_but_not_to_all() -> None:
    row = "51.1001 1.2002 52.3003 1.4004 53.5005 1.6006 54.7007 1.8008"
    pairs = {(lat, lon) for lat, lon, _ in told(row)}
    assert {(51.1001, 1.2002), (51.1001, 1.6006)} <= pairs
    assert (51.1001, 1.8008) not in pairs


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Weir%20Pool", "Weir Pool"),
        ("Weir&nbsp;Pool &amp; more", "Weir\xa0Pool & more"),
        ("51\\u00b0 7\\u2032", "51° 7′"),
        ('<path d="M51.1278 1.2846"/>', "<path  />"),
        ("<svg viewBox='0 0 51.1 1.3'>", "<svg  >"),
        ("url(data:image/png;base64,AAAA51)", "url( )"),
        ("100 % sure", "100 % sure"),
    ],
)
def test_a_text_is_read_as_a_reader_sees_it(text: str, plain: str) -> None:
    assert make_readable(text) == plain


def test_numbers_near_no_place_are_no_positions_and_all_that_are_near_are() -> None:
    places = sort_positions((Position(-33.86, 151.21), Position(51.1278, -1.2846)))
    held = list(spots_near(read_figures("51.1278 51.1278 51.1278, 1.2846; 33.9 S 151.2 E; 33.9 1.28"), places))
    assert {(spot.latitude, spot.longitude, *near) for spot, near in held} == {(51.1278, 1.2846, 1), (33.9, 151.2, 0)}
    assert (
        list(spots_near(read_figures("89.9100 N 12.5000 E"), sort_positions([Position(89.92, -100.0)]))) != []
    )  # meridians are close there


POSITIONS = st.builds(Position, st.floats(-85, 85), st.floats(-179.9, 179.9))


# Geohash: each letter halves the cell five times in turn, longitude first. Open Location Code: ten digits are cells of 1/8000
# of a degree (the specification, from memory).
@given(POSITIONS)
@settings(max_examples=80, deadline=None)
def test_codes_of_a_position_can_be_read_back(position: Position) -> None:
    text = encode_geohash(position, 8)
    bits = "".join(f"{'0123456789bcdefghjkmnpqrstuvwxyz'.index(letter):05b}" for letter in text)
    for half, true, size in ((bits[::2], position.longitude, 360), (bits[1::2], position.latitude, 180)):
        low = int(half, 2) / 2 ** len(half) * size - size / 2
        assert low <= true < low + size / 2 ** len(half) + 1e-9
    assert encode_geohash(position, 6) == text[:6]
    code = openlocationcode.encode(position.latitude, position.longitude).replace("+", "")
    digits = ["23456789CFGHJMPQRVWX".index(letter) for letter in code]
    for part, true, offset in ((digits[::2], position.latitude, 90), (digits[1::2], position.longitude, 180)):
        low = sum(digit * 20.0 ** (1 - n) for n, digit in enumerate(part)) - offset
        assert low - 1e-6 <= true <= low + 1 / 8000 + 1e-6


@pytest.mark.parametrize(("step", "hashed", "coded"), [(0.1, 6, 6), (0.01, 6, 8), (0.001, 8, 10)])
def test_codes_as_exact_as_may_be_shown_are_let_through_and_closer_ones_are_not(step: float, hashed: int, coded: int) -> None:
    place = Position(51.1278, -1.2846)
    patterns = code_patterns(place, step)

    def is_found(text: str) -> bool:
        return any(pattern.search(text) for pattern in patterns)

    whole = openlocationcode.encode(place.latitude, place.longitude)
    digits = whole.replace("+", "")
    assert is_found(encode_geohash(place, hashed))
    assert is_found(encode_geohash(place, 12))
    assert not is_found(encode_geohash(place, hashed - 1))
    assert not is_found(encode_geohash(Position(51.2, -1.2846), 12))
    assert is_found(whole)
    assert is_found(f"{whole[4:]} Larkfold")
    shortened = f"{digits[: min(coded, 8)]:0<8}+{digits[8:coded]}"
    assert is_found(shortened) or coded == 6
    coarser = f"{digits[: coded - 2]:0<8}+" if coded < 10 else f"{digits[:8]}+"
    assert not is_found(coarser)
