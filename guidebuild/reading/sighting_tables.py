"""A file of sightings → its table, whatever kind of file it is."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.table_text import count_bad_bytes, open_text, read_rows, sniff
from guidebuild.reading.tables import Table, header_of

with imported_when_used():  # most tables are texts
    from guidebuild.reading import sighting_archives, sighting_sheets

SHEETS = (".xlsx", ".ods", ".xls")


@contextmanager
def open_table(path: Path, notes: SightingNotes, sheet: str = "") -> Iterator[Table]:
    """The table of a file; of a workbook the named sheet. Raises OSError or UnreadableTableError where there is none."""
    kind = path.suffix.lower()

    def tell_torn(line: int) -> None:
        notes.add("sightings-quotation-mark", f"From line {line} on a quotation mark is not closed, and lines are read one by one", 0)

    bad = count_bad_bytes()
    if kind in SHEETS:
        with sighting_sheets.open_sheet(path, sheet) as table:
            yield table
    elif kind == ".zip":
        with sighting_archives.open_archive(path, notes, tell_torn) as table:
            yield table
    else:
        dialect = sniff(lambda: path.open("rb"))
        with open_text(lambda: path.open("rb"), dialect) as text:
            rows = read_rows(text, dialect, tell_torn)
            yield Table(header_of(rows), rows, dialect.lines_before + 2)
    if count_bad_bytes() > bad:
        notes.add("sightings-not-utf8", "The file is not in UTF-8; it is read as Windows-1252", 0)
