"""The archive of sightings carries the rows as they were made. Animals, places, people and rows are invented.

Terms are after the Darwin Core quick reference guide (dwc.tdwg.org/terms); the archive is read by python-dwca-reader.
"""

from __future__ import annotations

import csv
import re
import zipfile
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest
from dwca.read import DwCAReader

from guidebuild.cli import exit_code
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.data_tables import archive_file
from guidebuild.reading.sightings import read_records
from guidebuild.reading.whole import read_guide
from guidebuild.views.data.occurrences import sightings_archive
from guidebuild.views.data.seen_table import SEEN_COLUMNS, seen_rows
from tests.hostile.small_guide import change, write_small

DWC, DC = "http://rs.tdwg.org/dwc/terms/", "http://purl.org/dc/terms/"
HEADER = (
    "occurrenceID", "eventDate", "scientificName", "lifeStage", "sex", "individualCount", "occurrenceStatus", "identificationQualifier",
    "locality", "decimalLatitude", "decimalLongitude", "coordinateUncertaintyInMeters", "coordinatePrecision", "recordedBy",
)  # fmt: skip
SEVEN = "Coccinella septempunctata"
SPAN = "2025-05-03/2025-05-07"
ROWS = (
    ("yard:1", SPAN, SEVEN, "adult", "female", "3", "present", "", "By the shed", "51.4301", "-1.4302", "25", "0.0001", "A. Holt"),
    ("yard:2", "2025-05", SEVEN, "", "", "2", "", "", "By the shed", "51.43010", "-1.43020", "7.5", "", "B. Lee | A. Holt"),
    ("yard:3", "2025-06-01", SEVEN, "adult", "", "0", "absent", "", "By the gate", "51.4311", "-1.4312", "25", "", "B. Lee"),
    ("yard:4", "2025-06-02T09:30", SEVEN, "larva", "male", "1", "present", "cf. septempunctata", "By the gate", "", "", "", "", "C. Ode"),
)  # fmt: skip


def write_guide(folder: Path, rows: tuple[tuple[str, ...], ...] = ROWS, header: tuple[str, ...] = HEADER, name: str = "own.csv") -> Path:
    guide = write_small(folder / "guide")
    (guide / "sightings/yard.csv").unlink()
    add_table(guide, rows, header, name)
    return guide


def add_table(guide: Path, rows: tuple[tuple[str, ...], ...], header: tuple[str, ...], name: str) -> None:
    with (guide / "sightings" / name).open("w", encoding="utf-8", newline="") as file:
        csv.writer(file).writerows([header, *rows])


def read(guide: Path) -> Guide:
    found = read_guide(guide).guide
    assert found
    return replace(found, records=read_records(guide, found))


def publish(guide: Path) -> Published:
    return make_published(read(guide))


def read_back(guide: Path) -> list[defaultdict[str, str]]:
    """The rows as python-dwca-reader has them, by their short terms."""
    path = guide / "back.zip"
    path.write_bytes(archive_file(sightings_archive(publish(guide))))
    with DwCAReader(str(path)) as reader:
        rows = [defaultdict(str, {term.rpartition("/")[2]: value for term, value in row.data.items()}) for row in reader]
    path.unlink()
    return sorted(rows, key=lambda row: row["occurrenceID"])


def test_rows_come_out_as_they_went_in(tmp_path: Path) -> None:
    back = read_back(write_guide(tmp_path))
    given = [dict(zip(HEADER, row, strict=True)) for row in ROWS]
    same = [term for term in HEADER if term not in ("scientificName", "occurrenceStatus")]
    assert [{term: row[term] for term in same} for row in back] == [{term: row[term] for term in same} for row in given]
    assert [row["occurrenceStatus"] for row in back] == ["present", "present", "absent", "present"]
    assert {row["verbatimIdentification"] for row in back} == {SEVEN}
    assert {(row["kingdom"], row["taxonRank"]) for row in back} == {("Animalia", "species")}


def test_the_tool_counts_its_own_archive_as_the_files_it_came_from(tmp_path: Path) -> None:
    first = write_guide(tmp_path)
    archive = archive_file(sightings_archive(publish(first)))
    before = read(first)
    second = write_guide(tmp_path / "other", ())
    (second / "sightings/own.csv").unlink()
    (second / "sightings/own.zip").write_bytes(archive)
    after = read(second)

    def counts(guide: Guide) -> list[tuple[object, ...]]:
        return [(t.account, t.stage, t.days, t.counts, t.loose, t.absences, t.doubtful) for t in guide.sightings]

    assert counts(after) == counts(before)
    assert [(c.rows, c.counted) for c in after.sighting_counts] == [(c.rows, c.counted) for c in before.sighting_counts] == [(4, 2)]


