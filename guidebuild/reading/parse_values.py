"""Typed text → dates, times, points, lengths of time and other small values, each answering an Unreadable where it cannot."""

from __future__ import annotations

import datetime as dt
import re
from collections.abc import Callable
from urllib.parse import urlsplit
from zoneinfo import ZoneInfo

from guidebuild.guide.coordinate_text import find_precision, parse_coordinate
from guidebuild.guide.findings import Level
from guidebuild.guide.ids import can_name_a_file
from guidebuild.guide.measure_text import canonical_unit, parse_measure
from guidebuild.guide.measures import WORTH, Measure
from guidebuild.guide.problem import Unreadable
from guidebuild.guide.records import Position, Sensitivity

_DASH = re.compile(r"[\u2010-\u2015\u2212]")
_NUMBER = r"[-+]?\d{1,9}(?:\.\d{1,9})?"
_YES = frozenset({"yes", "true", "y", "on"})
_NO = frozenset({"no", "false", "n", "off"})
# Categories after Chapman (2020), Current Best Practices for Generalizing Sensitive Species Occurrence Data, tables 6, 7.
CATEGORIES = {"extreme": 1, "high": 2, "medium": 3, "low": 4}
# Millimetres. Printers ask for 3 mm or 1/8 in and seldom for more than 5 mm (common practice, no source).
MOST_BLEED = 10.0
THINNEST, THICKEST = 0.03, 1.0
"""Of one sheet of paper, millimetres: what prints and binds (common practice, no source)."""


