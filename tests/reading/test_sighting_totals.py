"""What became of every row: the totals close, and each reason has its number and an example."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path

import pytest
from rich.console import Console

from guidebuild.checks.registry import check_guide
from guidebuild.guide.sightings import FileCount, RowGroup
from guidebuild.reading.sighting_totals import LEFT_OUT, REMARKS
from guidebuild.reading.sightings import read_sightings
from guidebuild.terminal.findings import as_json, print_counts
from tests.fieldwork.invented import SETTINGS, guide
from tests.reading.test_sightings import read_all

HEAD = ("occurrenceID,scientificName,vernacularName,kingdom,eventDate,year,month,day,decimalLatitude,decimalLongitude,"
        "occurrenceStatus,individualCount,basisOfRecord,identificationVerificationStatus,occurrenceRemarks")  # fmt: skip
TERMS = HEAD.split(",")
GOOD = {"scientificName": "Elasmucha grisea", "eventDate": "2025-06-02"}


def line(number: int, cells: Mapping[str, str]) -> str:
    """A row of the invented table with an ID of its own."""
    row = {"occurrenceID": f"invented-row-{number}", **cells}
    return ",".join(row.get(term, "") for term in TERMS)


LEAVES: Mapping[str, tuple[dict[str, str], ...]] = {
    "other species": ({**GOOD, "scientificName": "Inventus alius"},),
    "name missing": ({"eventDate": "2025-06-02"},),
    "name not species": ({**GOOD, "scientificName": "Elasmucha aff. grisea"},),
    "names differ": ({**GOOD, "vernacularName": "Birch Bug"},),
    "kingdom": ({**GOOD, "kingdom": "Plantae"},),
    "doubtful": ({**GOOD, "scientificName": "Elasmucha cf. grisea"}, {**GOOD, "identificationVerificationStatus": "Doubtful"},
                 {**GOOD, "occurrenceStatus": "doubtful"}),
    "absence": ({**GOOD, "occurrenceStatus": "absent"}, {**GOOD, "occurrenceStatus": "notDetected"}, {**GOOD, "individualCount": "0"},
                {**GOOD, "individualCount": "0.0"}, {**GOOD, "occurrenceRemarks": "Not found."}, {**GOOD, "individualCount": "no adults"}),
    "date missing": ({"scientificName": "Parent Bug"}, {"scientificName": "Parent Bug", "year": "2025", "day": "4"}),
    "date unread": ({**GOOD, "eventDate": "spring 1910"}, {**GOOD, "eventDate": "2025-02-30"}, {**GOOD, "eventDate": "2025-06-02T4"},
                    {**GOOD, "eventDate": "2025-06-02T14:67"}),
    "date order": ({**GOOD, "eventDate": "05/06/2020"},),
    "date of nothing": ({**GOOD, "eventDate": "1899-12-30"}, {**GOOD, "eventDate": "1900-01-00"}, {**GOOD, "eventDate": "30/12/1899"},
                        {**GOOD, "eventDate": "1899-12-30T00:00:00"}, {**GOOD, "eventDate": "0/1/1900"}),
    "date future": ({**GOOD, "eventDate": "2030-06-02"},),
    "outside region": ({**GOOD, "decimalLatitude": "48.2", "decimalLongitude": "16.4"},
                       {**GOOD, "decimalLatitude": "-1.3121", "decimalLongitude": "51.1034"}),
    "copy": ({"occurrenceID": "invented-row-0", **GOOD},),
    "left out": ({**GOOD, "basisOfRecord": "FossilSpecimen"}, {**GOOD, "identificationVerificationStatus": "Not accepted"}),
}  # fmt: skip
KEEPS: Mapping[str, dict[str, str]] = {
    "year only": {"scientificName": "Parent Bug", "year": "2024"},
    "month only": {**GOOD, "eventDate": "2024-05"},
    "long interval": {**GOOD, "eventDate": "2024-05-01/2024-06-03"},
    "alike": GOOD,
    "zero position": {**GOOD, "eventDate": "2025-06-03", "decimalLatitude": "0", "decimalLongitude": "0.0"},
    "by position": {**GOOD, "decimalLatitude": "51.1035", "decimalLongitude": "-1.3120"},
}


def one(folder: Path, cells: Mapping[str, str]) -> FileCount:
    """The totals of a table of a sure row and another."""
    return read_all(folder, table=f"{HEAD}\n{line(0, GOOD)}\n{line(1, cells)}\n").counts[0]


@pytest.mark.parametrize(("code", "cells"), [(code, cells) for code, rows in LEAVES.items() for cells in rows])
def test_a_row_left_out_has_its_reason_and_is_shown(tmp_path: Path, code: str, cells: Mapping[str, str]) -> None:
    count = one(tmp_path, cells)
    assert (count.rows, count.counted, [(g.code, g.rows, g.first) for g in count.left_out]) == (2, 1, [(code, 1, 3)])
    assert count.left_out[0].words.startswith(LEFT_OUT[code])
    assert all(cell in count.left_out[0].example for cell in cells.values())


@pytest.mark.parametrize(("code", "cells"), KEEPS.items(), ids=KEEPS)
def test_a_row_that_counts_with_a_remark_is_told(tmp_path: Path, code: str, cells: Mapping[str, str]) -> None:
    count = one(tmp_path, cells)
    assert (count.rows, count.counted, [(g.code, g.rows) for g in count.remarks]) == (2, 2, [(code, 1)])


def test_a_time_of_another_zone_falls_on_the_local_day_and_is_told(tmp_path: Path) -> None:
    in_vienna = replace(guide(), settings=replace(SETTINGS, zone="Europe/Vienna"))
    table = "scientificName,eventDate\nParent Bug,2025-06-02T23:30Z\nParent Bug,2025-06-02T21:30Z\n"
    made = read_all(tmp_path, in_vienna, table=table)
    assert [str(seen.day) for seen in made.tallies[0].seen()] == ["2025-06-02", "2025-06-03"]
    assert [(g.code, g.rows, g.first) for g in made.counts[0].remarks] == [("other day", 1, 2)]


def test_cells_too_many_and_rows_without_any_are_left_out_and_empty_lines_are_no_rows(tmp_path: Path) -> None:
    count = read_all(tmp_path, table="scientificName,eventDate,sex\n\nParent Bug,2025-06-02,,x\n,,\nParent Bug,2025-06-03\n").counts[0]
    assert (count.rows, count.counted) == (3, 1)
    assert [(g.code, g.first) for g in count.left_out] == [("cells", 3), ("empty", 4)]


def test_every_fate_is_met_here() -> None:
    told_apart = {"cells", "empty", "other day"}
    assert {*LEAVES, *KEEPS} | told_apart == {*LEFT_OUT, *REMARKS}


def test_all_fates_of_one_table_close_to_the_row(tmp_path: Path) -> None:
    rows = [cells for some in LEAVES.values() for cells in some] + list(KEEPS.values())
    table = "\n".join((HEAD, line(0, GOOD), *(line(number, cells) for number, cells in enumerate(rows, 1))))
    count = read_all(tmp_path, table=table).counts[0]
    assert (count.rows, count.counted) == (len(rows) + 1, len(KEEPS) + 1)
    assert {g.code: g.rows for g in count.left_out if g.code != "left out"} == {c: len(r) for c, r in LEAVES.items() if c != "left out"}


def test_numbers_of_a_table_of_ones_own_are_no_copies_of_those_of_another(tmp_path: Path) -> None:
    for name in ("a", "b"):
        (tmp_path / f"{name}.csv").write_text(f"occurrenceID,scientificName,eventDate,locality\n1,Parent Bug,2025-06-02,{name}\n")
    made = read_sightings(tmp_path, ["a.csv", "b.csv"], guide())
    assert [(c.file, c.rows, c.counted) for c in made.counts] == [("a.csv", 1, 1), ("b.csv", 1, 1)]


COUNT = FileCount("sightings/all.csv", 12_345, 12_340, (RowGroup("copy", "a copy of an earlier row", 5, 7, "Parent Bug, 2025"),),
                  (RowGroup("year only", "for no season: known to the year alone", 2, 9, "Parent Bug, 2024"),))  # fmt: skip


def test_the_totals_are_a_table_on_the_terminal() -> None:
    console = Console(width=120, record=True)
    with console.capture() as shown:
        print_counts(console, (COUNT,))
    lines = [" ".join(text.split()) for text in shown.get().splitlines() if text.strip()]
    assert lines == [
        "Sightings rows the first of them",
        "sightings/all.csv 12,345",
        "counted 12,340",
        "left out: a copy of an earlier row 5 row 7: Parent Bug, 2025",
        "of the counted: for no season: known to the year alone 2 row 9: Parent Bug, 2024",
    ]


def test_programs_are_told_the_totals_too() -> None:
    assert as_json(check_guide(guide()), (COUNT,))["sightings"] == [
        {
            "file": "sightings/all.csv",
            "rows": 12_345,
            "counted": 12_340,
            "left out": [{"code": "copy", "words": "a copy of an earlier row", "rows": 5, "first": 7, "example": "Parent Bug, 2025"}],
            "of the counted": [
                {
                    "code": "year only",
                    "words": "for no season: known to the year alone",
                    "rows": 2,
                    "first": 9,
                    "example": "Parent Bug, 2024",
                }
            ],
        }
    ]
