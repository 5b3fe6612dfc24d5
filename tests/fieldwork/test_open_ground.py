"""Positions that are of no place known to be public are held back, in a guide that keeps something secret. All positions are invented."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from pyproj import Geod

from guidebuild.checks import secrecy
from guidebuild.fieldwork.leaks import Secrets, leaks_in, secrets_of
from guidebuild.fieldwork.open_ground import OpenGround
from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.spots import Spot, read_figures
from guidebuild.guide.distances import METRES
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Position, Section, Sensitivity
from guidebuild.press.leak_scan import file_leaks
from guidebuild.reading.whole import read_guide
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide
from tests.fieldwork.position_forms import HERE, write_forms
from tests.fieldwork.test_position_forms import write_everyday_numbers

FORMS = tuple(write_forms())
NOT_HELD = {
    # Eastings and northings without the letters of their square or zone may be any numbers, and so may degrees as whole numbers.
    *("5112783, -128461", "51127830,-1284610", "511278300,-12846100", "{E}, {N}", "4{e}, 1{n}", "E 4{e} N 1{n}", "4{e}E 1{n}N"),
    *("Easting: 4{e} Northing: 1{n}", "4{e2} {e1}, 1{n2} {n1}", "4{e2},{e1} 1{n2},{n1}", "4{e}.5 1{n}.5", "UTM 30 {E}mE {N}mN"),
    *("Dutch RD", "Dutch RD in kilometres", "Swiss LV95", "Swiss LV03", "Lambert-93", "Belgian Lambert 72", "German Gauss-Krüger", "RT 90"),
    *("Austrian Lambert", "Gauss-Boaga", "Polish 1992", "S-JTSK", "SWEREF 99", "Finnish TM35", "Irish grid", "Irish Transverse Mercator"),
    *("New Zealand TM", "European equal area", "web Mercator", "quadkey", "XB {e} {n}"),
    # In small letters they are words with a figure.
    *("su {e3} {n3}", "su{e3}{n3}", "30u {E} {N}", "30uxb {e3} {n3}", "geohash in capitals"),
    # Halves far apart, and what no one finds.
    *("site;{a};an old oak by the gate, seen from the path;-{b};x", "three words", "words for figures", "shorter plus code"),
}


def keep_something(open_at: Position, *public: Position) -> Guide:
    """A guide with one open place, some public positions, and a secret place far from both."""
    far = Position(open_at.latitude - 0.31, open_at.longitude - 0.37)
    places = {
        "green": Place("green", "Quagga Green", position=open_at),
        "fen": Place("fen", "Zibble Fen", position=far, sensitivity=Sensitivity(4, "eggs")),
    }
    return guide(places=places, settings=replace(guide().settings, public_positions=public))


def move(position: Position, metres: float, bearing: float = 60) -> Position:
    longitude, latitude, _ = Geod(ellps="WGS84").fwd(position.longitude, position.latitude, bearing, metres)
    return Position(latitude, longitude)


def unknown_in(text: str, secrets: Secrets) -> list[str]:
    return [leak.found for leak in leaks_in(text, secrets) if not leak.place]


def test_a_position_of_no_public_place_is_held_back_in_most_forms() -> None:
    held = {form for form, position, text in FORMS if unknown_in(text, secrets_of(keep_something(move(position, 5_000))))}
    missed = {form for form, _, _ in FORMS} - held
    assert {form for form in missed if not form.startswith("Latitude {a}.")} == NOT_HELD


@pytest.mark.parametrize(("form", "position", "text"), FORMS)
def test_a_position_of_an_open_place_or_one_that_all_may_know_passes(form: str, position: Position, text: str) -> None:
    assert unknown_in(text, secrets_of(keep_something(position))) == [], form
    assert unknown_in(text, secrets_of(keep_something(move(position, 9_000), position))) == [], form


@pytest.mark.parametrize("bearing", range(0, 360, 45))
def test_distance_decides_and_no_cell(bearing: int) -> None:
    secrets = secrets_of(keep_something(HERE))
    for metres, passes in ((480, True), (520, False)):
        spot = move(HERE, metres, bearing)
        assert (unknown_in(f"{spot.latitude:.6f}, {spot.longitude:.6f}", secrets) == []) == passes


def test_what_a_public_table_or_box_tells_passes() -> None:
    other = Position(51.16, -1.21)
    secrets = secrets_of(keep_something(HERE, other))
    assert unknown_in("a,51.12783,-1.28461,100\nb,51.16000,-1.21000,50\n[[-1.28461, 51.12783], [-1.21, 51.16]]", secrets) == []
    assert unknown_in("<north>51.16000</north> <west>-1.28461</west>", secrets) == []
    assert unknown_in("a,51.12783,-1.28461,100\nb,51.17310,-1.21000,50\n", secrets) == ["51.17310,-1.21000"]


def test_a_guide_that_keeps_nothing_secret_tells_any_position() -> None:
    held = guide(PARENT, BIRCH, places={"green": Place("green", "Quagga Green", position=HERE)})
    assert secrets_of(held).ground is None
    assert list(leaks_in("51.16310, -1.21000", secrets_of(held))) == []


@pytest.mark.parametrize("where", [HERE, Position(5.61, 0.19), Position(0.31, 0.57), Position(-36.9, 147.28)])
def test_everyday_numbers_are_no_positions(where: Position) -> None:
    draw, secrets = random.Random(3), secrets_of(keep_something(where))
    for _ in range(150):
        text = "\n".join(write_everyday_numbers(draw) for _ in range(6))
        assert unknown_in(text, secrets) == [], text


def test_everyday_texts_are_no_positions() -> None:
    secrets = secrets_of(keep_something(HERE))
    for text in (
        *("between 12:30 and 14:15", "pp. 51.123, 1.286 mm", "cubic-bezier(0.4, 0.0, 0.2, 1)", "51.5 °C and 12.5 °C", "v. 51.12.1, 1.28.4"),
        *("SU 1962", "NW 10 20", "ISO 12345-67890", "2026/11/28", "underbrushes", "sequences 2 hundreds", "C2H5+OH", "2345+67", "IO91"),
    ):
        assert unknown_in(text, secrets) == [], text


def held_guide(text: str, *public: Position) -> Guide:
    section = Section("Where to look", text, At("accounts/parent-bug.md", 20))
    made = keep_something(HERE, *public)
    account = replace(PARENT, sections=(section,))
    return replace(made, accounts={a.id: a for a in (account, BIRCH, RARE)})


TEXT = "On birches.\nPark at 51.16310, 1.21000 W. Walk on."


def test_the_check_tells_the_line_and_what_to_write() -> None:
    found = list(secrecy.POSITION_NOT_PUBLIC.run(held_guide(TEXT)))
    assert [str(f) for f in found] == [
        "accounts/parent-bug.md:21: warning: The position “51.16310, 1.21000” is of no place that is known to be public. "
        'If all may know it, write - "51.16310, -1.21000" under “public positions:” in guide.yaml; else take it out.'
    ]
    assert list(secrecy.SECRET_WRITTEN.run(held_guide(TEXT))) == []
    assert list(secrecy.POSITION_NOT_PUBLIC.run(held_guide(TEXT, Position(51.1631, -1.21)))) == []


def test_its_sentence_is_left_out_until_the_guide_allows_it() -> None:
    assert make_published(held_guide(TEXT)).accounts["parent-bug"].sections[0].text == "On birches."
    assert make_published(held_guide(TEXT, Position(51.1631, -1.21))).accounts["parent-bug"].sections[0].text == TEXT


def test_a_finished_file_with_such_a_position_stops_the_run_and_says_what_to_write() -> None:
    (problem,) = file_leaks("site/parking.txt", b"Park at SU 50158 38748.", secrets_of(keep_something(HERE)))
    assert problem.message == (
        "The position “SU 50158 38748” is of no place that is known to be public. Take it out, or write - "
        '"51.14581, -1.28433" under “public positions:” in guide.yaml if all may know it; nothing was published.'
    )


def test_the_position_of_a_secret_place_cannot_be_made_public() -> None:
    secret = Position(HERE.latitude - 0.31, HERE.longitude - 0.37)
    held = keep_something(HERE, move(secret, 40), move(secret, 4_000))
    assert [f.message.split(" is ", 1)[1] for f in secrecy.PUBLIC_POSITION_SECRET.run(held)] == ["that of a place that is kept secret."]
    spot = move(secret, 40)
    assert [leak.place for leak in leaks_in(f"{spot.latitude:.5f}, {spot.longitude:.5f}", secrets_of(held))] == ["Zibble Fen"]


def test_public_positions_are_read_from_guide_yaml(tmp_path: Path) -> None:
    (tmp_path / "guide.yaml").write_text("title: Toads\npublic positions:\n  - 51.1, -1.2\n  - 51°6'N, 1°18'W\n", encoding="utf-8")
    reading = read_guide(tmp_path)
    assert reading.guide is not None
    assert [(p.latitude, p.longitude) for p in reading.guide.settings.public_positions] == [(51.1, -1.2), (51.1, -1.3)]
    (tmp_path / "guide.yaml").write_text("title: Toads\npublic positions: [51.1, -1.2]\n", encoding="utf-8")
    assert [f"{f.at}: {f.message}" for f in read_guide(tmp_path).findings][:1] == ["guide.yaml:2:20: '51.1' is not a position."]


def figures_about(latitude: float, longitude: float, *, box: tuple[float, float, float, float] | None = None) -> bool:
    """Whether two plain numbers are taken for a position in a guide of one place in the middle of a cell of half a degree."""
    ground = OpenGround((Position(51.25, 1.25),), (), (), box)
    return bool(list(ground.find_unknown(read_figures(f"{latitude:.4f}, {longitude:.4f}"))))


def test_plain_figures_are_a_position_within_half_a_degree_of_the_places_cell() -> None:
    for latitude in (50.5001, 51.9999):
        assert figures_about(latitude, 1.2401)
    for longitude in (0.5001, 1.9999):
        assert figures_about(51.2401, longitude)
    for latitude, longitude in ((50.4999, 1.2401), (52.0001, 1.2401), (51.2401, 0.4999), (51.2401, 2.0001)):
        assert not figures_about(latitude, longitude)
    assert figures_about(51.2401, -1.2401)  # a sign may be left out or be meant for a dash


def test_plain_figures_are_a_position_in_the_region_s_box_and_a_tenth_of_a_degree_round_it() -> None:
    box = (10.0, 20.0, 11.0, 22.0)
    for latitude, longitude in ((9.9001, 21.0001), (11.0999, 21.0001), (10.5001, 19.9001), (10.5001, 22.0999)):
        assert figures_about(latitude, longitude, box=box)
        assert not figures_about(latitude, longitude)
    for latitude, longitude in ((9.8999, 21.0001), (11.1001, 21.0001), (10.5001, 19.8999), (10.5001, 22.1001)):
        assert not figures_about(latitude, longitude, box=box)


def test_a_box_may_reach_over_the_180th_meridian() -> None:
    box = (-18.0, 177.0, -16.0, -179.0)
    for longitude in (176.9001, 179.9001, -179.9001, -178.9001):
        assert figures_about(-17.0001, longitude, box=box)
    for longitude in (176.8999, 178.8999 - 60):
        assert not figures_about(-17.0001, longitude, box=box)


def spot_at(latitude: float, longitude: float, step: float = 1e-5, *, signed: bool = False) -> Spot:
    return Spot("", 0, latitude, longitude, step, (0, 0), signed)


def test_a_latitude_of_one_public_place_and_a_longitude_of_another_are_public_and_half_of_one_is_not() -> None:
    ground = OpenGround((Position(51.1, -1.3), Position(51.2, -1.4)), (Position(51.3, -1.5),), ())
    assert ground.is_public(spot_at(51.1, 1.5, 0.001))
    assert ground.is_public(spot_at(51.1005, 1.4995, 0.001))
    assert not ground.is_public(spot_at(51.1006, 1.5, 0.001))
    assert not ground.is_public(spot_at(51.1, 1.5006, 0.001))
    assert not ground.is_public(spot_at(51.15, 1.5, 0.001))
    assert not ground.is_public(spot_at(51.1, -1.5, 0.001, signed=True))  # a square or a code is one place
    assert ground.is_public(spot_at(1.3, 51.1, 0.001))  # whichever comes first
    assert not ground.is_public(spot_at(1.3, 51.1, 0.001, signed=True))


def test_a_rounded_position_is_public_itself_and_what_lies_round_it_is_not() -> None:
    ground = OpenGround((), (Position(51.3, -1.5),), ())
    assert ground.is_public(spot_at(51.3, -1.5, 0.001, signed=True))
    assert not ground.is_public(spot_at(51.303, -1.5, 0.001, signed=True))
    assert OpenGround((Position(51.3, -1.5),), (), ()).is_public(spot_at(51.303, -1.5, 0.001, signed=True))


def test_the_reach_of_a_public_place_grows_with_how_roughly_a_position_is_told() -> None:
    ground = OpenGround((Position(51.3, -1.5),), (), ())
    for step in (1e-5, 0.01):
        reach = (500 + step * METRES * 0.71) / METRES
        assert ground.is_public(spot_at(51.3 + reach * 0.999, -1.5, step, signed=True))
        assert not ground.is_public(spot_at(51.3 + reach * 1.001, -1.5, step, signed=True))


def test_a_position_is_written_with_the_signs_of_the_nearest_place() -> None:
    ground = OpenGround((Position(-33.8, 151.2),), (), (Position(51.1, -1.3), Position(10.0, 20.0)))
    assert ground.say_where(spot_at(51.2, 1.2)) == "51.20000, -1.20000"
    assert ground.say_where(spot_at(34.0, 150.0)) == "-34.00000, 150.00000"
    assert ground.say_where(spot_at(12.0, 18.0)) == "12.00000, 18.00000"
    assert ground.say_where(spot_at(51.2, 1.2, signed=True)) == "51.20000, 1.20000"
    assert OpenGround((), (), ()).say_where(spot_at(51.2, 1.2)) == "51.20000, 1.20000"
