"""Rows near a secret place: what is told of them follows from the place's cell, never from where in it the place lies. All invented."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.fieldwork.exact_spots import FIGURES
from guidebuild.fieldwork.public_records import PublicRow
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Position
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files

FILES = {
    "guide.yaml": "title: Bugs\nregion: The Vale\ngroup: true-bug\nlicence: CC-BY-4.0\n",
    "places.yaml": """
lane: {name: Green Lane, position: "51.4555, -1.2101", uncertainty: %s}
gate: {name: Far Gate, position: "51.5034, -1.1987", uncertainty: 150 m}
wall: {name: Old Wall}
pond: {name: Withy Pond, area: The Vale, position: "51.4523, -1.2143", uncertainty: 60 m, sensitive: %s}
""",
    "accounts/open-bug.md": "---\nname: Apertus communis\nvernacular: Open Bug\n---\n## In brief\nCommon.\n",
}
HEAD = (
    "occurrenceID,eventDate,scientificName,locationID,decimalLatitude,decimalLongitude,coordinateUncertaintyInMeters,verbatimLatitude,"
    "verbatimLongitude\n"
)
IN_CELL = ((51.4523, -1.2143), (51.4549, -1.2051), (51.4451, -1.2149))


def read(folder: Path, rows: str, sensitive: str = "medium", lane: str = "20 m") -> Guide:
    places = FILES["places.yaml"] % (lane, sensitive)
    folder = write_files(folder, {**FILES, "places.yaml": places, "sightings/all.csv": HEAD + rows})
    found = read_guide(folder, as_of=dt.date(2026, 11, 28)).guide
    assert found is not None
    return replace(found, records=read_records(folder, found))


def rows_with_pond_at(guide: Guide, north: float, east: float) -> tuple[PublicRow, ...]:
    pond = replace(guide.places["pond"], position=Position(north, east, 60.0))
    return make_published(replace(guide, places={**guide.places, "pond": pond})).rows


def told(folder: Path, row: str, sensitive: str = "medium") -> list[tuple[str, str, bool]]:
    rows = make_published(read(folder, f"a1,2026-05-01,Apertus communis,{row}\n", sensitive)).rows
    return [(row.locality.latitude, row.locality.longitude, row.exact) for row in rows]


@pytest.mark.parametrize("place", ["", "lane"])
def test_where_in_its_cell_a_secret_place_lies_changes_no_row(tmp_path: Path, place: str) -> None:
    # A row each 200 m for 4 km round the pond: rows left out round the pond itself would have it in their middle.
    spots = [(51.4523 + y * 0.0018, -1.2143 + x * 0.0029) for x in range(-20, 21) for y in range(-20, 21)]
    rows = "".join(f"g{n},2026-05-01,Apertus communis,{place},{north:.5f},{east:.5f},10,,\n" for n, (north, east) in enumerate(spots))
    guide = read(tmp_path, rows)
    shown = [rows_with_pond_at(guide, *at) for at in IN_CELL]
    exact = sum(row.exact for row in shown[0])
    assert 500 < exact < len(spots) - 20
    # A row that names the lane is told by the lane, and one in the very pond is of the pond.
    assert len(shown[0]) == (len(spots) if place else exact + 1)
    assert shown[0] == shown[1] == shown[2]


def test_in_the_circle_of_an_open_place_near_its_cell_too(tmp_path: Path) -> None:
    # Every 40 m within the lane's 600 m, in which the pond lies.
    spots = [(51.4555 + y * 0.00036, -1.2101 + x * 0.00058) for x in range(-10, 11) for y in range(-10, 11)]
    rows = "".join(f"g{n},2026-05-01,Apertus communis,lane,{north:.5f},{east:.5f},10,,\n" for n, (north, east) in enumerate(spots))
    shown = [rows_with_pond_at(read(tmp_path, rows, lane="600 m"), *at) for at in IN_CELL]
    assert {(row.locality.latitude, row.exact) for row in shown[0]} == {("51.4555", False)}
    assert len(shown[0]) == len(spots)
    assert shown[0] == shown[1] == shown[2]


@pytest.mark.parametrize(
    ("sensitive", "off", "own"),
    [
        # Metres north of the middle of the cell: half its diagonal and the distance of `near_places.DISTANCES`.
        ("low", 100, False), ("low", 300, True),
        ("medium", 1_300, False), ("medium", 1_700, True),
        ("high", 14_000, False), ("high", 15_500, True),
        ("extreme", 70_000, False), ("extreme", 90_000, True),
    ],
)  # fmt: skip
def test_rows_keep_away_from_a_cell_as_far_as_its_category_asks(tmp_path: Path, sensitive: str, off: float, *, own: bool) -> None:
    middle = {"low": (51.452, -1.214), "medium": (51.45, -1.21), "high": (51.5, -1.2), "extreme": (51.0, -1.0)}[sensitive]
    latitude = f"{middle[0] + off / 111_320:.5f}"
    spot = f"{latitude},{middle[1]},10,,"
    assert told(tmp_path, f",{spot}", sensitive) == ([(latitude, f"{middle[1]}", True)] if own else [])
    # A row of an open place has its place's position instead.
    assert told(tmp_path, f"gate,{spot}", sensitive) == [(latitude, f"{middle[1]}", True) if own else ("51.5034", "-1.1987", False)]


@pytest.mark.parametrize(
    "row",
    [
        ",51.4523,1.2143,10,,",  # the sign of the west was lost: the figures themselves tell
        ",-51.4523,-1.2143,10,,",
        ",-1.2143,51.4523,10,,",  # both halves exchanged
        "wall,51.4523,-1.2143,10,,",  # of an open place without a position nothing could stand for its own
    ],
)
def test_figures_that_would_tell_are_not_told(tmp_path: Path, row: str) -> None:
    assert told(tmp_path, row) == []


def test_a_row_that_is_told_by_its_place_keeps_no_figures_as_typed(tmp_path: Path) -> None:
    guide = read(tmp_path, 'a1,2026-05-01,Apertus communis,lane,51.4523,-1.2150,10,"51 27 08 N","1 12 54 W"\n')
    (row,) = make_published(guide).rows
    assert row.record is not None
    assert row.locality.latitude == "51.4555"
    assert not any("5" in row.record.cell(term) for term in FIGURES)


def test_a_row_elsewhere_and_one_of_a_guide_without_secrets_keep_their_figures(tmp_path: Path) -> None:
    assert told(tmp_path, ",51.5035,-1.1990,10,,") == [("51.5035", "-1.1990", True)]
    assert told(tmp_path, ",51.4523,-1.2143,10,,", "no") == [("51.4523", "-1.2143", True)]


def test_the_author_reads_why_rows_are_left_out(tmp_path: Path) -> None:
    made = make_published(read(tmp_path, "a1,2026-05-01,Apertus communis,,51.4530,-1.2150,10,,\n"))
    why = "it was near a place that is kept secret, and at no open place whose position could be told instead"
    assert [(one.file, one.rows, one.why) for one in made.rows_left_out] == [("sightings/all.csv", 1, why)]
