"""Tables and archives as they are downloaded: all rows of ten makers' shapes, and files that are none."""

from __future__ import annotations

import datetime as dt
import io
import zipfile
from collections import Counter
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.reading.table_text import Dialect, find_dialect, open_text, read_rows
from tests.fieldwork.invented import SETTINGS, guide
from tests.reading.table_shapes import SHAPES, SIGHTINGS, aggregator_archive, sightings
from tests.reading.test_sightings import read_all


@pytest.mark.parametrize("name", SHAPES)
def test_all_rows_of_a_makers_shape_are_counted(tmp_path: Path, name: str) -> None:
    SHAPES[name](tmp_path / name)
    of = replace(guide(), settings=replace(SETTINGS, date_order="day first"))
    made = read_all(tmp_path, of, table=(tmp_path / name).read_bytes(), name=name)
    assert (made.counts[0].rows, made.counts[0].counted, made.counts[0].left_out) == (SIGHTINGS, SIGHTINGS, ())
    days = Counter({seen.day: seen.rows for tally in made.tallies for seen in tally.seen() if tally.account == "parent-bug"})
    assert sorted(days) == sorted(dt.date.fromisoformat(s.day) for s in sightings() if s.name == "Elasmucha grisea")
    assert {f.code for f in made.findings} <= {"sightings-more-tables", "sightings-not-utf8", "sighting-place", "sightings-quotation-mark",
                                               "sighting-place-by-position"}  # fmt: skip


def test_what_else_an_archive_holds_is_told_in_a_word(tmp_path: Path) -> None:
    aggregator_archive(tmp_path / "a.zip")
    made = read_all(tmp_path, table=(tmp_path / "a.zip").read_bytes(), name="a.zip")
    assert [(f.code, f.message) for f in made.findings] == [
        ("sightings-more-tables", "What else is in the archive is not read: multimedia, verbatim.")
    ]
    assert sum(t.rows for t in made.tallies if t.place == "north-hedge") == SIGHTINGS


def packed(members: dict[str, bytes]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, data in members.items():
            archive.writestr(name, data)
    return target.getvalue()


BOMB = b'<!DOCTYPE a [<!ENTITY b "bbbb"><!ENTITY c "&b;&b;&b;">]><archive>&c;</archive>'
NO_CORE = b'<archive xmlns="http://rs.tdwg.org/dwc/text/"></archive>'
TAXA = (b'<archive xmlns="http://rs.tdwg.org/dwc/text/"><core rowType="http://rs.tdwg.org/dwc/terms/Taxon"><files>'
        b'<location>taxa.txt</location></files><id index="0"/></core></archive>')  # fmt: skip
GONE = TAXA.replace(b"Taxon", b"Occurrence")
BROKEN = {
    "is damaged": b"PK\x03\x04 not a zip at all",
    "is none of a Darwin Core archive": packed({"meta.xml": BOMB}),
    "Its meta.xml is none of a Darwin Core": packed({"meta.xml": BOMB.decode().encode("utf-16")}),  # nor in another encoding
    "names no core table": packed({"meta.xml": NO_CORE}),
    "cannot be read: no element found": packed({"meta.xml": b"<archive>"}),
    "holds no occurrences, but a table of the kind taxon": packed({"meta.xml": TAXA, "taxa.txt": b"a"}),
    "names “taxa.txt”, which is not in the archive": packed({"meta.xml": GONE}),
    "There is no meta.xml in it and not just one table": packed({"a.csv": b"x", "b.csv": b"y"}),
    "would swell to 60 MB": packed({"a.csv": b"\0" * 60_000_000}),
}


@pytest.mark.parametrize("words", BROKEN)
def test_an_archive_that_cannot_be_read_says_why(tmp_path: Path, words: str) -> None:
    made = read_all(tmp_path, table=BROKEN[words], name="a.zip")
    (found,) = made.findings
    assert found.code == "sightings-not-readable"
    assert words in found.message
    assert made.counts[0].rows == 0


def test_an_archive_that_breaks_off_counts_the_rows_before(tmp_path: Path) -> None:
    rows = "".join(f"Parent Bug,2025-06-02,{n * 7919 % 100_003},{n}\n" for n in range(60_000))
    whole = packed({"a.csv": f"scientificName,eventDate,fieldNumber,recordNumber\n{rows}".encode()})
    broken = bytearray(whole)
    broken[len(whole) // 2] ^= 255
    made = read_all(tmp_path, table=bytes(broken), name="a.zip")
    assert "sightings-not-readable" in {f.code for f in made.findings}


def test_a_text_about_rights_is_no_table_and_no_error(tmp_path: Path) -> None:
    made = read_all(tmp_path, table="Please cite these invented data as told.\nThank you.\n", name="rights.txt")
    assert [(f.code, f.message) for f in made.findings] == [("sightings-no-table", "This text is no table of sightings.")]


def rows_of(text: str, dialect: Dialect) -> tuple[list[list[str]], list[int]]:
    torn: list[int] = []
    return list(read_rows(open_text(lambda: io.BytesIO(text.encode()), dialect), dialect, torn.append)), torn


@pytest.mark.parametrize(
    ("text", "rows", "torn"),
    [
        ('a,b,c\n1,"2,5",3\n', [["1", "2,5", "3"]], []),
        ('a,b,c\n1,"two\nlines",3\n', [["1", "two\nlines", "3"]], []),
        ('a,b,c\n1,5" pot,3\n', [["1", '5" pot', "3"]], []),
        ('a,b,c\n1,"2,3\n4,5,6\n', [["1", "2", "3"], ["4", "5", "6"]], [2]),
        ('a,b,c\n1,"2,3\n4,"x",6\n7,8,9\n', [["1", "2", "3"], ["4", "x", "6"], ["7", "8", "9"]], [2]),
        ('a,b,c\n1,"2,3\n4,5",6\n7,8,9\n', [["1", "2", "3"], ["4", '5"', "6"], ["7", "8", "9"]], [2]),
        ('a,b,c\n1,2,"3\n4,5,6\n7,8,"9\n', [["1", "2", "3"], ["4", "5", "6"], ["7", "8", "9"]], [2, 4]),
        ('a,b,c\n1,"he said ""no""",3\n', [["1", 'he said "no"', "3"]], []),
        ('a,b,c\n"1"x,2,3\n4,5,6\n', [["1x", "2", "3"], ["4", "5", "6"]], [2]),
    ],
)
def test_a_quotation_mark_that_nobody_closed_swallows_no_row(text: str, rows: list[list[str]], torn: list[int]) -> None:
    made, told = rows_of(text, Dialect())
    assert (made[1:], told) == (rows, torn)


@pytest.mark.parametrize(
    ("start", "found"),
    {
        b"a\tb\n1": Dialect(separator="\t", quote=""), b"a;b\r\n": Dialect(separator=";"), b"a,b\r1,2": Dialect(line_end="\r"),
        "a\tb".encode("utf-16"): Dialect("utf-16", "\t", ""), "a,b,c".encode("utf-16-le"): Dialect("utf-16-le"),
        b"sep=|\na|b": Dialect(separator="|", lines_before=1), b"a;b\rc\nd;e": Dialect(separator=";"),
    }.items(),
)  # fmt: skip
def test_a_dialect_is_found_by_the_first_bytes(start: bytes, found: Dialect) -> None:
    assert find_dialect(start) == found
