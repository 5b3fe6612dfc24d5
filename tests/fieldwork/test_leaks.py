"""Texts that give a secret place away, and texts that do not."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from openlocationcode import openlocationcode

from guidebuild.fieldwork.codes_of_places import encode_geohash
from guidebuild.fieldwork.decisions import decide_secrets
from guidebuild.fieldwork.leaks import leaks_in, names_in, secrets_of
from guidebuild.fieldwork.public_records import Locality
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Position, Sensitivity
from tests.fieldwork.code_patterns import code_patterns
from tests.fieldwork.invented import PARENT, PLACES, RARE, guide

# Weir Pool: 51.1278, −1.2846, category 3, so 51.13 and −1.28 may be shown. Open: North Hedge 51.1034, −1.3121.
SECRETS = secrets_of(guide())

CODE = openlocationcode.encode(51.1278, -1.2846)
LEAKS = {
    "We met at the Weir Pool.": "The name",
    "weir-pool-nest.jpg": "The name",
    "/photos/Weir%20Pool": "The name",
    "the <b>Weir</b> <i>pool</i>": "The name",
    "WEIR\nPOOL": "The name",
    "weir_pool": "The name",
    "by the W\u00e9ir Pool": "The name",
    "51.1278, -1.2846": "The position",
    "51.1278 N 1.2846 W": "The position",
    "51.1278,-1.2846": "The position",
    "51,1278; −1,2846": "The position",
    "(-1.2846 51.1278)": "The position",
    '{"latitude": 51.1278, "uncertainty": 50, "longitude": -1.2846}': "The position",
    '<span data-lat="51.1278" data-lon="-1.2846">': "The position",
    "geo:51.1278,-1.2846;u=50": "The position",
    "#map=17/51.1278/-1.2846": "The position",
    "?ll=51.1278%2C-1.2846": "The position",
    "51° 7′ 40″ N, 1° 17′ 5″ W": "The position",
    "51&deg;7&prime;40&Prime;N 1&deg;17&prime;5&Prime;W": "The position",
    '"51\\u00b07\'40\\"N 1\\u00b017\'5\\"W"': "The position",
    "N 51° 07.668' W 1° 17.076'": "The position",
    "51 07 40 N 1 17 05 W": "The position",
    "51.128, -1.285": "The position",
    "SU 501 367": "The position",
    "SU501367": "The position",
    "SU 50159 36745": "The position",
    "30U 620064 5665461": "The position",
    "30UXB2006465461": "The position",
    "51.10340,-1.31210\n51.12780,-1.28460\n": "The position",
    "a hash " + encode_geohash(Position(51.1278, -1.2846), 8): "The map code",
    CODE: "The map code",
    CODE.lower() + "x": "The map code",
    CODE[2:] + " England": "The map code",
    CODE[4:] + " Larkfold": "The map code",
    "at " + CODE[6:] + ", Larkfold": "The map code",
}


@pytest.mark.parametrize(("text", "what"), LEAKS.items(), ids=range(len(LEAKS)))
def test_a_leak_is_found(text: str, what: str) -> None:
    assert what in [leak.what for leak in leaks_in(text, SECRETS)]


SAFE = [
    "Upper Larkfold",
    "51.13, -1.28",
    "51.130, -1.280",
    "51.1034, -1.3121",  # North Hedge, which is open
    "51.0, -1.5, 51.2, -1.2",  # the region's box
    "SU 50 36",  # a kilometre square, about as wide as 0.01°
    "1,51.10340,-1.31210,100\n2,51.11120,-1.33110,100\n3,51.10340,-1.31210,100\n",  # a table of open places
    "1,51.13,-1.28,1365\n2,51.11120,-1.33110,100\n",  # with the rounded one in it
    "It is 51.1 mm long and 1.3 mm wide.",
    "The pool below the weir",
    "weirpooling",
    '<path d="M51.1278 1.2846L51.12 1.28"/>',
    "51.1278 kilometres and 7.2846 miles",
    "at 14:30 on 2026-06-20, 51 people",
]


@pytest.mark.parametrize("text", SAFE)
def test_what_may_be_shown_is_no_leak(text: str) -> None:
    assert [str(leak) for leak in leaks_in(text, SECRETS)] == []


def test_a_leak_says_what_and_where() -> None:
    (leak,) = leaks_in("one\ntwo Weir Pool", SECRETS)
    assert (str(leak), leak.line) == ("The name “weir pool” gives away the secret place “Weir Pool”", 1)


def shown_of(made: Guide, place: Place) -> Locality:
    """Where a species that is no secret was found at a place, as it may be told."""
    return decide_secrets(made).locality(PARENT, place.id)


def test_what_is_published_of_a_secret_place_never_leaks() -> None:
    for category in (1, 2, 3, 4):
        place = replace(PLACES["weir-pool"], sensitivity=Sensitivity(category))
        made = guide(places={**PLACES, "weir-pool": place})
        shown = shown_of(made, place)
        text = f"{shown.name} {shown.latitude}, {shown.longitude} ± {shown.uncertainty} m {shown.generalised} {shown.withheld}"
        assert [str(leak) for leak in leaks_in(text, secrets_of(made))] == []


@given(st.floats(-60, 60), st.floats(-170, 170), st.integers(2, 4))
@settings(max_examples=150, deadline=None)
def test_true_positions_leak_and_rounded_ones_do_not(latitude: float, longitude: float, category: int) -> None:
    place = Place("hollow", "Bat Hollow", "the Vale", position=Position(latitude, longitude, 20), sensitivity=Sensitivity(category))
    made = guide(places={"hollow": place})
    shown = shown_of(made, place)
    assert not list(leaks_in(f"{shown.latitude}, {shown.longitude}", secrets_of(made)))
    true = f"{latitude:.5f}, {longitude:.5f}"
    rounded_anyway = all(digits.rstrip("0")[-5:].partition(".")[2].__len__() <= category - 1 for digits in true.split(", "))
    if not rounded_anyway:
        assert list(leaks_in(true, secrets_of(made)))


def test_a_name_that_is_said_anyway_is_no_secret() -> None:
    hidden = replace(PLACES["weir-pool"], name="Larkfold Vale", id="vale")
    assert list(leaks_in("Larkfold Vale", secrets_of(guide(places={"vale": hidden})))) == []


def test_a_guide_without_secrets_has_no_leaks() -> None:
    open_guide = guide(PARENT, places={"north-hedge": PLACES["north-hedge"]})
    assert not secrets_of(open_guide)
    assert list(leaks_in("Weir Pool 51.1278, -1.2846", secrets_of(open_guide))) == []


def test_a_link_to_a_secret_place_or_a_species_tells_by_its_id_alone() -> None:
    pit = replace(PLACES["weir-pool"], id="pit")  # too short to be looked for in words
    made = guide(places={**PLACES, "pit": pit})
    for text in ("[there](place:pit)", "[there](PLACE:PIT)", "place:pit"):
        assert [(leak.place, leak.what) for leak in leaks_in(text, secrets_of(made))] == [("Weir Pool", "The name")]
    assert list(leaks_in("[there](place:pits) birthplace:pit and [it](account:pits)", secrets_of(made))) == []
    shy = replace(RARE, id="shy-one", places=())
    at_places = decide_secrets(guide(PARENT, shy)).at_places
    assert at_places.tells("On reeds: [this](account:shy-one).")
    assert not at_places.tells("On reeds: [this](account:parent-bug).")


def test_a_leak_is_told_with_the_line_that_it_starts_on() -> None:
    text = "one\n[there](place:weir-pool)\n51.1278, -1.2846\n" + encode_geohash(Position(51.1278, -1.2846), 8)
    assert [(leak.what, leak.line) for leak in leaks_in(text, SECRETS)] == [
        ("The name", 1),
        ("The name", 1),
        ("The map code", 3),
        ("The position", 2),
    ]
    assert [leak.line for leak in leaks_in("\n\nby SU 50159 36745\n", SECRETS)] == [2]


def test_a_row_that_was_found_to_tell_nothing_is_passed_over_and_no_other_is() -> None:
    told = replace(SECRETS, told=frozenset({"51.1278,-1.2846"}))
    table = "1,51.1278,-1.2846,50\n2,51.1278,-1.2846,50\n"
    assert list(leaks_in(table, SECRETS))
    assert list(leaks_in(table, told)) == []
    assert list(leaks_in("51.1278,-1.2846", told)) == []
    assert [(leak.found, leak.line) for leak in leaks_in(table + "3,51.1279,-1.2846,50\n", told)] == [("51.1279,-1.2846", 2)]
    assert [leak.found for leak in leaks_in("at 51.1279, -1.2846 or 51.1278,-1.2846", told)] == ["51.1279, -1.2846"]
    assert [leak.found for leak in leaks_in("51.1278,-1.2846,51.1279,-1.2847", told)] == ["51.1279,-1.2847"]


def test_a_corner_that_is_no_nearer_than_two_kilometres_may_be_shown() -> None:
    def corners(latitude: float, longitude: float) -> set[tuple[float, float]]:
        made = guide(places={}, settings=replace(guide().settings, region_box=(51.0, -1.5, 52.0, -1.0)))
        hidden = replace(PLACES["weir-pool"], position=Position(latitude, longitude, 50), sensitivity=Sensitivity(1))
        return {(p.latitude, p.longitude) for p in secrets_of(replace(made, places={"weir-pool": hidden})).shown}

    every = {(51.0, -1.5), (51.0, -1.0), (52.0, -1.5), (52.0, -1.0)}
    assert corners(51.5, -1.25) == every
    assert corners(51.021, -1.5) == corners(51.0, -1.479) == every
    assert corners(51.019, -1.5) == corners(51.0, -1.481) == every - {(51.0, -1.5)}
    assert corners(51.99, -1.01) == every - {(52.0, -1.0)}


def test_what_all_may_know_is_shown_unless_it_is_a_secret_place() -> None:
    public = (Position(51.1278, -1.2846), Position(51.1278, -1.2700), Position(51.3, -1.4))
    made = guide(settings=replace(guide().settings, public_positions=public))
    shown = {(p.latitude, p.longitude) for p in secrets_of(made).shown}
    assert (51.1278, -1.2846) not in shown
    assert {(51.1278, -1.2700), (51.3, -1.4)} <= shown


def test_file_names_are_searched_for_names_only() -> None:
    assert [leak.found for leak in names_in("photos/weir-pool-2.jpg", SECRETS)] == ["weir-pool"]


# Geohash: the worked example of the scheme's own page (57.64911, 10.40744 is u4pruydqqvj), from memory.
def test_map_codes_are_those_of_their_published_examples() -> None:
    assert encode_geohash(Position(57.64911, 10.40744), 11) == "u4pruydqqvj"


# Test data of the Open Location Code project, test_data/shortCodeTests.csv: a full code, its short code and where that is read.
SHORTENED = (
    ("9C3W9QCJ+2VX", 51.3708675, -1.217765625, "CJ+2VX"),
    ("9C3W9QCJ+2VX", 51.3701125, -1.218520625, "CJ+2VX"),
    ("9C3W9QCJ+2VX", 51.3852125, -1.217765625, "9QCJ+2VX"),
    ("9C3W9QCJ+2VX", 51.3701125, -1.202665625, "9QCJ+2VX"),
    ("8FRCXGRF+PM", 47.00, 8.55, "XGRF+PM"),
)


@pytest.mark.parametrize(("full", "latitude", "longitude", "short"), SHORTENED)
def test_a_short_code_with_its_town_gives_a_place_away_as_the_full_code_does(
    full: str, latitude: float, longitude: float, short: str
) -> None:
    assert openlocationcode.recoverNearest(short, latitude, longitude) == full
    area = openlocationcode.decode(full)
    patterns = code_patterns(Position(area.latitudeCenter, area.longitudeCenter), 0.01)
    for typed in (full, short, short.lower(), full[2:]):
        assert any(pattern.search(f"Meet at {typed} Larkfold.") for pattern in patterns), typed


# The same project's test_data/encoding.csv: latitude, longitude, code of ten digits.
ENCODED = (
    (20.3700625, 2.7821875, "7FG49QCJ+2V"),
    (47.0000625, 8.0000625, "8FVC2222+22"),
    (-41.2730625, 174.7859375, "4VCPPQGP+Q9"),
    (-89.9999375, -179.9999375, "22222222+22"),
    (90, 1, "CFX3X2X2+X2"),
    (66.89, -106, "95RPV2R2+22"),
)


@pytest.mark.parametrize(("latitude", "longitude", "code"), ENCODED)
def test_the_code_of_a_secret_place_is_found_as_published(latitude: float, longitude: float, code: str) -> None:
    patterns = code_patterns(Position(latitude, longitude), 0.001)
    assert any(pattern.search(code) for pattern in patterns)
    # The neighbouring square is another place.
    other = openlocationcode.encode(latitude - 1, longitude - 1 if longitude > 0 else longitude + 1)
    assert not any(pattern.search(other) for pattern in patterns[:2])


def _boxed(latitude: float, longitude: float) -> Guide:
    """A guide with a box round its region, and one place of which no coordinates may be shown."""
    pool = Place("pool", "Hidden Pool", "the fen", position=Position(latitude, longitude, 50), sensitivity=Sensitivity(1, "eggs"))
    return guide(places={"pool": pool}, settings=replace(guide().settings, region_box=(51.0, -1.5, 51.25, -1.15)))


def test_the_box_of_the_region_is_no_leak_of_a_place_of_which_nothing_may_be_shown() -> None:
    corners = "<eastBoundingCoordinate>-1.15</eastBoundingCoordinate> <northBoundingCoordinate>51.25</northBoundingCoordinate>"
    secrets = secrets_of(_boxed(51.11, -1.31))
    assert list(leaks_in(corners, secrets)) == []
    assert [leak.what for leak in leaks_in("at 51.11, -1.31", secrets)] == ["The position"]
    assert [leak.what for leak in leaks_in("at 51.15, -1.25", secrets)] == ["The position"]


def test_a_corner_of_the_box_at_a_secret_place_is_not_shown() -> None:
    assert [leak.what for leak in leaks_in("box from 51.0, -1.5", secrets_of(_boxed(51.005, -1.495)))] == ["The position"]