def test_what_is_no_figure_or_standard_date_is_verbatim(tmp_path: Path) -> None:
    rows = (("a:1", "14/09/2021", SEVEN, "", "", "", "", "", "", "51°25'48\"N", "1°25'48\"W", "", "", "A. Holt"),)
    (row,) = read_back(write_guide(tmp_path, rows))
    assert (row["eventDate"], row["verbatimEventDate"]) == ("2021-09-14", "14/09/2021")
    assert (row["decimalLatitude"], row["decimalLongitude"], row["geodeticDatum"]) == ("51.430000", "-1.430000", "EPSG:4326")
    assert (row["verbatimLatitude"], row["verbatimLongitude"]) == ("51°25'48\"N", "1°25'48\"W")


@pytest.mark.parametrize(
    ("position", "latitude", "precision"),
    [
        ("51.4301, -1.4302", "51.4301", "0.0001"),
        ("51.43010, -1.43020", "51.43010", "0.00001"),
        ("51.43, -1.4302", "51.4300", "0.0001"),
        ("51.4, -1.4", "51.4", "0.1"),
        ("51, -1", "51", "1"),
        # Darwin Core, examples of coordinatePrecision: 0.000278 is a second, 0.01667 a minute.
        ("51°25'48\"N, 1°25'49\"W", "51.43000", "0.000278"),
        ("51°26'N, 1°26'W", "51.43333", "0.01667"),
        ("51°25.8'N, 1°25.8'W", "51.43000", ""),
    ],
)
def test_a_place_is_as_precise_as_it_was_typed(tmp_path: Path, position: str, latitude: str, precision: str) -> None:
    rows = (("p:1", "2025-05-03", SEVEN, "adult", "", "1", "", "", "The Wall", "", "", "", "", "A. Holt"),)
    guide = write_guide(tmp_path, rows)
    places = guide / "places.yaml"
    text = re.sub(r"(?m)^( +)position:.*\n( +uncertainty:.*\n)?", "", places.read_text(encoding="utf-8"))
    places.write_text(re.sub(r"(?m)^( +)name: The Wall$", rf"\1name: The Wall\n\1position: '{position.replace(chr(39), chr(39) * 2)}'",
                             text), encoding="utf-8")  # fmt: skip
    (row,) = read_back(guide)
    assert (row["decimalLatitude"], row["coordinatePrecision"]) == (latitude, precision)


def test_the_country_is_told_where_it_is_known(tmp_path: Path) -> None:
    terms = (*HEADER, "license", "rightsHolder", "countryCode")
    rows = (
        (*ROWS[0], "CC0_1_0", "D. Fen", "AT"),
        ("f:2", *ROWS[0][1:], "CC0_1_0", "D. Fen", ""),
        ("f:3", "2025-05-04", *ROWS[0][2:8], "The Wall", "", "", "", "", "D. Fen", "CC0_1_0", "D. Fen", ""),
    )
    guide = write_guide(tmp_path, rows, terms, "download.csv")
    add_table(guide, (("own:1", "2025-05-05", *ROWS[0][2:]),), HEADER, "own.csv")
    assert {row["countryCode"] for row in read_back(guide)} == {"AT", ""}
    change(guide, "guide.yaml", "title:", "country: gb\ntitle:")
    change(guide, "guide.yaml", "region box: 51.0, -2.0, 52.0, -1.0\n", "")
    found = {row["occurrenceID"]: row["countryCode"] for row in read_back(guide)}
    # What others saw at a locality of their own may be anywhere, unless the guide says where its region ends.
    assert found == {"yard:1": "AT", "f:2": "", "f:3": "GB", "own:1": "GB"}
    change(guide, "guide.yaml", "title:", "region box: 51, -2, 52, -1\ntitle:")
    assert {row["countryCode"] for row in read_back(guide)} == {"AT", "GB"}


def test_the_summary_by_place_and_dekad_adds_up_and_has_no_secret_row(tmp_path: Path) -> None:
    rows = tuple((f"p:{n}", day, SEVEN, "adult", "", "1", "", "", "The Wall", "", "", "", "", "A. Holt")
                 for n, day in enumerate(("2024-05-03", "2025-05-03", "2025-05-03", "2025-05-10", "2025-05-11", "2025-05")))  # fmt: skip
    table = list(seen_rows(publish(write_guide(tmp_path, rows))))
    assert {len(row) for row in table} == {len(SEEN_COLUMNS)}
    assert [row[2:] for row in table] == [
        ("adult", "The Wall", "05-01", "05-10", "4", "3", "2024", "2025"),
        ("adult", "The Wall", "05-11", "05-20", "1", "1", "2025", "2025"),
    ]
    guide = secret_guide(tmp_path / "secret", open_row("o:1"), open_row("o:2", "51.60000", "-1.60000"), open_row("o:3"))
    told = list(seen_rows(publish(guide)))
    assert [(row[0], row[6]) for row in told] == [(SEVEN, "2")]  # as many as there are rows in the archive


