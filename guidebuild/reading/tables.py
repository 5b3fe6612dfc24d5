"""A table as it is streamed: the names of its columns, and its rows."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.reading.table_errors import UnreadableTableError


@dataclass(frozen=True, slots=True)
class Table:
    """The names of the columns, and the rows beneath; `first` is the number of the first row, as a spreadsheet counts."""

    header: list[str]
    rows: Iterator[list[str]]
    first: int = 2


def header_of(rows: Iterator[list[str]]) -> list[str]:
    """The first row; raises UnreadableTableError where there is none or no cell of it is filled in."""
    header = next(rows, None)
    if header is None or not any(cell.strip() for cell in header):
        raise UnreadableTableError("The file is empty")
    return header
