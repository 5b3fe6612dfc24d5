"""A file of sightings → its table: a header, and rows that are streamed."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.table_text import count_bad_bytes, open_text, read_rows, sniff


@dataclass(frozen=True, slots=True)
class Table:
    """The names of the columns, and the rows beneath; `first` is the number of the first row, as a spreadsheet counts."""

    header: list[str]
    rows: Iterator[list[str]]
    first: int = 2


class UnreadableTableError(Exception):
    """A file is no table; the message says why, `mend` what helps."""

    def __init__(self, message: str, mend: str = "") -> None:
        super().__init__(message)
        self.mend = mend


@contextmanager
def open_table(path: Path, notes: SightingNotes) -> Iterator[Table]:
    """The table of a file. Raises OSError or UnreadableTableError where there is none."""
    dialect = sniff(lambda: path.open("rb"))
    bad = count_bad_bytes()
    with open_text(lambda: path.open("rb"), dialect) as text:
        rows = read_rows(text, dialect, lambda line: _tell_torn(line, notes))
        yield Table(_header_of(rows), rows)
    if count_bad_bytes() > bad:
        notes.add("sightings-not-utf8", "The file is not in UTF-8; it is read as Windows-1252", 0)


def _tell_torn(line: int, notes: SightingNotes) -> None:
    notes.add("sightings-quotation-mark", f"From line {line} on a quotation mark is not closed, and lines are read one by one", 0)


def _header_of(rows: Iterator[list[str]]) -> list[str]:
    header = next(rows, None)
    if header is None or not any(cell.strip() for cell in header):
        raise UnreadableTableError("The file is empty")
    return header
