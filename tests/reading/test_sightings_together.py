"""Rows whose cells are looked up together mean what they mean one by one, and lines parted at a glance are those of a careful reader."""

from __future__ import annotations

import csv
import io
import random
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.cli import exit_code
from guidebuild.guide.records import Sensitivity
from guidebuild.reading import sighting_rows, sightings, table_text
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_places import Positions
from guidebuild.reading.sighting_records import Recorder
from guidebuild.reading.sighting_words import shipped_words
from guidebuild.reading.sightings import read_sightings
from guidebuild.reading.table_text import Dialect, read_rows
from tests.fieldwork.invented import SETTINGS, guide
from tests.reading.test_sightings import HEAD, read_all

COLUMNS = ("occurrenceID", "scientificName", "eventDate", "lifeStage", "locality", "decimalLatitude", "decimalLongitude", "geodeticDatum",
           "coordinateUncertaintyInMeters", "individualCount", "sex", "occurrenceRemarks", "notes", "license")  # fmt: skip
CELLS = {
    "scientificName": ("Elasmucha grisea", "Elasmucha grisea", "Elasmostethus interstinctus", "Elasmucha cf. grisea", "Alienus novus", ""),
    "eventDate": ("2025-06-02", "2025-06-03", "2024-06-02", "2025-07", "sometime", "", "2124-01-01", "2025-06-02T23:30:00Z"),
    "lifeStage": ("adult", "nymph", "", "egg/adult", "gnome"),
    "locality": ("North Hedge", "south-pond", "Nowhere at all", ""),
    "decimalLatitude": ("51.2", "51.1035", "51.1035", "0", "nan", "", "61.0", "51°06′N"),
    "decimalLongitude": ("-1.31", "-1.3120", "-1.3120", "0", "-1.3", ""),
    "geodeticDatum": ("", "", "", "WGS84", "OSGB36"),
    "coordinateUncertaintyInMeters": ("", "10", "0", "900"),
    "individualCount": ("", "1", "2", "0", "many"),
    "sex": ("", "", "male", "unsure"),
    "occurrenceRemarks": ("", "on a leaf", "none found", "not found"),
    "notes": ("", "", "not found", "seen well"),
    "license": ("",),
}


def invent_table(seed: int, rows: int = 700) -> str:
    """A table of invented rows, where anything may be odd. Many rows are plain, so that batches of plain rows are among them."""
    choose = random.Random(seed)
    target = io.StringIO()
    table = csv.writer(target, lineterminator="\n")
    table.writerow(COLUMNS)
    for number in range(rows):
        odd = choose.random() < (0.5 if number % 300 > 150 else 0.01)
        cells = {term: choose.choice(known) if odd else known[0] for term, known in CELLS.items()}
        cells["decimalLatitude"] = cells["decimalLatitude"] if odd else f"51.2{choose.randrange(100):02}"
        identity = f"urn:invented:{number if choose.random() < 0.98 else choose.randrange(rows)}"
        table.writerow([identity if choose.random() < 0.9 else choose.choice(("", "7")), *cells.values()])
    return target.getvalue()


@pytest.mark.parametrize("seed", range(12))
def test_rows_together_mean_what_they_mean_one_by_one(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, seed: int) -> None:
    of = replace(guide(), settings=replace(SETTINGS, region_box=(51.0, -1.5, 51.4, -1.2)))
    if seed % 3 == 1:
        accounts = {key: replace(account, sensitivity=Sensitivity(2)) for key, account in of.accounts.items() if key == "parent-bug"}
        of = replace(of, accounts={**of.accounts, **accounts})
    table = invent_table(seed)
    together = read_all(tmp_path, of, table=table)
    monkeypatch.setattr(sighting_rows, "_TOGETHER", 1)
    one_by_one = read_all(tmp_path, of, table=table)
    assert (together.tallies, together.counts, {*together.findings}) == (one_by_one.tallies, one_by_one.counts, {*one_by_one.findings})
    assert together.counts[0].rows > 600
    recorded = read_sightings(tmp_path, ["sightings/all.csv"], of, Recorder("", ""))  # where rows are kept, none takes the short way
    assert (together.tallies, together.counts) == (recorded.tallies, recorded.counts)


