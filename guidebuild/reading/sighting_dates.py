"""On which day a row of sightings counts: its columns of dates, resolved once for each set of cells."""

from __future__ import annotations

import calendar
import re
from collections.abc import Mapping
from dataclasses import dataclass

from guidebuild.guide.guide import Guide
from guidebuild.guide.problem import Unreadable
from guidebuild.reading.event_dates import EventDate, parse_event_date
from guidebuild.reading.sighting_notes import SightingNotes, Trouble

# A spreadsheet's day nought, as its programs show it: an empty cell that was given a date's looks.
_NOTHING = re.compile(
    r"(?:1899[-/.]12[-/.]3[01]|1900[-/.]0?1[-/.]0?0|3[01][-/.]12[-/.]1899|12[-/.]3[01][-/.]1899|0?0[-/.]0?1[-/.]1900|0?1[-/.]0?0[-/.]1900)"
    r"(?:[T ].*)?"
)


_A_DAY = re.compile(r"\d{4}-\d{2}-\d{2}")
_ZONE = r"(?:Z|[+-]\d{2}:?\d{2})"
_ZONED = re.compile(rf"[\d:.]+{_ZONE}(?:/[\d:.]+{_ZONE})?")
"""A time, or an interval of times, that says how far it is from UTC."""


@dataclass(frozen=True, slots=True)
class Dated:
    """A row's day as an ordinal, or 0 where it is not known to the day.

    `packed` is the day at its place in a gathered row, once it is among the answers. `left_out` is why the row does not count,
    `remarks` what is to be known of it, `trouble` what the author is told.
    """

    day: int = 0
    packed: int = 0
    left_out: str = ""
    remarks: tuple[str, ...] = ()
    trouble: Trouble | None = None


class DateReader:
    """Reads the dates of one file's rows."""

    def __init__(self, guide: Guide, notes: SightingNotes) -> None:
        """Dates are read as the guide says: their order, its time zone, and the day it is looked at."""
        self._notes = notes
        self._order, self._zone = guide.settings.date_order, guide.settings.zone
        self._last_day = guide.as_of
        self._orders: dict[str, int] = {}  # order of day and month seen → first row

    def read(self, cells: Mapping[str, str], row: int) -> Dated:
        """The day of a row by its cells."""
        found: EventDate | Unreadable | None = None
        for text in list_dates(cells):
            if _NOTHING.fullmatch(text):
                return self._no_day("date of nothing", "sighting-date-of-nothing", f"The date {text} stands for an empty cell")
            read = parse_event_date(text, self._order, self._zone)
            if isinstance(read, EventDate):
                found = read
                break
            found = found or read
        if found is None:
            return self._no_day("date missing", "sighting-date-missing", _what_lacks(cells))
        if isinstance(found, Unreadable):
            fate = "date order" if found.code in ("sighting-day-or-month", "sighting-date-order") else "date unread"
            return self._no_day(fate, found.code, found.message, found.mend)
        if found.order:
            self._orders.setdefault(found.order, row)
        if self._last_day is not None and found.first > self._last_day:
            return self._no_day("date future", "sighting-date-future", f"The date {text} lies in the future")
        moved = ("other day",) if found.moved else ()
        return Dated(found.day.toordinal(), remarks=moved) if found.day else Dated(remarks=(_vagueness(found), *moved))

    def _no_day(self, fate: str, code: str, message: str, mend: str = "") -> Dated:
        return Dated(left_out=fate, trouble=self._notes.trouble(code, message, mend=mend))

    def tell_orders(self) -> None:
        """Say so where some dates of the file have the day first and others the month."""
        if len(self._orders) > 1:
            (one, first), (other, second) = self._orders.items()
            self._notes.add("sighting-date-order", f"Row {first} has the {one} and row {second} the {other}", 0)


def list_dates(cells: Mapping[str, str]) -> list[str]:
    """The dates that a row may mean, the most trustworthy first."""
    time = cells.get("eventTime", "").strip()
    dates = [date for date in (cells.get("eventDate", "").strip(), _parts(cells)) if date]
    if _ZONED.fullmatch(time):  # without a zone a time changes no day
        dates = [f"{date}T{time}" if _A_DAY.fullmatch(date) else date for date in dates]
    words = cells.get("verbatimEventDate", "").strip()
    return [*dates, words] if words else dates


def _parts(cells: Mapping[str, str]) -> str:
    """A date in columns of its own. A day without its month is none, and is taken for nothing."""
    year, month, day = (cells.get(term, "").strip() for term in ("year", "month", "day"))
    first, last = (cells.get(term, "").strip() for term in ("startDayOfYear", "endDayOfYear"))
    if not year:
        return ""
    if month:
        return "-".join(part.zfill(2) for part in (year, month, day) if part)
    if first:
        start, end = f"{year}-{first.zfill(3)}", f"{year}-{last.zfill(3)}"
        return f"{start}/{end}" if last and last != first else start
    return "" if day else year


def _what_lacks(cells: Mapping[str, str]) -> str:
    if cells.get("day", "").strip() and cells.get("year", "").strip():
        return "There is a year and a day without a month, which is no date"
    return "There is no date"


def _vagueness(date: EventDate) -> str:
    """What is to be known of a date that is no day."""
    first, last = date.first, date.last
    if first.year != last.year or (first.day, last.day) != (1, calendar.monthrange(last.year, last.month)[1]):
        return "long interval"
    if first.month == last.month:
        return "month only"
    return "year only" if (first.month, last.month) == (1, 12) else "long interval"
