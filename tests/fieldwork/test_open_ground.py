"""Positions that are of no place known to be public are held back, in a guide that keeps something secret. All positions are invented."""

from __future__ import annotations

import random
from dataclasses import replace
from pathlib import Path

import pytest
from pyproj import Geod

from guidebuild.checks import secrecy
from guidebuild.fieldwork.leaks import Secrets, leaks_in, secrets_of
from guidebuild.fieldwork.published import make_published
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
