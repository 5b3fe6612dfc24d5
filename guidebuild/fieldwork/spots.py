"""Positions that stand in a text in any common notation, with how exactly each is given."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import unquote

from guidebuild.fieldwork.grid_letters import squares_in

METRES = 111_320.0  # a degree of latitude
_NEAR = 3  # numbers further on that may be the other half
_GAP = 200  # characters between the halves: the keys of a table or the tags of a page
_CLOSE = re.compile(r"[\s,;/|()\[\]°NSEWnsew+-]{0,6}|[^\d]{0,40}l(?:ong?(?:itude)?|at(?:itude)?)[^\d]{0,20}", re.IGNORECASE)
_DECIMAL = re.compile(r"(?<![\d.])(?P<whole>\d{1,3})[.,](?P<part>\d{1,12})(?![\d]|[.,]\d+[.,])")
_SEXAGESIMAL = re.compile(
    r"(?<![\d.])(?P<degrees>\d{1,3})\s*(?:°|º|deg|d|:|\s)\s*(?P<minutes>\d{1,2}(?:[.,]\d+)?)(?:\s*(?:['′’´]|m(?:in)?|:|\s)\s*"
    r"(?:(?P<seconds>\d{1,2}(?:[.,]\d+)?)\s*(?:\"|″|”|''|′′|s(?:ec)?)?)?)?(?![\d.,]\d)",
    re.IGNORECASE,
)
# Numbers of drawings, not of places: paths, points and sizes of SVG and CSS.
_DRAWN = re.compile(
    r"\b(?:d|points|viewBox|transform|style|srcset|sizes)=(?:\"[^\"]*\"|'[^']*')|data:[\w/+.-]+;base64,[\w+/=]+", re.IGNORECASE
)
_ESCAPED = re.compile(r"\\u([0-9a-fA-F]{4})")


@dataclass(frozen=True, slots=True)
class Spot:
    """A position found: degrees without their sign where the notation hides it, and the step of its last digit in degrees.

    `halves` say where its two numbers start (the same for a grid reference): a number belongs to one position only.
    """

    text: str
    offset: int
    latitude: float
    longitude: float
    step: float
    halves: tuple[int, int]
    signed: bool = False


@dataclass(frozen=True, slots=True)
class _Number:
    start: int
    end: int
    value: float
    step: float


def make_readable(text: str) -> str:
    """The text as a reader would see it: character references, percent signs and JSON escapes undone, drawings left out."""
    plain = _DRAWN.sub(" ", text) if "=" in text or ";" in text else text
    plain = _ESCAPED.sub(lambda match: chr(int(match[1], 16)), plain) if "\\u" in plain else plain
    plain = unquote(plain, errors="ignore") if "%" in plain else plain
    return html.unescape(plain) if "&" in plain else plain


def spots_in(text: str) -> Iterator[Spot]:
    """Every pair of numbers that could be a position either way round, and every grid reference. Expects `readable` text."""
    numbers = sorted({*_decimals(text), *_sexagesimals(text)}, key=lambda n: (n.start, -n.end))
    for place, first in enumerate(numbers):
        for second in numbers[place + 1 : place + 1 + 2 * _NEAR]:
            gap = second.start - first.end
            if gap < 0 or gap > _GAP:
                continue
            step = min(first.step, second.step)
            if max(first.step, second.step) >= 0.1 and not _CLOSE.fullmatch(text[first.end : second.start]):
                continue  # 51.1 and 1.3 are everyday numbers unless they stand side by side
            words = text[first.start : second.end]
            halves = (first.start, second.start)
            yield Spot(words, first.start, first.value, second.value, step, halves)
            yield Spot(words, first.start, second.value, first.value, step, halves)
    for square in squares_in(text):
        halves = (square.start, square.start)
        yield Spot(square.text, square.start, square.latitude, square.longitude, square.side / METRES, halves, signed=True)


def _decimals(text: str) -> Iterator[_Number]:
    for match in _DECIMAL.finditer(text):
        value = float(f"{match['whole']}.{match['part']}")
        if value <= 180:
            # Noughts at the end say no more: 51.10 is as exact as the 51.1 it may have been made from.
            yield _Number(match.start(), match.end(), value, 10.0 ** -max(1, len(match["part"].rstrip("0"))))


def _sexagesimals(text: str) -> Iterator[_Number]:
    for match in _SEXAGESIMAL.finditer(text):
        minutes, seconds = ((match[part] or "").replace(",", ".") for part in ("minutes", "seconds"))
        value = int(match["degrees"]) + float(minutes) / 60 + float(seconds or 0) / 3600
        last, unit = (seconds, 1 / 3600) if seconds else (minutes, 1 / 60)
        step = unit * 10.0 ** -len(last.partition(".")[2])
        if value <= 180 and float(minutes) < 60 and float(seconds or 0) < 60:
            yield _Number(match.start(), match.end(), value, step)
