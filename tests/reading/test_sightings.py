"""Files of sightings: what counts, and what is said of what does not."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.sightings import Tally
from guidebuild.reading.sighting_codes import SIGHTING_CODES
from guidebuild.reading.sightings import SightingsReading, read_sightings
from tests.fieldwork.invented import SETTINGS, guide

HEAD = "scientificName,eventDate,lifeStage,locality,decimalLatitude,decimalLongitude\n"


def read(folder: Path, text: str | bytes, of: Guide | None = None) -> tuple[tuple[Tally, ...], tuple[Finding, ...]]:
    made = read_all(folder, of, table=text)
    return made.tallies, made.findings


def read_all(folder: Path, of: Guide | None = None, *, table: str | bytes, name: str = "all.csv") -> SightingsReading:
    """The reading of one file, whose totals close in whatever test."""
    path = folder / "sightings" / name
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(table if isinstance(table, bytes) else table.encode())
    made = read_sightings(folder, [f"sightings/{name}"], of or guide())
    (count,) = made.counts
    assert count.rows == count.counted + sum(group.rows for group in count.left_out)
    assert count.counted == sum(tally.rows for tally in made.tallies)
    return made


def row(folder: Path, text: str, header: str = HEAD) -> str:
    """The one finding of a file with one row, as `code: message`."""
    _, findings = read(folder, header + text + "\n")
    assert len(findings) == 1, findings
    return f"{findings[0].code}: {findings[0].message}"


def test_rows_are_gathered_by_account_stage_place_and_day(tmp_path: Path) -> None:
    tallies, findings = read(tmp_path, HEAD + (
        "Elasmucha grisea,2025-06-02,adult,North Hedge,,\n"
        "Elasmucha grisea,2025-06-02,Adults,north-hedge,51.2,-1.31\n"
        "Elasmucha grisea,2025-05-30,imago,NORTH HEDGE,,\n"
        "Birch Bug,2025-07,5th instar nymph,,51.1035,-1.3120\n"
    ))  # fmt: skip
    assert findings == ()
    assert [(t.account, t.stage, t.place, t.rows, t.loose) for t in tallies] == [
        ("birch-bug", "nymph", "north-hedge", 1, 1),
        ("parent-bug", "adult", "north-hedge", 3, 0),
    ]
    assert [(s.day, s.rows, str(s.at)) for s in tallies[1].seen()] == [
        (dt.date(2025, 5, 30), 1, "sightings/all.csv:4"),
        (dt.date(2025, 6, 2), 2, "sightings/all.csv:2"),
    ]


@pytest.mark.parametrize("name", ["Elasmucha betulae", "Elasmucha grisea (Linnaeus, 1758)", "elasmucha grisea", "Parent Bug", "parent-bug"])
def test_names_lead_to_the_account_through_synonyms_and_authorities(tmp_path: Path, name: str) -> None:
    tallies, findings = read(tmp_path, HEAD + f'"{name}",2025-06-02,,,,\n')
    assert [t.account for t in tallies] == ["parent-bug"]
    assert findings == ()


def test_semicolons_decimal_commas_tabs_and_prefixed_terms_are_read(tmp_path: Path) -> None:
    text = "sep=;\ndwc:scientificName;EVENTDATE;decimalLatitude;decimalLongitude\nParent Bug;2025-06-02;51,1034;-1,3121\n"
    assert read(tmp_path, text)[0][0].place == "north-hedge"
    text = "http://rs.tdwg.org/dwc/terms/scientificName\tyear\tmonth\tday\nParent Bug\t2025\t6\t2\n"
    tallies, findings = read(tmp_path, "\ufeff" + text)
    assert (tallies[0].rows, tallies[0].loose, findings) == (1, 0, ())


@pytest.mark.parametrize(
    "name", ["Elasmucha cf. grisea", "Elasmucha grisea?", "? Elasmucha grisea", "Elasmucha ?grisea", "Elasmucha cf grisea L."]
)
def test_an_uncertain_name_counts_as_uncertain_for_its_account(tmp_path: Path, name: str) -> None:
    tallies, findings = read(tmp_path, HEAD + f"{name},2025-06-02,adult,North Hedge,,\n")
    (tally,) = tallies
    assert (tally.account, tally.place, tally.rows, tally.doubtful, tally.days) == ("parent-bug", "north-hedge", 0, 1, ())
    assert [finding.code for finding in findings] == ["sighting-name-doubtful"]


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("Elasmucha aff. grisea", "another species"),
        ("Elasmucha nr. grisea", "another species"),
        ("Elasmucha sp.", "no more than the genus"),
        ("Elasmucha grisea agg.", "an aggregate"),
        ("Elasmucha grisea s. l.", "an aggregate"),
        ("Elasmucha grisea sensu lato", "an aggregate"),
        ("Elasmucha grisea auct. non (Linnaeus, 1758)", "by mistake"),
    ],
)
def test_a_name_that_says_more_or_other_than_the_species_is_not_counted(tmp_path: Path, name: str, says: str) -> None:
    tallies, (finding,) = read(tmp_path, HEAD + f'"{name}",2025-06-02,,,,\n')
    assert tallies == ()
    assert says in finding.message


@pytest.mark.parametrize(
    ("qualifier", "rows", "doubtful"),
    [("", 1, 0), ("cf.", 0, 1), ("?", 0, 1), ("probably", 0, 1), ("aff.", 0, 0), ("agg.", 0, 0), ("s.l.", 0, 0)],
)
def test_a_qualifier_in_a_column_of_its_own_counts_alike(tmp_path: Path, qualifier: str, rows: int, doubtful: int) -> None:
    tallies, _ = read(tmp_path, f"scientificName,eventDate,identificationQualifier\nElasmucha grisea,2025-06-02,{qualifier}\n")
    assert (sum(t.rows for t in tallies), sum(t.doubtful for t in tallies)) == (rows, doubtful)


def test_two_names_of_two_species_in_one_row_are_told(tmp_path: Path) -> None:
    header = "scientificName,vernacularName,eventDate\n"
    rows = "Elasmucha grisea,Birch Bug,2025-06-02\nElasmucha grisea,Parent Bug,2025-06-02\nElasmucha grisea,Some Bug,2025-06-03\n"
    tallies, findings = read(tmp_path, header + rows)
    assert [(t.account, t.rows) for t in tallies] == [("parent-bug", 2)]
    told = "“Elasmucha grisea” and “Birch Bug” are two species, and the row is not counted (row 2)."
    assert [(f.code, f.message) for f in findings] == [("sighting-names-differ", told)]


def test_absences_are_kept_apart(tmp_path: Path) -> None:
    header = "scientificName,eventDate,occurrenceStatus,individualCount\n"
    text = "Parent Bug,2025-06-02,absent,\nParent Bug,2025-06-03,notDetected,\nParent Bug,2025-06-04,,0\nParent Bug,2025-06-05,present,3\n"
    tallies, _ = read(tmp_path, header + text)
    assert (tallies[0].rows, tallies[0].absences) == (1, 3)


MESSAGES = {
    "Parent Bug,2025-06-02,,,,,more": "sighting-cells: There are 7 cells in a table of 6 columns (row 2).",
    "Elasmucha griseus,2025-06-02,,,,": "sighting-name-unknown: “Elasmucha griseus” is no species of this guide (row 2).",
    "Elasmucha cf. grisea,2025-06-02,,,,": "sighting-name-doubtful: “Elasmucha cf. grisea” is uncertain, and counts for no season (row 2).",
    "Parent Bug,spring 1910,,,,": "sighting-date: The date “spring 1910” cannot be read (row 2).",
    "Parent Bug,2025-02-30,,,,": "sighting-date: There is no such day as “2025-02-30” (row 2).",
    "Parent Bug,5/6/68,,,,": "sighting-year: The year in “5/6/68” has 2 digits (row 2).",
    "Parent Bug,05/06/2020,,,,": "sighting-day-or-month: Day or month first in “05/06/2020”? (row 2).",
    "Parent Bug,,,,,": "sighting-date-missing: There is no date (row 2).",
    "Parent Bug,2027-06-02,,,,": "sighting-date-future: The date 2027-06-02 lies in the future (row 2).",
    "Parent Bug,2025-06-02,pupa,,,": "sighting-stage: “pupa” is no stage of Parent Bug (row 2).",
    "Parent Bug,2025-06-02,,Old Mill,,": "sighting-place: “Old Mill” is no place of this guide (row 2).",
    "Parent Bug,2025-06-02,,,95,11": "sighting-coordinate: The latitude 95 is out of range (row 2).",
    "Parent Bug,2025-06-02,,,51.1,": "sighting-half-position: The position “51.1”, “” lacks a half (row 2).",
    "Parent Bug,2025-06-02,,,0,0.0": "sighting-zero-position: The position 0, 0.0 is 0, 0 (row 2).",
    "Parent Bug,2025-06-02,,,-1.3121,51.1034": "sighting-swapped: The position -1.3121, 51.1034 looks swapped (row 2).",
    "Parent Bug,2025-06-02,,,51.1034,1.3121": "sighting-sign: The position 51.1034, 1.3121 looks as if it had the wrong sign (row 2).",
    "Parent Bug,2025-06-02,,,48.2,16.4": "sighting-outside-region: The position 48.2, 16.4 lies outside the region (row 2).",
}


@pytest.mark.parametrize(("text", "message"), MESSAGES.items(), ids=[m.split(":")[0] for m in MESSAGES.values()])
def test_a_bad_row_is_told_with_its_number(tmp_path: Path, text: str, message: str) -> None:
    assert row(tmp_path, text) == message


MORE = {
    ("coordinateUncertaintyInMeters", "0"): "sighting-uncertainty: The uncertainty is 0 m (row 2).",
    ("individualCount", "many"): "sighting-count: The count “many” is not a whole number (row 2).",
}


@pytest.mark.parametrize(("cell", "message"), MORE.items(), ids=[m.split(":")[0] for m in MORE.values()])
def test_an_odd_number_is_told(tmp_path: Path, cell: tuple[str, str], message: str) -> None:
    assert row(tmp_path, f"Parent Bug,2025-06-02,{cell[1]}", f"scientificName,eventDate,{cell[0]}\n") == message


def test_the_same_trouble_of_many_rows_is_told_once_with_the_rows(tmp_path: Path) -> None:
    _, findings = read(tmp_path, HEAD + "Wrong bug,2025-06-02,,,,\n" * 3)
    assert [f.message for f in findings] == ["“Wrong bug” is no species of this guide (rows 2, 3 and 4)."]
    _, findings = read(tmp_path, HEAD + "Wrong bug,2025-06-02,,,,\n" * 15)
    assert findings[0].message == "“Wrong bug” is no species of this guide (rows 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 5 more)."


def test_many_different_troubles_end_in_one_line(tmp_path: Path) -> None:
    _, findings = read(tmp_path, HEAD + "".join(f"Parent Bug,day {n},,,,\n" for n in range(150)))
    assert len(findings) == 11
    assert findings[-1].message.startswith("More of the same: dates can be read (rows 12, 13, ")


def test_a_misspelt_name_gets_the_nearest_one(tmp_path: Path) -> None:
    _, findings = read(tmp_path, HEAD + "Elasmucha griseus,2025-06-02,,,,\n")
    assert findings[0].mend == "Did you mean “Elasmucha grisea”?"


def test_copies_of_a_row_count_once(tmp_path: Path) -> None:
    tallies, findings = read(tmp_path, HEAD + "Parent Bug,2025-06-02,,,,\n" * 2)
    assert (tallies[0].rows, [(f.code, f.message) for f in findings]) == (
        1, [("sighting-duplicate", "The row is a copy of an earlier one (row 3).")]
    )  # fmt: skip
    header = "occurrenceID,scientificName,eventDate\n"
    tallies, findings = read(tmp_path, header + "a,Parent Bug,2025-06-02\na,Parent Bug,2025-06-03\nb,Parent Bug,2025-06-02\n")
    assert (tallies[0].rows, [f.message for f in findings]) == (2, ["The occurrenceID “a” stands in an earlier row too (row 3)."])


def test_a_declared_order_reads_slashed_dates(tmp_path: Path) -> None:
    declared = replace(guide(), settings=replace(SETTINGS, date_order="day first"))
    tallies, findings = read(tmp_path, HEAD + "Parent Bug,05/06/2020,,,,\n", declared)
    assert (next(tallies[0].seen()).day, findings) == (dt.date(2020, 6, 5), ())
    _, findings = read(tmp_path, HEAD + "Parent Bug,06/13/2020,,,,\n", declared)
    assert findings[0].message == "“06/13/2020” is not day first, as guide.yaml says dates are (row 2)."


def test_a_file_with_both_orders_is_an_error(tmp_path: Path) -> None:
    _, findings = read(tmp_path, HEAD + "Parent Bug,13/06/2020,,,,\nParent Bug,06/14/2020,,,,\n")
    assert [(f.code, f.level, f.message) for f in findings] == [
        ("sighting-date-order", Level.WARNING, "Row 2 has the day first and row 3 the month first.")
    ]


def test_a_table_without_name_or_date_says_so(tmp_path: Path) -> None:
    _, findings = read(tmp_path, "eventdat,locality\n2025-06-02,North Hedge\n")
    assert [(f.code, f.message) for f in findings] == [
        ("sightings-column-unknown", "The column “eventdat” is not read (row 1)."),
        ("sightings-column-missing", "There is no column scientificName and no column eventDate (row 1)."),
    ]
    assert findings[0].mend == "Did you mean eventDate?"


def test_an_empty_file_and_a_missing_one_are_told(tmp_path: Path) -> None:
    assert [(f.code, f.message) for f in read(tmp_path, "")[1]] == [("sightings-not-readable", "The file is empty.")]
    findings = read_sightings(tmp_path, ["sightings/none.csv"], guide()).findings
    assert findings[0].message == "The file cannot be opened: No such file or directory."


def test_a_quotation_mark_never_closed_swallows_no_row(tmp_path: Path) -> None:
    long = "x" * 200_000
    tallies, findings = read(tmp_path, HEAD + 'Parent Bug,2025-06-02,,,,\nParent Bug,"2025-06-03,,,,\nParent Bug,2025-06-04,,,,\n' + long)
    assert tallies[0].rows == 3
    told = "From line 3 on a quotation mark is not closed, and lines are read one by one."
    assert ("sightings-quotation-mark", told) in [(f.code, f.message) for f in findings]


def test_a_file_in_another_encoding_is_told_and_the_rest_counts(tmp_path: Path) -> None:
    rows = "".join(f"Parent Bug,2025-06-{n:02},,,,\n" for n in range(1, 31))
    text = (HEAD + rows + "Parent Bug,2025-07-01,,Höhe,,\n").encode("cp1252")
    tallies, findings = read(tmp_path, text)
    assert sum(t.rows for t in tallies) == 31
    assert {f.code for f in findings} == {"sightings-not-utf8", "sighting-place"}


def test_every_code_of_sightings_is_provoked_here() -> None:
    here = "".join(path.read_text(encoding="utf-8") for path in sorted(Path(__file__).parent.glob("test_sighting*.py")))
    assert [code.code for code in SIGHTING_CODES if f"{code.code}:" not in here and f'"{code.code}"' not in here] == []


def bird_and_plant() -> Guide:
    """Two accounts of one invented name: a bird's and a plant's."""
    base = guide()
    sets = {"bird": StageSet("bird", "Birds", (("adult", "adult"),), kingdom="Animalia"),
            "herb": StageSet("herb", "Herbs", (("flower", "in flower"),), kingdom="Plantae")}  # fmt: skip
    one = base.accounts["parent-bug"]
    bird, herb = (
        replace(one, id=key, group=group, vernacular=key.title(), synonyms=()) for key, group in (("chat", "bird"), ("wort", "herb"))
    )
    return replace(base, accounts={"chat": bird, "wort": herb}, stage_sets=sets)


@pytest.mark.parametrize(("kingdom", "account"), [("Animalia", "chat"), ("Plantae", "wort"), ("plants", "wort"), (" animalia ", "chat")])
def test_the_kingdom_decides_between_a_bird_and_a_plant_of_one_name(tmp_path: Path, kingdom: str, account: str) -> None:
    rows = f"scientificName,kingdom,eventDate\nElasmucha grisea,{kingdom},2025-06-02\nElasmucha grisea,{kingdom},2025-06-03\n"
    tallies, findings = read(tmp_path, rows, bird_and_plant())
    assert ([(t.account, t.rows) for t in tallies], findings) == ([(account, 2)], ())


def test_two_accounts_of_one_name_are_kept_apart_in_one_file(tmp_path: Path) -> None:
    rows = "scientificName,kingdom,eventDate\nElasmucha grisea,Animalia,2025-06-02\nElasmucha grisea,Plantae,2025-06-02\n"
    tallies, _ = read(tmp_path, rows, bird_and_plant())
    assert [(t.account, t.rows) for t in tallies] == [("chat", 1), ("wort", 1)]


def test_a_row_of_another_kingdom_is_told_and_not_counted(tmp_path: Path) -> None:
    tallies, (found,) = read(tmp_path, "vernacularName,kingdom,eventDate\nChat,Plantae,2025-06-02\n", bird_and_plant())
    assert tallies == ()
    assert found.code == "sighting-kingdom"
    assert found.message == "“Chat” is of the kingdom Plantae here, Chat is of Animalia, and the row is not counted (row 2)."


@pytest.mark.parametrize("kingdom", ["", "Chromista", "incertae sedis", "Animalia"])
def test_a_kingdom_that_decides_nothing_is_passed_over(tmp_path: Path, kingdom: str) -> None:
    tallies, findings = read(tmp_path, f"vernacularName,kingdom,eventDate\nChat,{kingdom},2025-06-02\n", bird_and_plant())
    assert ([t.account for t in tallies], findings) == (["chat"], ())
