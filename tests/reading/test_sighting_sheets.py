"""Workbooks of sightings; all that stands in them is invented."""

from __future__ import annotations

import datetime as dt
import zipfile
from dataclasses import replace
from pathlib import Path

import openpyxl

from guidebuild.guide.sightings import Tally
from guidebuild.reading.sighting_words import shipped_words
from tests.fieldwork.invented import guide
from tests.reading.test_sightings import read_all

_ODS = """<?xml version="1.0" encoding="UTF-8"?>
<office:document-content xmlns:office="urn:oasis:names:tc:opendocument:xmlns:office:1.0"
 xmlns:table="urn:oasis:names:tc:opendocument:xmlns:table:1.0" xmlns:text="urn:oasis:names:tc:opendocument:xmlns:text:1.0">
<office:body><office:spreadsheet><table:table table:name="Rows">{rows}</table:table></office:spreadsheet></office:body>
</office:document-content>"""
_TEXT = '<table:table-cell office:value-type="string"><text:p>{0}</text:p></table:table-cell>'
_DATE = '<table:table-cell office:value-type="date" office:date-value="{0}"><text:p>{0}</text:p></table:table-cell>'
_NUMBER = '<table:table-cell office:value-type="float" office:value="{0}"><text:p>{0}</text:p></table:table-cell>'


def workbook(path: Path, *, empty_rows: int = 0) -> None:
    """A leader's workbook: cells of days, numbers and texts; notes on the second sheet."""
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "2025"
    for row in [(None,)] * empty_rows + [
        ("scientificName", "eventDate", "individualCount", "locality", "decimalLatitude", "decimalLongitude"),
        ("Elasmucha grisea", dt.date(2025, 6, 2), 3, "North Hedge", None, None),
        ("Elasmucha grisea", dt.datetime(2025, 6, 3, 14, 30), 1.0, None, 51.1034, -1.3121),
        ("Elasmucha grisea", "2025-06-04", 0, "North Hedge", None, None),
        ("Elasmucha grisea", dt.date(2025, 6, 5), "a few", "North Hedge", None, None),
    ]:
        sheet.append(row)
    other = book.create_sheet("Old")
    for row in (("scientificName", "eventDate"), ("Parent Bug", dt.date(2020, 6, 2))):
        other.append(row)
    book.save(path)


def days(tallies: tuple[Tally, ...]) -> list[str]:
    return [f"{seen.day} {tally.place} row {seen.at.line}" for tally in tallies for seen in tally.seen()]


def test_the_first_sheet_of_a_workbook_is_read_with_its_days_and_numbers(tmp_path: Path) -> None:
    for empty in (0, 2):
        workbook(tmp_path / "survey.xlsx", empty_rows=empty)
        made = read_all(tmp_path, table=(tmp_path / "survey.xlsx").read_bytes(), name="survey.xlsx")
        assert days(made.tallies) == [f"2025-06-0{day} north-hedge row {day + empty}" for day in (2, 3, 5)]
        assert [(t.absences, t.rows) for t in made.tallies] == [(1, 3)]
        assert [f.message for f in made.findings] == [f"The count “a few” is not a whole number (row {5 + empty})."]


def test_a_sheet_is_named_in_the_guides_words_and_a_wrong_one_is_told(tmp_path: Path) -> None:
    workbook(tmp_path / "survey.xlsx")
    data = (tmp_path / "survey.xlsx").read_bytes()
    of = replace(guide(), sighting_words=replace(shipped_words(), sheets={"survey.xlsx": "Old"}))
    assert days(read_all(tmp_path, of, table=data, name="survey.xlsx").tallies) == ["2020-06-02  row 2"]
    of = replace(guide(), sighting_words=replace(shipped_words(), sheets={"survey.xlsx": "New"}))
    (found,) = read_all(tmp_path, of, table=data, name="survey.xlsx").findings
    assert (found.code, found.message, found.mend) == ("sightings-not-readable", "It has no sheet “New”.", "Its sheets are: 2025, Old.")


def test_an_open_document_sheet_is_read(tmp_path: Path) -> None:
    rows = [[_TEXT.format(word) for word in ("scientificName", "eventDate", "individualCount")]]
    rows += [[_TEXT.format("Parent Bug"), _DATE.format(f"2025-06-0{n}"), _NUMBER.format(n)] for n in range(1, 4)]
    content = _ODS.format(rows="".join(f"<table:table-row>{''.join(row)}</table:table-row>" for row in rows))
    with zipfile.ZipFile(tmp_path / "a.ods", "w") as packed:
        packed.writestr("mimetype", "application/vnd.oasis.opendocument.spreadsheet")
        packed.writestr("META-INF/manifest.xml", '<manifest:manifest xmlns:manifest="urn:oasis:names:tc:opendocument:xmlns:manifest:1.0"/>')
        packed.writestr("content.xml", content)
    made = read_all(tmp_path, table=(tmp_path / "a.ods").read_bytes(), name="a.ods")
    assert (days(made.tallies), made.findings) == ([f"2025-06-0{n}  row {n + 1}" for n in range(1, 4)], ())


def test_what_is_no_workbook_or_swells_says_so(tmp_path: Path) -> None:
    for data, words in ((b"PK\x03\x04 no workbook", "is damaged"), (swollen(tmp_path), "would swell")):
        (found,) = read_all(tmp_path, table=data, name="a.xlsx").findings
        assert found.code == "sightings-not-readable"
        assert words in found.message
    (found,) = read_all(tmp_path, table=b"nothing of the kind", name="a.xls").findings
    assert found.message == "The workbook cannot be read."


def swollen(folder: Path) -> bytes:
    with zipfile.ZipFile(folder / "big.xlsx", "w", zipfile.ZIP_DEFLATED) as packed:
        packed.writestr("xl/worksheets/sheet1.xml", b" " * 60_000_000)
    return (folder / "big.xlsx").read_bytes()
