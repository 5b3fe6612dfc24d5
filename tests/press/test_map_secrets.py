"""Maps give no secret place away: what the published guide lets them draw, and what the last look finds in a finished page."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from guidebuild.checks import secrecy
from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.public_records import Cell
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.projection import find_square
from guidebuild.guide.records import OPEN, Position
from guidebuild.press.leak_scan import file_leaks
from guidebuild.press.theme.sandbox import make_environment
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.pieces.map_frame import make_frame
from guidebuild.views.pieces.maps import MapDot, MapMark, MapView, map_of_account, map_of_walk
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.words import words
from tests.guide_files import write_files

# All invented. The pond and the Kept Bug are told to 0.01°. The region is some 28 by 33 km.
FILES = {
    "guide.yaml": "title: Bugs\nregion: The Vale\ncountry: GB\ngroup: true-bug\n"
                  "map: {outline: region.geojson, squares: 200 m, lines: path.geojson}\n",
    "region.geojson": '{"type": "Polygon", "coordinates": [[[-1.4, 51.3], [-1.0, 51.3], [-1.0, 51.6], [-1.4, 51.6], [-1.4, 51.3]]]}',
    "path.geojson": '{"type": "MultiLineString", "coordinates": [[[-1.3, 51.4], [-1.2143, 51.4523]], [[-1.3, 51.4], [-1.1, 51.4]]]}',
    "places.yaml": """
hill: {name: Long Hill, position: "51.5034, -1.1987", uncertainty: 150 m}
lane: {name: Green Lane, position: "51.4555, -1.2101", uncertainty: 100 m}
pond: {name: Withy Pond, area: The Vale, position: "51.4523, -1.2143", uncertainty: 60 m, sensitive: medium}
""",
    "accounts/open-bug.md": "---\nname: Apertus communis\nvernacular: Open Bug\nplaces: [hill]\n---\n## In brief\nCommon.\n",
    "accounts/kept-bug.md": "---\nname: Clausus rarus\nvernacular: Kept Bug\nsensitive: medium\n---\n## In brief\nRare.\n",
    "walks/out.yaml": """title: Out
