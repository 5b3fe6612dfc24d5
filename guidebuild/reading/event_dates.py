"""Dates of sightings: Darwin Core eventDate after ISO 8601-1, and the ways people type a day.

Nothing is guessed: 05/06/2020 is left unread unless the guide says which comes first. The end of an interval counts as
part of it, by our own choice: the standard's examples said "to the end of" until 2023 and "before" since 2025.
"""

from __future__ import annotations

import calendar
import datetime as dt
import re
from dataclasses import dataclass
from functools import lru_cache
from zoneinfo import ZoneInfo

from guidebuild.counting import count_of
from guidebuild.guide.problem import Unreadable

DAY_FIRST, MONTH_FIRST = "day first", "month first"
_HOURS, _SIXTY = r"(?:[01]\d|2[0-4])", r"[0-5]\d"
_OFFSET = r"(?P<offset>Z|UTC|GMT|[-+−](?:0\d|1[0-4])(?::?[0-5]\d)?)?"
# After a T as ISO 8601 writes times; after a space also as people and spreadsheets do (4:30).
_CLOCK = rf"(?:T{_HOURS}(?::?{_SIXTY}(?::?(?:{_SIXTY}|60)(?:[.,]\d+)?)?)?|\s(?:[01]?\d|2[0-4]):{_SIXTY}(?::{_SIXTY}(?:[.,]\d+)?)?)"
_TIME = rf"(?P<time>{_CLOCK}\s*{_OFFSET})?"
_ISO = re.compile(rf"(?P<year>\d{{4}})(?:-(?P<month>\d{{1,2}}))?(?:(?<=-\d\d)-(?P<day>\d{{2}}){_TIME})?", re.IGNORECASE)
_BASIC = re.compile(rf"(?P<year>\d{{4}})(?P<month>\d{{2}})(?P<day>\d{{2}}){_TIME}", re.IGNORECASE)
_ORDINAL = re.compile(rf"(?P<year>\d{{4}})-(?P<number>\d{{3}}){_TIME}", re.IGNORECASE)
_WEEK = re.compile(r"(?P<year>\d{4})-?W(?P<week>\d{2})(?:-?(?P<day>[1-7]))?", re.IGNORECASE)
_END_OF_ISO = re.compile(rf"(?:(?P<month>\d{{2}})-)?(?P<last>\d{{2}}){_TIME}", re.IGNORECASE)
_TIME_ALONE = re.compile(rf"(?:[01]?\d|2[0-4]):{_SIXTY}(?::{_SIXTY})?{_OFFSET}", re.IGNORECASE)
_YEAR_FIRST = re.compile(rf"(?P<year>\d{{4}})(?P<sep>[/.-])(?P<month>\d{{1,2}})(?P=sep)(?P<day>\d{{1,2}}){_TIME}", re.IGNORECASE)
_NUMBERS = re.compile(rf"(?P<one>\d{{1,2}})(?P<sep>[/.-])(?P<two>\d{{1,2}})(?P=sep)(?P<year>\d{{2,4}}){_TIME}", re.IGNORECASE)
_WEEKDAY = r"(?:(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+)?"
_DAY_MONTH = re.compile(
    rf"{_WEEKDAY}(?P<day>\d{{1,2}})(?:st|nd|rd|th)?[\s.-]*(?:of\s+)?(?P<month>[a-z]{{3,9}})\.?,?[\s-]*(?P<year>\d{{2,4}})", re.I
)
_MONTH_DAY = re.compile(rf"{_WEEKDAY}(?P<month>[a-z]{{3,9}})\.?\s+(?P<day>\d{{1,2}})(?:st|nd|rd|th)?,?\s+(?P<year>\d{{2,4}})", re.I)
_MONTHS = {name.lower(): n for names in (calendar.month_name, calendar.month_abbr) for n, name in enumerate(names) if n}
_MONTHS["sept"] = 9
_ISO_EXAMPLE = "Write the date as 2021-09-14; words for it can stand in verbatimEventDate."
OLDEST = 1500


