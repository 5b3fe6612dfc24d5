"""Positions that stand in a text in any common notation, with how exactly each is given."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from urllib.parse import unquote

from guidebuild.fieldwork.degree_figures import Number, numbers_in
from guidebuild.fieldwork.grid_letters import squares_in

METRES = 111_320.0  # a degree of latitude
_NEAR = 3  # numbers further on that may be the other half
_GAP = 200  # characters between the halves: the keys of a table or the tags of a page
_EVERYDAY = 0.0099  # degrees: numbers with two decimals and fewer
_FAR = 5_000  # characters between halves that are called by their names
_LABELLED = 24  # characters before a number in which its name stands
_LABEL = re.compile(r"(?<![a-z])(lat|lon)(?:g?itude?|g)?[^\w]{0,8}$", re.IGNORECASE)
# A small s after a space is seconds: “1.36 s, 51,036 words”.
_CLOSE = re.compile(r"(?!(?-i: s\b))[\s,;/|()\[\]°NSEWnsew+-]{0,6}|[^\d]{0,40}l(?:ong?(?:itude)?|at(?:itude)?)[^\d]{0,20}", re.IGNORECASE)
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


def make_readable(text: str) -> str:
    """The text as a reader would see it: character references, percent signs and JSON escapes undone, drawings left out."""
    plain = _DRAWN.sub(" ", text) if "=" in text or ";" in text else text
    plain = _ESCAPED.sub(lambda match: chr(int(match[1], 16)), plain) if "\\u" in plain else plain
    plain = unquote(plain, errors="ignore") if "%" in plain else plain
    return html.unescape(plain) if "&" in plain else plain


def spots_in(text: str) -> Iterator[Spot]:
    """Every pair of numbers that could be a position either way round, and every grid reference. Expects `readable` text."""
    numbers = numbers_in(text)
    yield from _far_halves(text, numbers)
    for place, first in enumerate(numbers):
        for second in numbers[place + 1 : place + 1 + 2 * _NEAR]:
            gap = second.start - first.end
            if gap < 0 or gap > _GAP:
                continue
            step = min(first.step, second.step)
            if _stand_apart(text, first, second):
                continue
            words = text[first.start : second.end]
            halves = (first.start, second.start)
            yield Spot(words, first.start, first.value, second.value, step, halves)
            yield Spot(words, first.start, second.value, first.value, step, halves)
    for square in squares_in(text):
        halves = (square.start, square.start)
        yield Spot(square.text, square.start, square.latitude, square.longitude, square.side / METRES, halves, signed=True)


def _stand_apart(text: str, first: Number, second: Number) -> bool:
    """Whether two numbers are everyday ones: 51.14 and 1.3 are, unless they stand side by side."""
    return max(first.step, second.step) >= _EVERYDAY and not _CLOSE.fullmatch(text[first.end : second.start])


def _far_halves(text: str, numbers: list[Number]) -> Iterator[Spot]:
    """Numbers that the words call latitude and longitude, further apart than others may stand."""
    latest: dict[str, Number] = {}
    for number in numbers:
        label = _LABEL.search(text, max(0, number.start - _LABELLED), number.start)
        if label is None:
            continue
        name = label[1].lower()
        other = latest.get("lon" if name == "lat" else "lat")
        latest[name] = number
        gap = number.start - other.end if other else -1
        if other and (_GAP < gap <= _FAR or (0 <= gap <= _GAP and _stand_apart(text, other, number))):
            north, east = (number, other) if name == "lat" else (other, number)
            halves = (other.start, number.start)
            yield Spot(text[other.start : other.end], other.start, north.value, east.value, min(north.step, east.step), halves)
