"""What was really seen: sightings gathered into tallies, small enough to hold a million of them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple

from guidebuild.guide.findings import At
from guidebuild.guide.region import PackedSquare
from guidebuild.guide.text.inline import Unshown


class SeenSpot(NamedTuple):
    """Where a row of what is kept secret stands: the locality as typed, where the guide has no such place, and its degrees."""

    locality: Unshown = ""
    latitude: float | None = None
    longitude: float | None = None


class RowGroup(NamedTuple):
    """Rows of a file that share a fate: its code, what it is in words, how many they are, and the first of them with its cells."""

    code: Unshown
    words: Unshown
    rows: int
    first: int
    example: Unshown


class UnknownWord(NamedTuple):
    """A word of a file that the guide has none for: what it is, and how many rows have it.

    A `name`, a `place` or a `stage`, which are words of cells; or a `column`, by its heading.
    """

    kind: str
    word: Unshown
    rows: int
    first: int


@dataclass(frozen=True, slots=True)
class FileCount:
    """What became of the rows of a file: `rows` are those that are counted and those of `left_out` together.

    `remarks` are of rows that are counted or left out already, where something is to be known of them; `unknown` are the words
    that no table of the guide explains.
    """

    file: Unshown
    rows: int = 0
    counted: int = 0
    left_out: tuple[RowGroup, ...] = ()
    remarks: tuple[RowGroup, ...] = ()
    unknown: tuple[UnknownWord, ...] = ()


@dataclass(frozen=True, slots=True)
class Seen:
    """One day's sightings within a tally: how many rows, and the first row that says so."""

    day: dt.date
    rows: int
    at: At


@dataclass(frozen=True, slots=True)
class SeenDays:
    """Days on which one account was seen at a stage and a place. `stage` and `place` are "" where the rows do not say.

    `days` and `counts` run side by side, sorted by day: proleptic Gregorian ordinals, and rows on that day. `loose` counts
    rows whose date is not known to the day (a year, a month, a long interval): they show presence, never a season.
    """

    account: Unshown
    stage: Unshown
    place: Unshown
    days: tuple[int, ...] = ()
    counts: tuple[int, ...] = ()
    loose: int = 0

    @property
    def rows(self) -> int:
        """Rows that report it, dated to the day or not."""
        return sum(self.counts) + self.loose


@dataclass(frozen=True, slots=True)
class Tally(SeenDays):
    """Sightings with where they stand in the author's files.

    `first_rows` are the first rows of each day (spreadsheet row, header = 1), and `files` the file of each. `absences` counts
    rows that say the species was looked for and not found, `doubtful` those that are no more than likely to be it (`cf.`, `?`):
    they show in no season and make nothing likely. `spots` are where the rows were, of a sensitive species or a secret place only.
    `squares` are those of the guide's maps, packed, with the latest day in each (0: not known to the day), None for rows that are
    known by their place alone; `sought` are those of the rows that say absence. Both are empty of what is kept secret.
    """

    first_rows: tuple[int, ...] = ()
    files: tuple[Unshown, ...] = ()
    absences: int = 0
    doubtful: int = 0
    spots: tuple[SeenSpot, ...] = ()
    squares: tuple[tuple[PackedSquare | None, int], ...] = ()
    sought: tuple[PackedSquare | None, ...] = ()

    def seen(self) -> Iterator[Seen]:
        """Each day in order."""
        for day, rows, first, file in zip(self.days, self.counts, self.first_rows, self.files, strict=True):
            yield Seen(dt.date.fromordinal(day), rows, At(file, first))
