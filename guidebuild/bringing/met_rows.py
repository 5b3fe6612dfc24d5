"""Rows of an offered table that the guide has already, by their IDs; and what they say otherwise than the row that stands.

Of two rows with one ID the guide counts the first. So a count that was changed after it was given out comes with the number that stands
already beside it, and only its author can say which of them is right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from pathlib import Path

from guidebuild.guide.sighting_words import SightingWords
from guidebuild.reading.sighting_columns import KNOWN_TERMS, spell_term
from guidebuild.reading.sighting_copies import OWN_NUMBER
from guidebuild.reading.sighting_headings import read_headings
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.sighting_tables import open_table
from guidebuild.reading.table_errors import UnreadableTableError

_ID = "occurrenceid"
_COMPARED = 100_000
"""Rows that are compared cell by cell: more share their IDs only where a whole download is brought once more."""
Cells = dict[str, str]
"""The cells of a row by their terms, in small letters."""


@dataclass(frozen=True, slots=True)
class MetRow:
    """A row of an offered table, and the row of the guide that has its ID: where each stands, and the terms of which they say otherwise."""

    identity: str
    number: int
    file: str
    standing: int
    differing: tuple[tuple[str, str, str], ...]
    """A term, what the row that stands says, and what the offered one does."""

    def __str__(self) -> str:
        """In a sentence, where they differ."""
        other = ", ".join(f"{term} “{new}” instead of “{old}”" for term, old, new in self.differing)
        return f"row {self.number} is row {self.standing} of {self.file} ({self.identity}) with {other}"


@dataclass(frozen=True, slots=True)
class MetRows:
    """How many rows a table has, and those that the guide has already."""

    rows: int
    met: tuple[MetRow, ...]

    @property
    def differing(self) -> list[MetRow]:
        """Those that say something else than the row that stands."""
        return [row for row in self.met if row.differing]

    @property
    def is_nothing_new(self) -> bool:
        """Whether every row stands already as it is."""
        return 0 < self.rows == len(self.met) and not self.differing


def find_met_rows(offered: Path, standing: Sequence[tuple[str, Path]], words: SightingWords) -> MetRows:
    """The rows of a table whose IDs stand in other files, given by their names in the guide and where they are."""
    identities = {identity for _, identity, _ in _read_rows(offered, words)} if standing else set()
    known: dict[str, tuple[str, int, Cells]] = {}
    for file, path in standing if identities else ():
        for number, identity, cells in _read_rows(path, words):
            if identity in identities and len(known) < _COMPARED:
                known.setdefault(identity, (file, number, cells))
    rows, met = 0, []
    for number, identity, cells in _read_rows(offered, words, whole=True) if known else ():
        rows += 1
        if identity in known:
            file, there, old = known.pop(identity)
            differing = tuple((spell_term(term), old[term], cells[term]) for term in cells if term in old and old[term] != cells[term])
            met.append(MetRow(identity, number, file, there, differing))
    return MetRows(rows, tuple(met))


def _read_rows(path: Path, words: SightingWords, *, whole: bool = False) -> Iterator[tuple[int, str, Cells]]:
    """The number, ID and cells of each row with an ID that is no mere number, or of all rows; of what cannot be read, none."""
    try:
        with open_table(path, SightingNotes(path.name)) as table:
            terms = read_headings(table.header, KNOWN_TERMS, words).terms
            if _ID not in terms:
                return
            at = terms.index(_ID)
            for number, row in enumerate(table.rows, table.first):
                identity = row[at].strip() if len(row) > at else ""
                if len(identity) > OWN_NUMBER or (whole and any(row)):
                    yield number, identity, {term: cell.strip() for term, cell in zip(terms, row, strict=False) if term}
    except (OSError, UnreadableTableError):
        return
