"""Numbers in a text that may be degrees: with decimals, with minutes and seconds, in words, packed into one run of figures."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

# In a table without spaces, `7,51.1278` is the seventh row.
_DECIMAL = re.compile(r"(?<![\d.])(?P<whole>\d{1,3})(?P<sep>[.·٫]|,(?!\d+\.\d)|\s?point\s)(?P<part>\d{1,12})(?!\d)", re.IGNORECASE)
_LONGER = re.compile(r"[.,]\d+[.,]")  # 1.2.3 is a version, 1,234,567 a count
_DEGREES = r"(?:°|º|˚|deg(?:rees?|r[eé]s?)?\.?|d|grad(?:os?|i)?|:|\s)"
_MINUTES = r"(?:['′’´ʹ]|m(?:in(?:ut(?:e[ns]?|os?|i))?)?\.?|:|\s)"
_SECONDS = r"(?:\"|″|”|''|′′|´´|’’|s(?:ec(?:ond(?:e?s|i))?|e[kg](?:unde[n]?|undos?))?\.?)?"
_SEXAGESIMAL = re.compile(
    rf"(?<![\d.])(?P<degrees>\d{{1,3}})\s*{_DEGREES}\s*(?:and\s)?(?P<minutes>\d{{1,2}}(?:[.,]\d+)?)(?:\s*{_MINUTES}\s*(?:and\s)?"
    rf"(?:(?P<seconds>\d{{1,2}}(?:[.,]\d+)?)\s*{_SECONDS})?)?(?![\d.,]\d)",
    re.IGNORECASE,
)
# 51-07-40N; 51,7.668N in the metadata of pictures (Adobe's XMP specification, part 2).
_JOINED = re.compile(
    r"(?<![\d.,-])(?P<degrees>\d{1,3})(?P<joint>[,-])(?P<minutes>\d{1,2}(?:\.\d+)?)(?:(?P=joint)(?P<seconds>\d{1,2}(?:\.\d+)?))?"
    r"(?=\s?[NSEW]\b)",
    re.IGNORECASE,
)
# 51/1 7/1 4020/100, as EXIF keeps them.
_RATIONAL = re.compile(
    r"(?<![\d/])(\d{1,3})/1[,;\s]+(\d{1,8})/(1|10|100|1000|10000|1000000)[,;\s]+(\d{1,8})/(1|10|100|1000|10000|1000000)\b"
)
# ISO 6709: +510740.2-0011704.6/. NMEA 0183: 5107.668,N,00117.076,W. Charts: 510740N 0011705W, N510740.
_PACKED = re.compile(
    r"(?:(?P<before>[NSEW+−-]) ?|(?<![\d.]))(?P<run>\d{4,7})(?P<part>\.\d{1,8})?(?!\d)"
    r"(?=(?P<after>[NSEW](?![A-Za-z])|[ ,][NSEW](?![A-Za-z0-9]))?)",
    re.IGNORECASE,
)


@dataclass(frozen=True, slots=True)
class Number:
    """Degrees without their sign, and the step of the last digit in degrees."""

    start: int
    end: int
    value: float
    step: float


def numbers_in(text: str) -> list[Number]:
    """All numbers that may be degrees, in order; of two that start alike, the longer first."""
    found = {*_decimals(text), *_sexagesimals(text), *_rationals(text), *_packed(text)}
    return sorted(found, key=lambda n: (n.start, -n.end))


def _decimals(text: str) -> Iterator[Number]:
    for match in _DECIMAL.finditer(text):
        part = match["part"]
        if len(part) < 4 and (longer := _LONGER.match(text, match.end())) and match["sep"] == longer[0][0]:
            continue
        value = float(f"{match['whole']}.{part}")
        if value <= 180:
            # Noughts at the end say no more: 51.10 is as exact as the 51.1 it may have been made from.
            yield Number(match.start(), match.end(), value, 10.0 ** -max(1, len(part.rstrip("0"))))


def _sexagesimals(text: str) -> Iterator[Number]:
    for pattern in (_SEXAGESIMAL, _JOINED):
        for match in pattern.finditer(text):
            minutes, seconds = ((match[part] or "").replace(",", ".") for part in ("minutes", "seconds"))
            yield from _number(match, match["degrees"], minutes, seconds)


def _packed(text: str) -> Iterator[Number]:
    for match in _PACKED.finditer(text):
        if not (match["before"] or match["after"]):
            continue
        # Two or three figures of degrees: an odd run has three.
        run, part = match["run"], match["part"] or ""
        whole = 2 + len(run) % 2
        minutes, seconds = run[whole : whole + 2], run[whole + 2 :]
        yield from _number(match, run[:whole], *((minutes, seconds + part) if seconds else (minutes + part, "")))


def _rationals(text: str) -> Iterator[Number]:
    for match in _RATIONAL.finditer(text):
        minutes, seconds = int(match[2]) / int(match[3]), int(match[4]) / int(match[5])
        value = int(match[1]) + minutes / 60 + seconds / 3600
        if value <= 180 and minutes < 60 and seconds < 60:
            yield Number(match.start(), match.end(), value, 1 / 3600)


def _number(match: re.Match[str], degrees: str, minutes: str, seconds: str) -> Iterator[Number]:
    value = int(degrees) + float(minutes) / 60 + float(seconds or 0) / 3600
    last, unit = (seconds, 1 / 3600) if seconds else (minutes, 1 / 60)
    step = unit * 10.0 ** -len(last.partition(".")[2])
    if value <= 180 and float(minutes) < 60 and float(seconds or 0) < 60:
        yield Number(match.start(), match.end(), value, step)