def test_copies_among_rows_looked_up_together_are_found_without_ids_too(tmp_path: Path) -> None:
    rows = [f"Elasmucha grisea,2025-06-{day:02},,,," for day in (1, 2, 3, 2, 4, 1)]
    (count,) = read_all(tmp_path, table=HEAD + "\n".join(rows) + "\n").counts
    assert (count.rows, count.counted, [(group.code, group.rows) for group in count.left_out]) == (6, 4, [("copy", 2)])


FIGURES = st.sampled_from(["51.2", "0", "0.0", "-0.0", "nan", "inf", "-inf", "60", "-60", "51,3", "", "1e1", " 51.3 "])


@given(st.lists(st.tuples(FIGURES, FIGURES), min_size=1, max_size=4))
def test_positions_together_are_those_one_by_one(figures: list[tuple[str, str]]) -> None:
    columns = Columns({"decimallatitude": 0, "decimallongitude": 1}, 2)
    rows, numbers = [[north, east, ""] for north, east in figures], range(2, 2 + len(figures))
    together = [*Positions((-55.0, -55.0, 55.0, 55.0), columns, SightingNotes("a.csv")).find_all(rows, numbers)]
    alone = Positions((-55.0, -55.0, 55.0, 55.0), columns, SightingNotes("a.csv"))
    assert together == [alone.find(row, number) for row, number in zip(rows, numbers, strict=True)]


LINES = st.lists(st.text(st.characters(exclude_characters='"\n\r', exclude_categories=("Cs",)), max_size=30), max_size=8)


@given(LINES, st.sampled_from(",;\t|"), st.sampled_from(("\n", "\r\n")), st.booleans())
def test_lines_without_a_quotation_mark_are_parted_as_csv_parts_them(lines: list[str], separator: str, ending: str, last: bool) -> None:
    text = ending.join(lines) + (ending if last and lines else "")
    parted = [*read_rows(io.StringIO(text, newline="\n"), Dialect(separator=separator), pytest.fail)]
    expected = [*csv.reader(io.StringIO(text, newline=""), delimiter=separator, quoting=csv.QUOTE_NONE)]
    assert [row if row != [""] else [] for row in parted] == expected


@pytest.mark.parametrize("line_end", ["\n", "\r"])
def test_stretches_with_and_without_quotation_marks_follow_each_other(monkeypatch: pytest.MonkeyPatch, line_end: str) -> None:
    monkeypatch.setattr(table_text, "_STRETCH", 20)
    lines = ["a,b,c", "1,2,3", "4,5,6", '"7,7",8,9', "x,y,z", "u,v,w", "plain,again,here"]
    text = io.StringIO(line_end.join(lines) + line_end, newline=line_end)
    rows = [*read_rows(text, Dialect(line_end=line_end), pytest.fail)]
    assert rows == [
        ["a", "b", "c"],
        ["1", "2", "3"],
        ["4", "5", "6"],
        ["7,7", "8", "9"],
        ["x", "y", "z"],
        ["u", "v", "w"],
        lines[-1].split(","),
    ]


def test_a_remark_that_says_nothing_in_one_column_may_say_something_in_another(tmp_path: Path) -> None:
    words = replace(shipped_words(), absence={"occurrenceremarks": ("nought",), "fieldnotes": ("blank",)})
    table = (
        "scientificName,eventDate,occurrenceRemarks,fieldNotes\nElasmucha grisea,2025-06-02,blank,\nElasmucha grisea,2025-06-03,,blank\n"
    )
    (tally,) = read_all(tmp_path, replace(guide(), sighting_words=words), table=table).tallies
    assert (tally.rows, tally.absences) == (1, 1)


def test_a_draft_of_an_account_reads_no_sightings(starter: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (starter / "sightings").mkdir(exist_ok=True)
    (starter / "sightings/all.csv").write_text("scientificName,eventDate\nElasmucha grisea,2025-06-02\n")
    opened: list[str] = []

    def note(path: Path, *_: object) -> None:
        opened.append(path.name)
        raise OSError("not to be opened")

    monkeypatch.setattr(sightings, "open_table", note)
    assert (exit_code(["account", "Palomena viridissima", "--in", str(starter)]), opened) == (0, [])
    assert exit_code(["check", str(starter)]) in (0, 1) and "all.csv" in opened