TERMS = (*HEADER, "license", "rightsHolder", "datasetName")


@pytest.mark.parametrize(
    ("licence", "holder", "published"),
    [
        ("https://creativecommons.org/licenses/by-nc/4.0/", "D. Fen", "https://creativecommons.org/licenses/by-nc/4.0/"),
        ("http://creativecommons.org/licenses/by-nc/4.0/legalcode", "D. Fen", "https://creativecommons.org/licenses/by-nc/4.0/"),
        ("CC_BY_NC_4_0", "D. Fen", "https://creativecommons.org/licenses/by-nc/4.0/"),
        ("CC BY-NC", "D. Fen", "CC BY-NC"),
        ("CC0_1_0", "", "https://creativecommons.org/publicdomain/zero/1.0/"),
        ("CC-BY-4.0", "D. Fen", "https://creativecommons.org/licenses/by/4.0/"),
        ("CC BY-ND 4.0", "D. Fen", None),
        ("CC BY-NC-ND", "D. Fen", None),
        ("All rights reserved", "D. Fen", None),
        ("ask me", "D. Fen", None),
        ("CC-BY-SA-4.0", "", None),
        ("", "D. Fen", None),
    ],
)
def test_rows_keep_their_own_licence_or_stay_out(tmp_path: Path, licence: str, holder: str, published: str | None) -> None:
    row = ("f:1", "2025-05-03", SEVEN, "adult", "", "1", "", "", "", "51.4301", "-1.4302", "", "", "", licence, holder, "")
    guide = write_guide(tmp_path, (row,), TERMS, "download.csv")
    add_table(guide, ROWS, HEADER, "own.csv")
    told = [row for row in read_back(guide) if row["occurrenceID"] == "f:1"]
    assert [(row["license"], row["rightsHolder"]) for row in told] == ([] if published is None else [(published, holder)])
    left_out = publish(guide).rows_left_out
    assert [(one.file, one.rows) for one in left_out] == ([("sightings/download.csv", 1)] if published is None else [])
    own = [row for row in read_back(guide) if row["occurrenceID"] == "yard:1"]
    assert own[0]["license"] == "https://creativecommons.org/licenses/by/4.0/"


CITED = """yard-set: {cite: Fen 2026, author: D. Fen, year: 2026, title: Beetles of the Fen, version: 1.2, publisher: Fen Office,
  doi: 10.5555/fen, licence: CC-BY-NC-4.0, rights holder: The Fen Trust, accessed: 2026-05-02}
"""


def cited_guide(folder: Path) -> Path:
    guide = write_guide(folder)
    with (guide / "sources.yaml").open("a", encoding="utf-8") as file:
        file.write(CITED)
    (guide / "sightings.yaml").write_text("data sets: {own.csv: yard-set}\n", encoding="utf-8")
    return guide


def test_rows_of_a_cited_data_set_name_it_and_have_its_licence(tmp_path: Path) -> None:
    back = read_back(cited_guide(tmp_path))
    assert {(row["license"], row["rightsHolder"], row["datasetName"], row["datasetID"]) for row in back} == {
        ("https://creativecommons.org/licenses/by-nc/4.0/", "The Fen Trust", "Beetles of the Fen", "https://doi.org/10.5555/fen")
    }
    assert "datasetID" not in read_back(write_guide(tmp_path / "own"))[0]


def test_what_a_row_says_of_itself_goes_before_its_data_set(tmp_path: Path) -> None:
    guide = cited_guide(tmp_path)
    add_table(guide, ((*ROWS[0], "CC0_1_0", "B. Lee", "A set of its own"),), TERMS, "own.csv")
    (row,) = read_back(guide)
    assert (row["license"], row["rightsHolder"], row["datasetName"]) == (
        "https://creativecommons.org/publicdomain/zero/1.0/", "B. Lee", "A set of its own",
    )  # fmt: skip


def test_a_data_set_that_is_called_after_a_secret_place_is_named_nowhere(tmp_path: Path) -> None:
    guide = secret_guide(tmp_path, open_row("o:1"))
    with (guide / "sources.yaml").open("a", encoding="utf-8") as file:
        file.write(CITED.replace("of the Fen,", "of Weir Pool,"))
    (guide / "sightings.yaml").write_text("data sets: {own.csv: yard-set}\n", encoding="utf-8")
    made = publish(guide)
    assert b"eir" not in archive_file(sightings_archive(made))
    assert [one.why for one in made.rows_left_out if "secret" in one.why]