@dataclass(frozen=True, slots=True)
class EventDate:
    """The first and last day on which it can have been; the same for a day. `order` tells what a slashed date showed.

    `moved` says that a time of another zone lies on another day by the guide's own clocks.
    """

    first: dt.date
    last: dt.date
    order: str = ""
    moved: bool = False

    @property
    def day(self) -> dt.date | None:
        """The day, or the middle of an interval of up to ten days (no longer than a dekad); else None."""
        length = (self.last - self.first).days
        return self.first + dt.timedelta(days=length // 2) if length <= 9 else None


def parse_event_date(text: str, order: str = "", zone: str = "") -> EventDate | Unreadable:
    """Read a date, month, year or interval. `order` is "day first", "month first" or "" for slashed dates.

    A time with its offset falls on a day of `zone`, the guide's time zone; without a zone, on the day as written.
    """
    plain = " ".join(text.split())
    try:
        date = _read(plain, order, zone)
    except (ValueError, OverflowError):
        return Unreadable(f"There is no such day as “{text}”.", _ISO_EXAMPLE, "sighting-date")
    if date is None:
        return Unreadable(f"The date “{text}” cannot be read.", _ISO_EXAMPLE, "sighting-date")
    if isinstance(date, EventDate) and date.first > date.last:
        return Unreadable(f"The interval “{text}” ends before it starts.", "Put the earlier date first.", "sighting-date")
    if isinstance(date, EventDate) and date.first.year < OLDEST:
        return Unreadable(f"The year in “{text}” is before {OLDEST}.", _ISO_EXAMPLE, "sighting-date")
    return date


def _read(text: str, order: str, zone: str) -> EventDate | Unreadable | None:
    """None where no pattern fits; ValueError where one fits but there is no such day."""
    if match := _NUMBERS.fullmatch(text):
        return _numbers(text, match, order)
    if match := _YEAR_FIRST.fullmatch(text):
        return _on_day(dt.date(int(match["year"]), int(match["month"]), int(match["day"])), match, zone)
    if "/" in text:
        start, end = text.split("/", 1)
        return _interval(start, end, zone)
    if match := _DAY_MONTH.fullmatch(text) or _MONTH_DAY.fullmatch(text):
        return _with_month_word(text, match)
    return _single(text, zone)


def _single(text: str, zone: str) -> EventDate | None:
    """One ISO date, month, year, day of year or week."""
    if match := _ISO.fullmatch(text) or _BASIC.fullmatch(text):
        date = _calendar(int(match["year"]), int(match["month"] or 0), int(match["day"] or 0))
        return _on_day(date.first, match, zone) if match["time"] else date
    if match := _ORDINAL.fullmatch(text):
        year, number = int(match["year"]), int(match["number"])
        day = dt.date(year, 1, 1) + dt.timedelta(days=number - 1)
        if number < 1 or day.year != year:
            raise ValueError
        return _on_day(day, match, zone)
    if match := _WEEK.fullmatch(text):
        first = dt.date.fromisocalendar(int(match["year"]), int(match["week"]), int(match["day"] or 1))
        return EventDate(first, first if match["day"] else first + dt.timedelta(days=6))
    return None


def _on_day(day: dt.date, match: re.Match[str], zone: str) -> EventDate:
    """A day, or where its time has an offset, the day that it then was by the clocks of a zone."""
    offset = match["offset"]
    if not offset or zone in ("", "UTC"):
        return EventDate(day, day)
    clock, behind = re.match(r"\D(\d{1,2}):?(\d{2})?", match["time"]), re.match(r"([-+−])(\d{2}):?(\d{2})?", offset)
    moment = dt.datetime.combine(day, dt.time(), dt.UTC)
    if clock:
        moment += dt.timedelta(hours=int(clock[1]), minutes=int(clock[2] or 0))
    if behind:
        ahead = dt.timedelta(hours=int(behind[2]), minutes=int(behind[3] or 0))
        moment += -ahead if behind[1] == "+" else ahead
    local = moment.astimezone(_zone_called(zone)).date()
    return EventDate(local, local, moved=local != day)


@lru_cache(maxsize=8)
def _zone_called(zone: str) -> ZoneInfo:
    return ZoneInfo(zone)


def _calendar(year: int, month: int, day: int) -> EventDate:
    """A day; the whole month where `day` is 0, the whole year where `month` is 0."""
    if not month:
        return EventDate(dt.date(year, 1, 1), dt.date(year, 12, 31))
    if not day:
        return EventDate(dt.date(year, month, 1), dt.date(year, month, calendar.monthrange(year, month)[1]))
    exact = dt.date(year, month, day)
    return EventDate(exact, exact)


def _interval(start: str, end: str, zone: str) -> EventDate | None:
    """`2007-11-13/15`: parts left out at the end are those of the start."""
    first = _single(start, zone)
    if first is None:
        return None
    if _TIME_ALONE.fullmatch(end):
        return first
    last = _single(end, zone)
    short = _END_OF_ISO.fullmatch(end)
    if last is None and short:
        year = first.first.year
        if first.first == first.last:
            last = _calendar(year, int(short["month"] or first.first.month), int(short["last"]))
        elif not short["month"] and first.first.month == first.last.month:
            last = _calendar(year, int(short["last"]), 0)
    return EventDate(first.first, last.last, moved=first.moved or last.moved) if last else None


def _short_year(text: str, year: str) -> Unreadable | None:
    if len(year) == 4:
        return None
    return Unreadable(f"The year in “{text}” has {count_of(len(year), 'digit')}.", "Write all four: 1968 or 2068.", "sighting-year")


def _numbers(text: str, match: re.Match[str], order: str) -> EventDate | Unreadable:
    """`14/09/2021`: read where only one order is possible, or where the guide says which it is."""
    if short := _short_year(text, match["year"]):
        return short
    one, two, year = int(match["one"]), int(match["two"]), int(match["year"])
    if one <= 12 and two <= 12 and one != two and not order:
        return Unreadable(f"Day or month first in “{text}”?", "Write “dates: day first” or “dates: month first” in guide.yaml.",
                          "sighting-day-or-month")  # fmt: skip
    shown = DAY_FIRST if one > 12 else MONTH_FIRST if two > 12 else ""
    if shown and order and shown != order:
        return Unreadable(f"“{text}” is not {order}, as guide.yaml says dates are.", _ISO_EXAMPLE, "sighting-date-order")
    day, month = (two, one) if (shown or order) == MONTH_FIRST else (one, two)
    exact = dt.date(year, month, day)
    return EventDate(exact, exact, shown)


def _with_month_word(text: str, match: re.Match[str]) -> EventDate | Unreadable | None:
    """`Tuesday 14th Sept. 2021`."""
    month = _MONTHS.get(match["month"].lower())
    if month is None:
        return None
    if short := _short_year(text, match["year"]):
        return short
    exact = dt.date(int(match["year"]), month, int(match["day"]))
    return EventDate(exact, exact)