# Signs that end an address, or stand in it only to deceive.
_NO_ADDRESS = re.compile(r"[\s\"'<>\\^`{|}\x00-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
_LANGUAGE = re.compile(r"[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8}){0,3}")


def parse_address(text: str) -> str | Unreadable:
    """A web address in full; nothing else may stand where readers click."""
    mend = "Write it in full, such as https://example.org/page."
    try:
        parts = urlsplit(text.strip())
        good = parts.scheme in {"http", "https"} and bool(parts.hostname) and not _NO_ADDRESS.search(text.strip())
    except ValueError:
        good = False
    return text.strip() if good or not text.strip() else Unreadable(f"'{text[:60]}' is not a web address.", mend)


def parse_file_word(text: str) -> str | Unreadable:
    """A word that stands in the names of files."""
    if can_name_a_file(text):
        return text
    return Unreadable(f"'{text[:60]}' cannot stand in a file's name.", "Write a short word of letters, digits and hyphens.")


def parse_language(text: str) -> str | Unreadable:
    """A language code (BCP 47): `en`, `pt-BR`."""
    word = text.strip()
    if _LANGUAGE.fullmatch(word) and can_name_a_file(word):
        return word
    return Unreadable(f"'{text[:60]}' is not a language code.", "Write a code such as en, es or pt-BR.")


def parse_zone(text: str) -> str | Unreadable:
    """A time zone of the tz database: `Europe/London`."""
    try:
        ZoneInfo(text.strip())
    except (KeyError, ValueError, OSError):
        return Unreadable(f"'{text[:60]}' is not a time zone.", "Write a zone of the tz database, such as Europe/London.")
    return text.strip()


def parse_yes_no(text: str) -> bool | Unreadable:
    """`yes` or `no`, in any case."""
    word = text.strip().lower()
    if word in _YES or word in _NO:
        return word in _YES
    return Unreadable(f"'{text}' is neither yes nor no.", "Write yes or no.")


_YEARS = range(1700, 2200)
"""Years that a photo, a review or a walk may have."""


def parse_day(text: str) -> dt.date | Unreadable:
    """A date as year-month-day (ISO 8601), since 03/04 is two days to two readers."""
    mend = "Write the date as year-month-day, such as 2026-05-02."
    if not re.fullmatch(r"\d{4}-\d\d?-\d\d?", text.strip()):
        return Unreadable(f"'{text}' is not a date.", mend)
    year, month, day = (int(part) for part in text.strip().split("-"))
    if year not in _YEARS:
        # Beyond a slip of the hand: the calendars of walks reckon with the days around, and the calendar of Python ends in 9999.
        return Unreadable(f"The year {year} lies outside {_YEARS.start}–{_YEARS.stop - 1}.", mend)
    try:
        return dt.date(year, month, day)
    except ValueError:
        return Unreadable(f"There is no day '{text}'.", mend)


def parse_clock(text: str) -> dt.time | Unreadable:
    """A time of day such as 9:30 or 14:00."""
    match = re.fullmatch(r"(\d{1,2})[:.](\d\d)", text.strip())
    if match and int(match[1]) < 24 and int(match[2]) < 60:
        return dt.time(int(match[1]), int(match[2]))
    return Unreadable(f"'{text}' is not a time of day.", 'Write hours and minutes with a colon, such as 14:00 or "14:00".')


def parse_seconds(text: str) -> float | Unreadable:
    """A length of time or a clip mark in seconds: `1:05`, `1:02:03.450`, `90 s`, `5 min`, `1 h`."""
    text = text.strip().replace(",", ".")
    if re.fullmatch(r"\d{1,3}(:\d{1,2}){1,2}(\.\d{1,3})?", text):
        seconds = 0.0
        for part in text.split(":"):
            seconds = seconds * 60 + float(part)
        return seconds
    match = re.fullmatch(r"(\d{1,6}(?:\.\d{1,3})?)\s*(s|sec|seconds?|min|minutes?|h|hours?)\.?", text)
    if match:
        return float(match[1]) * {"s": 1, "m": 60, "h": 3600}[match[2][0]]
    return Unreadable(f"'{text}' is not a length of time.", "Write 90 s, 5 min or 4:30.")


def parse_lengths(text: str) -> tuple[float, float] | Unreadable:
    """Shortest and longest time in seconds: `60–90 s`, `4:30–5:30`; one time is both."""
    ends = re.split(r"\s*(?:-|\bto\b)\s*", _DASH.sub("-", text.strip()))
    if len(ends) == 2 and re.fullmatch(_NUMBER, ends[0]):
        ends[0] += " " + re.sub(r"[\d.\s]", "", ends[1])
    low, high = parse_seconds(ends[0]), parse_seconds(ends[-1])
    if len(ends) > 2 or isinstance(low, Unreadable) or isinstance(high, Unreadable):
        return Unreadable(f"'{text}' is not a length of time.", "Write 60–90 s or 4:30–5:30.")
    if low > high:
        return Unreadable(f"'{text}' runs backwards.", "Write the shorter time first.", "reversed-range")
    return low, high


def parse_minutes(text: str) -> int | Unreadable:
    """Whole minutes: `90`, `90 min`, `1:30 h`, `1.5 h`."""
    text = text.strip()
    if re.fullmatch(r"\d{1,4}", text):
        return int(text)
    hours = re.fullmatch(r"(\d{1,2}):(\d\d)\s*h", text)
    seconds = int(hours[1]) * 3600.0 + int(hours[2]) * 60 if hours else parse_seconds(text)
    if isinstance(seconds, Unreadable):
        return Unreadable(f"'{text}' is not a number of minutes.", "Write 90 min.")
    return round(seconds / 60)


def parse_months(text: str) -> int | Unreadable:
    """Whole months: `36 months`, `3 years`."""
    match = re.fullmatch(r"(\d{1,4})\s*(months?|years?)?", text.strip())
    if not match:
        return Unreadable(f"'{text}' is not a number of months.", "Write 36 months or 3 years.")
    return int(match[1]) * (12 if (match[2] or "").startswith("y") else 1)


def parse_point(text: str) -> tuple[float, float] | Unreadable:
    """A spot in a picture, per cent across and down: `52, 38` or `52% 38%`."""
    mend = "Write per cent across and down, both from 0 to 100, such as 52, 38."
    numbers = _numbers(text)
    if numbers is None or len(numbers) != 2:
        return Unreadable(f"'{text}' is not a spot in a picture.", mend)
    if not all(0 <= n <= 100 for n in numbers):
        return Unreadable(f"'{text}' lies outside the picture.", mend)
    return numbers[0], numbers[1]


def parse_share(text: str) -> float | Unreadable:
    """A part of a picture's width in per cent: `6`, `6 %`."""
    numbers = _numbers(text)
    if numbers is not None and len(numbers) == 1 and 0 < numbers[0] <= 100:
        return numbers[0]
    return Unreadable(f"'{text}' is no part of a picture's width.", "Write per cent of the width, above 0 and up to 100, such as 6.")


def parse_reach(text: str) -> tuple[float, float] | Unreadable:
    """How far a subject goes beyond the line measured on it, in per cent of that line: `45, 70`."""
    numbers = _numbers(text)
    if numbers is not None and len(numbers) == 2 and all(0 <= n < 1000 for n in numbers):
        return numbers[0], numbers[1]
    mend = "Write per cent of the measured line, beyond its ends and to its sides, such as 45, 70."
    return Unreadable(f"'{text}' does not say how far it reaches.", mend)


def parse_line(text: str) -> tuple[float, float, float, float] | Unreadable:
    """A line drawn in a picture, in per cent: `20, 50 – 80, 50`."""
    mend = "Write both ends in per cent across and down, such as 20, 50 – 80, 50."
    ends = re.split(r"\s+-\s*|\s*-\s+|\bto\b|(?<=[\d%])-(?=\d)", _DASH.sub("-", text.strip()))
    points = [parse_point(end) for end in ends]
    if len(points) != 2 or isinstance(points[0], Unreadable) or isinstance(points[1], Unreadable):
        return Unreadable(f"'{text}' is not a line in a picture.", mend)
    if points[0] == points[1]:
        return Unreadable(f"Both ends of '{text}' are the same spot.", mend)
    return (*points[0], *points[1])


def parse_position(text: str) -> Position | Unreadable:
    """WGS84 latitude and longitude, parted by a comma or semicolon: `51.1034, -1.3121`, `51°6'12"N, 1°18'44"W`."""
    ends = re.split(r"\s*[,;]\s*", text.strip())
    if len(ends) != 2:
        mend = "Write latitude and longitude with a comma between them, such as 51.1034, -1.3121."
        return Unreadable(f"'{text}' is not a position.", mend)
    latitude, longitude = parse_coordinate(ends[0], "latitude"), parse_coordinate(ends[1], "longitude")
    if isinstance(latitude, Unreadable):
        return latitude
    if isinstance(longitude, Unreadable):
        return longitude
    # A zero at the end of one of the two may have been left off: both are as precise as the finer.
    finest = min(filter(None, map(find_precision, ends)), key=float, default="")
    return Position(latitude, longitude, precision=finest)


def parse_box(text: str) -> tuple[float, float, float, float] | Unreadable:
    """South, west, north, east in decimal degrees. West may be greater than east, across the 180th meridian."""
    mend = "Write south, west, north, east, such as 51.0, -1.5, 51.2, -1.2."
    numbers = _numbers(text)
    if numbers is None or len(numbers) != 4:
        return Unreadable(f"'{text}' does not hold four numbers.", mend)
    south, west, north, east = numbers
    if not (-90 <= south <= north <= 90 and -180 <= west <= 180 and -180 <= east <= 180):
        return Unreadable(f"'{text}' is not a part of the Earth.", mend)
    return south, west, north, east


def parse_metres(text: str) -> float | Unreadable:
    """A distance in metres: `50 m`, `1 km`, `50`."""
    if re.fullmatch(r"\d{1,7}(\.\d{1,3})?", text.strip()):
        return float(text)
    measure = parse_measure(text)
    if isinstance(measure, Unreadable):
        return Unreadable(f"'{text}' is not a distance.", "Write 50 m or 1 km.", measure.code)
    return (measure.high if measure.high is not None else measure.low or 0.0) / 1000


def parse_bleed(text: str) -> float | Unreadable:
    """What is printed past the cut, in millimetres: `3 mm`, `1/8 in`; a bare 0 is 0."""
    mend = "Write 3 mm or 1/8 in, as printers ask for, or 0 for none."
    if re.fullmatch(r"0(\.0+)?", text.strip()):
        return 0.0
    measure = parse_measure(text)
    if isinstance(measure, Unreadable):
        return Unreadable(measure.message, mend, measure.code)
    if measure.low is None or measure.low != measure.high:
        return Unreadable(f"'{text}' is not one length.", mend)
    if measure.low > MOST_BLEED:
        return Unreadable(f"A bleed of {text.strip()} is too much: it is at most {MOST_BLEED:g} mm.", mend)
    return measure.low


def parse_ink_limit(text: str) -> int | Unreadable:
    """How much ink a press bears on one spot, per cent of one full ink: `300 %`, `300`."""
    found = re.fullmatch(r"0*(\d{3})\s*%?", text.strip(), re.ASCII)
    if found and 100 <= int(found[1]) <= 400:
        return int(found[1])
    return Unreadable(f"'{text}' is no limit of ink.", "Write per cent from 100 to 400, as your print shop names it, such as 300 %.")


def parse_thickness(text: str) -> float | Unreadable:
    """How thick one sheet of paper is, in millimetres: `0.12 mm`."""
    mend = "Write 0.1 mm, or what a pack of a hundred sheets measures, divided by a hundred."
    measure = parse_measure(text)
    if isinstance(measure, Unreadable):
        return Unreadable(measure.message, mend, measure.code)
    if measure.low is None or measure.low != measure.high:
        return Unreadable(f"'{text}' is not one length.", mend)
    if not THINNEST <= measure.low <= THICKEST:
        return Unreadable(f"A sheet of {text.strip()} is no paper: one has {THINNEST:g} to {THICKEST:g} mm.", mend)
    return measure.low


def parse_margin(text: str) -> Measure | Unreadable:
    """How near two measurements may be: `0.5 mm`, `2 g`, or a bare number, which has no unit of its own."""
    if re.fullmatch(r"\d{1,6}(\.\d{1,6})?", text.strip()):
        return Measure(text.strip(), float(text), float(text), unit="")
    for kind in ("length", "mass"):
        measure = parse_measure(text, unit_kind=kind)
        if not isinstance(measure, Unreadable):
            return measure
    return Unreadable(f"'{text}' is not a margin.", "Write a measurement such as 0.5 mm.")


def parse_unit(text: str) -> str | Unreadable:
    """The unit that a character is measured in, in its short form: `mm`, `cm`, `in`, `g`, or `count`."""
    word = text.strip()
    unit = canonical_unit(word) or ("count" if word.casefold() in {"count", "number", "counts"} else "")
    if not unit and word:
        return Unreadable(f"'{text}' is not a unit.", f"Use one of {', '.join(WORTH)}.")
    return unit


def parse_whole(text: str) -> int | Unreadable:
    """A whole number, not below 0."""
    return int(text) if re.fullmatch(r"\d{1,9}", text.strip()) else Unreadable(f"'{text}' is not a whole number.", "Write 280.")


def parse_number(text: str) -> float | Unreadable:
    """A number above 0 with a decimal point."""
    if re.fullmatch(r"\d{1,9}(\.\d{1,9})?", text.strip()) and float(text) > 0:
        return float(text)
    return Unreadable(f"'{text}' is not a number above 0.", "Write 4.2.")


SEXES = ("male", "female", "both", "worker", "queen", "drone", "hermaphrodite")
"""The words for a sex or caste as they are offered."""


def parse_sex(text: str) -> str | Unreadable:
    """`male`, `female`, a caste, or nothing for both."""
    word = text.strip().lower().removesuffix("s")
    if word in {"worker", "queen", "drone", "hermaphrodite"}:
        return word
    if word in {"both", "both sexe", "any", ""}:
        return ""
    if word in {"male", "♂", "m"}:
        return "male"
    if word in {"female", "♀", "f"}:
        return "female"
    return Unreadable(f"'{text}' is not a sex.", "Write male, female or both.")


def parse_rule_level(text: str) -> Level | Unreadable | None:
    """How grave a rule is in this guide; None where it is off."""
    word = text.strip().lower()
    if word in {"off", "no"}:
        return None
    if word in {level.value for level in Level}:
        return Level(word)
    return Unreadable(f"'{text}' is not a level.", "Write error, warning, note or off.")


def parse_category(text: str) -> Sensitivity | Unreadable:
    """`no`, or how far a place must be hidden: `low`, `medium`, `high`, `extreme`."""
    word = text.strip().lower()
    if word in _NO or word in {"none", "open"}:
        return Sensitivity()
    if word in CATEGORIES:
        return Sensitivity(CATEGORIES[word])
    return Unreadable(f"'{text}' does not say how sensitive this is.", "Write no, low, medium, high or extreme.", "unreadable-sensitivity")


def one_of(*words: str) -> Callable[[str], str | Unreadable]:
    """A parser that takes one of these words, in any case and with any dash."""

    def parse(text: str) -> str | Unreadable:
        word = " ".join(_DASH.sub("-", text.strip().lower()).split())
        listed = ", ".join(words[:-1]) + f" or {words[-1]}"
        return word if word in words else Unreadable(f"'{text}' is not one of the words for this.", f"Write {listed}.")

    return parse


def _numbers(text: str) -> list[float] | None:
    parts = [part for part in re.split(r"[,;%\s]+", _DASH.sub("-", text.strip())) if part]
    return [float(part) for part in parts] if all(re.fullmatch(_NUMBER, part) for part in parts) else None
