"""Squares of many rows, worked out at once, are those of each row by itself."""

from __future__ import annotations

import datetime as dt
import random
from array import array
from dataclasses import replace
from pathlib import Path

from guidebuild.guide.projection import find_square, unpack_square
from guidebuild.guide.region import Square
from guidebuild.guide.sightings import Tally
from guidebuild.reading.packed_rows import DAY, FILE, FILE_BITS, ROW_BITS
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_squares import Squares
from guidebuild.reading.sightings import read_sightings
from tests.benchmarks import bench_maps, bench_sightings

HEAD = "scientificName,eventDate,lifeStage,locality,decimalLatitude,decimalLongitude,coordinateUncertaintyInMeters,occurrenceStatus\n"
DAYS = ("1990-03-02", "2012-05-01", "2026-11-01", "2026-11-02", "2012")
FINE, COARSE = ("", "10", "2000", "about 5"), ("2001", "30000")
Row = tuple[str, str, str, str, str, str]


def make_rows(seed: int, count: int = 700) -> list[Row]:
    """Invented: places, days, positions (some none), uncertainties (some larger than a square) and absences."""
    choose = random.Random(seed)
    return [
        (
            choose.choice(DAYS),
            choose.choice(bench_sightings.PLACES[:2]),
            f"{51 + choose.random() * 0.4:.5f}" if choose.random() < 0.9 else "",
            f"{-1.5 + choose.random() * 0.3:.5f}",
            choose.choice(FINE if choose.random() < 0.8 else COARSE),
            choose.choice(("present", "present", "absent")),
        )
        for _ in range(count)
    ]


def expect(rows: list[Row], place: str, status: str) -> dict[Square | None, int]:
    """The latest day of each square, row by row."""
    found: dict[Square | None, int] = {}
    for day, where, north, east, uncertainty, state in rows:
        if (where, state) == (place, status):
            told = north and uncertainty in FINE
            square = find_square(bench_maps.region().grid, (float(east), float(north))) if told else None
            found[square] = max(found.get(square, 0), dt.date.fromisoformat(day).toordinal() if "-" in day else 0)
    return found


def unpack(square: int | None) -> Square | None:
    return None if square is None else unpack_square(square)


def read(folder: Path, files: dict[str, list[Row]]) -> dict[str, Tally]:
    for name, rows in files.items():
        typed = [f"Inventus speciesa,{day},adult,{','.join(rest)}" for day, *rest in rows]
        (folder / name).write_text(HEAD + "\n".join(typed), encoding="utf-8")
    mapped = replace(bench_sightings.guide(), region=bench_maps.region())
    return {tally.place: tally for tally in read_sightings(folder, list(files), mapped).tallies}


def test_squares_of_several_files_are_those_of_each_row(tmp_path: Path) -> None:
    files = {"one.csv": make_rows(1), "two.csv": make_rows(2), "three.csv": []}
    tallies, rows = read(tmp_path, files), [row for rows in files.values() for row in dict.fromkeys(rows)]
    for place in bench_sightings.PLACES[:2]:
        assert {unpack(square): day for square, day in tallies[place].squares} == expect(rows, place, "present")
        assert {unpack(square) for square in tallies[place].sought} == set(expect(rows, place, "absent"))


def test_rows_after_the_last_position_have_no_square(tmp_path: Path) -> None:
    placed = ("2026-11-02", "place-0", "51.20001", "-1.30001", "10", "present")
    tallies = read(tmp_path, {"one.csv": [placed, *(("2026-11-01", "place-0", "", "", "", "present") for _ in range(3))]})
    assert {unpack(square) for square, _ in tallies["place-0"].squares} == set(expect([placed], "place-0", "present")) | {None}


def test_rows_of_thousands_of_files_keep_squares_of_their_own() -> None:
    grid = bench_maps.region().grid
    squares = Squares(grid)
    spots = {0: (51.1, -1.4), 1: (51.2, -1.3), 4096: (51.3, -1.2), 4097: (51.4, -1.1), FILE_BITS: (51.45, -1.05)}
    # Tables of a grown collection have not all the same columns.
    headings = [{"coordinateuncertaintyinmeters": 0}, {"eventdate": 0, "coordinateuncertaintyinmeters": 5}]
    for number, spot in spots.items():
        columns = Columns(headings[number % 2], 1 if number % 2 == 0 else 6)
        squares.for_file(number, columns).keep_some([["10"] * columns.width], [2], [spot])
    rows = array("Q", [(number << FILE) + 2 for number in spots])
    found = {unpack(square) for square, _ in squares.find_latest(rows)}
    assert found == {find_square(grid, (east, north)) for north, east in spots.values()}
    assert FILE_BITS + 1 == 2 ** (DAY - FILE)
    assert ROW_BITS + 1 == 2**FILE