def test_eml_says_that_rows_have_licences_of_their_own(tmp_path: Path) -> None:
    row = ("f:1", "2025-05-03", SEVEN, "adult", "", "1", "", "", "", "", "", "", "", "D. Fen", "CC BY-NC 4.0", "", "")
    assert b"whose field license names another" in sightings_archive(publish(write_guide(tmp_path, (row,), TERMS))).about
    assert b"whose field license names another" not in sightings_archive(publish(write_guide(tmp_path / "own"))).about


def test_made_ids_stay_when_a_place_is_renamed(tmp_path: Path) -> None:
    rows = tuple(("", *row[1:8], "The Wall", *row[9:]) for row in ROWS)
    before = read_back(guide := write_guide(tmp_path, rows))
    change(guide, "places.yaml", "name: The Wall", "name: The Old Wall")
    table = guide / "sightings/own.csv"
    table.write_text(table.read_text(encoding="utf-8").replace("The Wall", "The Old Wall"), encoding="utf-8")
    after = read_back(guide)
    assert [row["occurrenceID"] for row in after] == [row["occurrenceID"] for row in before]
    assert len({row["occurrenceID"] for row in after}) == len(ROWS)
    assert {row["locality"] for row in after} == {"The Old Wall"}


TWO = "Adalia bipunctata"
SECRET_ROW = ("s-2", "2025-06-14", TWO, "adult", "", "9", "", "", "weir pool", "51.60000", "-1.60000", "25", "", "S. Ecret")


def open_row(identity: str, latitude: str = "51.4301", longitude: str = "-1.4302", locality: str = "By the shed") -> tuple[str, ...]:
    return (identity, "2025-06-13", SEVEN, "adult", "", "4", "", "", locality, latitude, longitude, "25", "", "A. Holt")


def secret_guide(folder: Path, *rows: tuple[str, ...]) -> Path:
    guide = write_guide(folder, (SECRET_ROW, *rows))
    change(guide, "accounts/two-spot.md", "hazards: []\n", "hazards: []\nsensitive: high\n")
    return guide


def test_rows_of_a_sensitive_species_name_nobody_and_no_number(tmp_path: Path) -> None:
    rare = [row for row in read_back(secret_guide(tmp_path)) if row["taxonID"] == "two-spot"]
    assert len(rare) == 1
    row = rare[0]
    assert not (row["recordedBy"] or row["individualCount"] or row["verbatimIdentification"])
    assert row["informationWithheld"]
    assert len(row["eventDate"]) < 10
    assert "weir" not in repr(row)


@pytest.mark.parametrize(
    "row",
    [
        open_row("o:a", "51.60000", "-1.60000"),
        open_row("o:b", "51.60050", "-1.60020"),
        open_row("o:c", locality="Weir Pool"),
        open_row("o:d", locality="by the WEIR-POOL"),
        open_row("weir pool 7"),
    ],
)
def test_an_open_species_at_an_unlisted_secret_spot_is_held_back(tmp_path: Path, row: tuple[str, ...]) -> None:
    guide = secret_guide(tmp_path, row, open_row("o:far"))
    assert [one["recordedBy"] for one in read_back(guide) if one["taxonID"] == "seven-spot"] == ["A. Holt"]
    assert [(one.rows, "secret" in one.why) for one in publish(guide).rows_left_out] == [(1, True)]


def test_no_gap_in_ids_that_count_rows_tells_of_a_secret_one(tmp_path: Path) -> None:
    """Between s-1 and s-3 the same observer was there: the missing number would tell the day and the walk."""
    address = "https://records.example/observations/1234567"
    guide = secret_guide(tmp_path, open_row("s-1"), open_row("s-3", "51.4305"), open_row("other-1"), open_row(address))
    ids = {row["occurrenceID"] for row in read_back(guide) if row["taxonID"] == "seven-spot"}
    assert {"other-1", address} < ids
    assert not [identity for identity in ids if identity.startswith("s-")]
    assert len(ids) == 4


def test_the_last_look_lets_decided_rows_pass_and_no_others(tmp_path: Path) -> None:
    guide = secret_guide(tmp_path, open_row("o:1"), open_row("o:2", "51.60050", "-1.60020"), open_row("o:3", "51.62", "-1.43"))
    assert exit_code(["make", str(guide), "data", "--quiet", "--workers", "1"]) == 0
    with zipfile.ZipFile(guide / "published/data/sightings.zip") as archive:
        table = archive.read("occurrence.csv").decode()
    assert "51.4301,-1.4302" in table
    assert "51.6005" not in table