date: 2026-09-06
start: 10:30
meet: The gate
meet at: "51.5030, -1.1980"
track: walks/out.gpx
stops: [{place: hill}, {place: pond, metres: 700}, {place: lane, metres: 400}]
""",
    "walks/out.gpx": '<gpx><trk><trkseg><trkpt lat="51.5030" lon="-1.1980"/><trkpt lat="51.4535" lon="-1.2150"/>'
                     '<trkpt lat="51.4555" lon="-1.2101"/></trkseg></trk></gpx>',
}  # fmt: skip
HEAD = "occurrenceID,eventDate,scientificName,locationID,decimalLatitude,decimalLongitude,coordinateUncertaintyInMeters,occurrenceStatus\n"
ROWS = """a1,2026-05-01,Apertus communis,hill,51.5035,-1.1990,10,present
a2,1990-05-01,Apertus communis,,51.3512,-1.0512,10,present
a3,2026-05-02,Apertus communis,,51.4524,-1.2150,10,present
a4,2026-05-03,Apertus communis,pond,51.4523,-1.2143,10,present
a5,2026-05-04,Apertus communis,lane,51.4523,-1.2150,10,present
a6,2026-05-05,Apertus communis,,51.5521,-1.3021,10,absent
k1,2026-05-02,Clausus rarus,,51.4023,-1.1123,10,present
"""


@pytest.fixture
def guide(tmp_path: Path) -> Guide:
    found = read_guide(write_files(tmp_path, {**FILES, "sightings/all.csv": HEAD + ROWS}), as_of=dt.date(2026, 11, 28))
    assert found.guide is not None
    return found.guide


@pytest.fixture
def published(guide: Guide) -> Published:
    return make_published(guide)


def square_of(published: Published, north: float, east: float) -> tuple[int, int]:
    assert published.region is not None
    return find_square(published.region.grid, (east, north))


def test_open_sightings_are_drawn_in_their_squares_with_their_latest_day(published: Published) -> None:
    seen = dict(published.squares["open-bug"].seen)
    assert seen[square_of(published, 51.5035, -1.1990)] == dt.date(2026, 5, 1).toordinal()
    assert seen[square_of(published, 51.3512, -1.0512)] == dt.date(1990, 5, 1).toordinal()
    assert published.squares["open-bug"].sought == (square_of(published, 51.5521, -1.3021),)


def test_no_square_of_an_open_species_lies_on_a_secret_place(published: Published) -> None:
    seen = {square for square, _ in published.squares["open-bug"].seen}
    assert square_of(published, 51.4523, -1.2143) not in seen
    assert square_of(published, 51.4524, -1.2150) not in seen
    # The row that names the lane, and stood at the pond, is drawn where the lane is.
    assert square_of(published, 51.4555, -1.2101) in seen


def test_a_lone_record_of_a_secret_species_is_its_cell_and_nothing_finer(published: Published) -> None:
    assert "kept-bug" not in published.squares  # no place is listed: told by the region alone
    assert square_of(published, 51.4023, -1.1123) not in published.looked


def moved(guide: Guide, north: float, east: float, *, rows: int) -> Published:
    """The guide with the secret species at a listed place, seen there on so many days."""
    place = replace(guide.places["pond"], id="bog", name="Sallow Bog", position=Position(north, east, 20.0))
    first = next(tally for tally in guide.sightings if tally.account == "kept-bug")
    days = tuple(first.days[0] + n for n in range(rows))
    tally = replace(
        first, place="bog", days=days, counts=(1,) * rows, first_rows=(2,) * rows, files=("sightings/all.csv",) * rows, spots=()
    )
    others = tuple(t for t in guide.sightings if t.account != "kept-bug")
    return make_published(replace(guide, places={**guide.places, "bog": place}, sightings=(*others, tally)))


def test_wherever_in_its_cell_and_however_often_the_map_is_the_same(guide: Guide) -> None:
    drawn = {moved(guide, north, east, rows=rows).squares["kept-bug"].cells
             for north, east, rows in [(51.4012, -1.1134, 1), (51.4044, -1.1061, 1), (51.3961, -1.1093, 9)]}  # fmt: skip
    assert drawn == {(Cell(51.4, -1.11, 0.01),)}


def test_a_cell_of_which_the_outline_holds_a_corner_is_drawn_coarser(guide: Guide) -> None:
    assert moved(guide, 51.4012, -1.0021, rows=1).squares["kept-bug"].cells == (Cell(51.4, -1.0, 0.1),)


def test_a_track_past_a_secret_place_is_not_told_nor_its_length(published: Published) -> None:
    walk = published.walks["out"]
    assert walk.track == ()
    assert [stop.metres for stop in walk.stops][:2] == [70, 0]
    straight = walk.stops[2].metres  # from the hill, as if there were no pond
    assert straight not in {400, 0}
    assert straight == 5390


def test_a_track_elsewhere_is_told(guide: Guide) -> None:
    open_stops = tuple(stop for stop in guide.walks["out"].stops if stop.place != "pond")
    far = replace(guide.walks["out"], stops=open_stops, track=(((-1.1987, 51.5034), (-1.18, 51.49), (-1.2101, 51.4590)),))
    assert make_published(replace(guide, walks={"out": far})).walks["out"].track == far.track


def test_a_line_that_leads_to_a_secret_place_is_not_drawn(guide: Guide, published: Published) -> None:
    assert guide.region is not None
    assert published.region is not None
    assert len(guide.region.lines) == 2
    assert published.region.lines == ()  # one that is missing among others would lead there too


def test_a_line_closely_round_a_secret_place_is_not_drawn(guide: Guide) -> None:
    assert guide.region is not None

    def drawn(*around: tuple[float, float]) -> int:
        region = replace(guide.region, lines=((*around, around[0]),))
        shown = make_published(replace(guide, region=region)).region
        return len(shown.lines) if shown else 0

    assert drawn((-1.217, 51.451), (-1.211, 51.451), (-1.211, 51.454), (-1.217, 51.454)) == 0
    assert drawn((-1.35, 51.35), (-1.05, 51.35), (-1.05, 51.55), (-1.35, 51.55)) == 1


def test_the_track_of_a_walk_that_stops_at_a_secret_place_without_a_position_is_not_told(guide: Guide) -> None:
    unplaced = replace(guide.places["pond"], position=None)
    without_rows = replace(guide, places={**guide.places, "pond": unplaced}, sightings=())
    assert make_published(without_rows).walks["out"].track == ()


def test_no_length_is_told_from_a_meeting_point_that_is_held_back(guide: Guide) -> None:
    walk = replace(guide.walks["out"], meet_at=Position(51.4524, -1.2140), stops=guide.walks["out"].stops[2:])
    assert [stop.metres for stop in make_published(replace(guide, walks={"out": walk})).walks["out"].stops] == [0]


def test_where_in_its_cell_a_secret_place_lies_changes_no_square(tmp_path: Path) -> None:
    # A row each 100 m for 3 km round the pond: squares left out round the pond itself would have it in their middle.
    rows = "".join(
        f"g{x}-{y},2026-05-01,Apertus communis,,{51.4523 + y * 0.0009:.5f},{-1.2143 + x * 0.00145:.5f},10,present\n"
        for x in range(-30, 31) for y in range(-30, 31)
    )  # fmt: skip
    read = read_guide(write_files(tmp_path, {**FILES, "sightings/all.csv": HEAD + rows}), as_of=dt.date(2026, 11, 28)).guide
    assert read is not None
    shown = []
    for north, east in ((51.4523, -1.2143), (51.4549, -1.2051), (51.4451, -1.2149)):
        pond = replace(read.places["pond"], position=Position(north, east, 60.0))
        shown.append(make_published(replace(read, places={**read.places, "pond": pond})))
    assert len(shown[0].looked) > 100
    assert shown[0].looked == shown[1].looked == shown[2].looked
    assert shown[0].squares == shown[1].squares == shown[2].squares


@pytest.mark.parametrize(("north", "east", "told"), [(51.5030, -1.1980, True), (51.4524, -1.2140, False), (51.4600, -1.2190, False)])
def test_a_meeting_point_is_told_at_an_open_place_alone(guide: Guide, north: float, east: float, told: bool) -> None:
    walk = replace(guide.walks["out"], meet_at=Position(north, east))
    assert bool(make_published(replace(guide, walks={"out": walk})).walks["out"].meet_at) == told


def test_no_map_of_a_secret_species_has_dots_squares_or_days(guide: Guide) -> None:
    there = moved(guide, 51.4012, -1.1134, rows=1)
    drawn = map_of_account(make_pieces(there), there.accounts["kept-bug"])
    assert drawn is not None
    assert [mark.kind for mark in drawn.marks] == ["cell"]
    assert (drawn.dots, drawn.places) == ((), ())
    assert "2026" not in page_of(drawn)


def test_what_is_held_back_of_ways_is_told_to_the_author(guide: Guide) -> None:
    walk = replace(guide.walks["out"], meet_at=Position(51.4524, -1.2140))
    told = [(f"{f.at.file}:{f.at.line}", f.message) for f in secrecy.WAY_HELD_BACK.run(replace(guide, walks={"out": walk}))]
    assert told == [
        ("walks/out.yaml:6", "The track of the walk “Out” passes what is kept secret, so none of it is shown."),
        ("walks/out.yaml:5", "The meeting point of the walk “Out” may tell what is kept secret, so its position is not shown."),
        ("guide.yaml:5", "One line of the map leads to what is kept secret, or round it, so no line is drawn."),
    ]


def test_of_ways_that_are_shown_nothing_is_told(guide: Guide) -> None:
    assert guide.region is not None
    walk = replace(guide.walks["out"], track=())
    shown = replace(guide, walks={"out": walk}, region=replace(guide.region, lines=guide.region.lines[1:]))
    assert list(secrecy.WAY_HELD_BACK.run(shown)) == []
    unkept = {ident: replace(place, sensitivity=OPEN) for ident, place in guide.places.items()}
    opened = replace(guide, places=unkept, accounts={"open-bug": guide.accounts["open-bug"]})
    assert list(secrecy.WAY_HELD_BACK.run(opened)) == []


def page_of(drawn: MapView) -> str:
    environment = make_environment((on_disk(themes()) / "plate",), ())
    module: Any = environment.get_template("map.html").make_module({"_": words("en")})
    return str(module.map_svg(drawn))


def leaks(guide: Guide, published: Published, drawn: MapView) -> list[str]:
    secrets = replace(secrets_of(guide), told=published.told_positions())
    return [problem.message for problem in file_leaks("page.html", page_of(drawn).encode(), secrets)]


def test_the_last_look_lets_the_maps_of_the_published_guide_pass(guide: Guide, published: Published) -> None:
    make = make_pieces(published)
    account, walk = map_of_account(make, published.accounts["open-bug"]), map_of_walk(make, published.walks["out"])
    assert account is not None
    assert walk is not None
    assert {mark.kind for mark in account.marks} == {"cell", "seen", "old", "sought"}  # the cell: of the row at the pond
    assert leaks(guide, published, account) == []
    assert leaks(guide, published, walk) == []


def planted(published: Published, kind: str) -> MapView:
    """The map of the open species with a sign at the secret pond."""
    make = make_pieces(published)
    plain = map_of_account(make, published.accounts["open-bug"])
    assert plain is not None
    assert published.region is not None
    frame = make_frame(published.region)
    ((x, y),) = frame.place([(-1.2143, 51.4523)])
    paths = {
        "seen": f"M{x} {y}L{x + 3} {y}L{x + 3} {y - 3}L{x} {y - 3}z",
        "old": f"M{x + 3} {y}a3 3 0 1 0 -6 0a3 3 0 1 0 6 0",
        "sought": f"M{x - 2} {y - 2}L{x + 2} {y + 2}",
        "looked": f"M{x} {y}h.01",
    }
    if kind in paths:
        return replace(plain, marks=(MapMark(kind, paths[kind], "here"),))
    if kind == "dot":
        return replace(plain, dots=(MapDot(x, y, "here"),))
    if kind == "stop":
        return replace(plain, dots=(MapDot(x, y, "here", number=1),))
    if kind == "meet":
        return replace(plain, meet=(x, y))
    return replace(plain, way=f"M{x - 50} {y}L{x + 50} {y + 1}")


@pytest.mark.parametrize("kind", ["seen", "old", "sought", "looked", "dot", "stop", "meet", "way"])
def test_the_last_look_finds_every_sign_at_a_secret_place(guide: Guide, published: Published, kind: str) -> None:
    found = leaks(guide, published, planted(published, kind))
    assert found
    assert any("Withy Pond" in message for message in found)
