"""Files of sightings → single rows as they were typed, read once more when they are to be handed on.

A check needs tallies alone, and a million rows held one by one would take ten times their memory.
"""

from __future__ import annotations

import calendar
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from guidebuild.guide.sighting_records import CARRIED, SightingRecord
from guidebuild.reading.event_dates import EventDate, parse_event_date
from guidebuild.reading.sighting_columns import DATES, Cells, Columns, name_cells
from guidebuild.reading.sighting_dates import list_dates

_ABSENT, _DOUBTFUL = "absence", "doubtful"
_SOMEONES = ("license", "rights", "rightsHolder", "gbifID", "datasetKey", "datasetID")
"""Columns by which a file says that its rows have an owner."""
_KEPT_AS_TYPED = re.compile(r"\d{4}(?:-\d\d(?:-\d\d(?:T[\d:.Z+-]+)?)?)?(?:/\d{4}(?:-\d\d(?:-\d\d(?:T[\d:.Z+-]+)?)?)?)?")


@dataclass(slots=True)
class Recorder:
    """Keeps rows, with the order of days and months in dates and the time zone of their guide. Texts that many rows share are held once."""

    order: str
    zone: str
    records: list[SightingRecord] = field(default_factory=list)
    _texts: dict[str, str] = field(default_factory=dict)

    def for_file(self, file: str, columns: Columns) -> FileRecorder:
        """What keeps the rows of one file."""
        pick, terms = columns.picker(CARRIED), columns.present(DATES)
        foreign = file.lower().endswith(".zip") or bool(columns.present(_SOMEONES))
        return FileRecorder(self, file, pick, terms, columns.picker(terms), foreign)

    def keep_once(self, texts: Sequence[str]) -> tuple[str, ...]:
        """The same texts, each held once."""
        return tuple(self._texts.setdefault(text, text) for text in map(str.strip, texts))


@dataclass(frozen=True, slots=True)
class FileRecorder:
    """Keeps the rows of one file."""

    all: Recorder
    file: str
    pick: Callable[[Sequence[str]], Cells]
    date_terms: tuple[str, ...]
    pick_dates: Callable[[Sequence[str]], Cells]
    foreign: bool

    def keep(self, row: Sequence[str], key: tuple[str, str, str], day: int, spot: object, fate: str) -> None:
        """Keep a row of the species, stage and place of `key`; `fate` is why it is not counted, "" where it is."""
        if fate not in ("", _ABSENT, _DOUBTFUL):
            return
        cells = self.pick(row)
        when = _tell_date(tuple(name_cells(self.date_terms, self.pick_dates(row)).items()), self.all.order, self.all.zone)
        there = (float(spot[0]), float(spot[1])) if isinstance(spot, tuple) else None
        kept = self.all.keep_once((when, *cells))
        record = SightingRecord(*key, self.file, kept[0], day, kept[1:], there, self.foreign, fate == _ABSENT, fate == _DOUBTFUL)
        self.all.records.append(record)


@lru_cache(maxsize=50_000)
def _tell_date(cells: tuple[tuple[str, str], ...], order: str, zone: str) -> str:
    """The date of a row after ISO 8601: as typed where it is that already, an interval as an interval."""
    for text in list_dates(dict(cells)):
        read = parse_event_date(text, order, zone)
        if isinstance(read, EventDate):
            return text if _KEPT_AS_TYPED.fullmatch(text) else write_interval(read)
    return ""


def write_interval(date: EventDate) -> str:
    """A day, a whole month or year, else first and last day."""
    first, last = date.first, date.last
    if first == last:
        return first.isoformat()
    whole = first.day == 1 and last.day == calendar.monthrange(last.year, last.month)[1] and first.year == last.year
    if whole and first.month == last.month:
        return first.isoformat()[:7]
    if whole and (first.month, last.month) == (1, 12):
        return first.isoformat()[:4]
    return f"{first.isoformat()}/{last.isoformat()}"
