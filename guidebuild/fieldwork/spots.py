"""Positions that stand in a text in any common notation, with how exactly each is given."""

from __future__ import annotations

import html
import re
from collections.abc import Iterator
from dataclasses import dataclass
from typing import NamedTuple
from urllib.parse import unquote

from guidebuild.fieldwork.degree_figures import Number, numbers_in
from guidebuild.fieldwork.grid_letters import Square, squares_in
from guidebuild.fieldwork.sorted_positions import SortedPositions
from guidebuild.guide.distances import METRES

_NEAR = 3  # numbers further on that may be the other half
_GAP = 200  # characters between the halves: the keys of a table or the tags of a page
_EVERYDAY = 0.0099  # degrees: numbers with two decimals and fewer
_FAR = 5_000  # characters between halves that are called by their names
_LABELLED = 24  # characters before a number in which its name stands
# A word of its own, or with a capital behind small letters: `lat`, `decimalLatitude`, but no `flat`.
_LABEL = re.compile(r"(?:(?<![a-z])|(?-i:(?<=[a-z])(?=L)))(?:(?P<lat>lat)|lon|lng)(?:g?itude?|g)?[^\w]{0,8}$", re.IGNORECASE)
# A small s after a space is seconds: “1.36 s, 51,036 words”.
_CLOSE = re.compile(
    r"(?!(?-i: s\b))[\s,;/|()\[\]°NSEWnsew+-]{0,6}|[^\d]{0,40}l(?:ng|ong?(?:itude)?|at(?:itude)?)[^\d]{0,20}", re.IGNORECASE
)
# Numbers of drawings, not of places: paths, points and sizes of SVG and CSS.
_DRAWN = re.compile(
    r"\b(?:d|points|viewBox|transform|data-map|style|srcset|sizes)=(?:\"[^\"]*\"|'[^']*')|data:[\w/+.-]+;base64,[\w+/=]+", re.IGNORECASE
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


class Figures(NamedTuple):
    """What in a text may be a position, or half of one."""

    text: str
    numbers: tuple[Number, ...]
    squares: tuple[Square, ...]


def read_figures(text: str) -> Figures:
    """The figures of a `readable` text."""
    return Figures(text, tuple(numbers_in(text)), tuple(squares_in(text)))


def spots_near(figures: Figures, near: SortedPositions) -> Iterator[tuple[Spot, frozenset[int]]]:
    """Every pair of numbers that could be a position either way round, and every grid reference, with the positions that it may be.

    A number that is near to no latitude or longitude is half of no pair.
    """
    yield from _far_halves(figures, near)
    yield from _close_halves(figures, near)
    for square in figures.squares:
        halves = (square.start, square.start)
        spot = Spot(square.text, square.start, square.latitude, square.longitude, square.side / METRES, halves, signed=True)
        if places := near.at(square.latitude, square.longitude):
            yield spot, places


def _close_halves(figures: Figures, near: SortedPositions) -> Iterator[tuple[Spot, frozenset[int]]]:
    """Numbers that stand side by side, or with few others between them."""
    numbers, values = figures.numbers, {number.value for number in figures.numbers}
    norths, easts = ({value: at(value) for value in values} for at in (near.at_latitude, near.at_longitude))
    for place, first in enumerate(numbers):
        if not (norths[first.value] or easts[first.value]):
            continue
        for second in numbers[place + 1 : place + 1 + 2 * _NEAR]:
            for north, east in ((first, second), (second, first)):
                places = norths[north.value] & easts[east.value]
                if places and 0 <= second.start - first.end <= _GAP and not _stand_apart(figures.text, first, second):
                    yield _spot_of(figures.text, first.start, second.end, north, east), places


def _spot_of(text: str, start: int, end: int, north: Number, east: Number) -> Spot:
    """Two numbers as a position, with the words that it is told by."""
    halves = (min(north.start, east.start), max(north.start, east.start))
    return Spot(text[start:end], start, north.value, east.value, min(north.step, east.step), halves)


def _stand_apart(text: str, first: Number, second: Number) -> bool:
    """Whether two numbers are everyday ones: 51.14 and 1.3 are, unless they stand side by side."""
    return max(first.step, second.step) >= _EVERYDAY and not _CLOSE.fullmatch(text[first.end : second.start])


def _far_halves(figures: Figures, near: SortedPositions) -> Iterator[tuple[Spot, frozenset[int]]]:
    """Numbers that the words call latitude and longitude, further apart than others may stand."""
    text = figures.text
    latest: dict[bool, Number] = {}  # the last that was called a latitude, and the last that was not
    for number in figures.numbers:
        label = _LABEL.search(text, max(0, number.start - _LABELLED), number.start)
        if label is None:
            continue
        is_north = bool(label["lat"])
        other = latest.get(not is_north)
        latest[is_north] = number
        if other and _is_far_half(text, other, number):
            north, east = (number, other) if is_north else (other, number)
            if places := near.at(north.value, east.value):
                yield _spot_of(text, other.start, other.end, north, east), places


def _is_far_half(text: str, first: Number, second: Number) -> bool:
    """Whether two named numbers are a position that is not found by how near they stand."""
    gap = second.start - first.end
    return gap <= _FAR and (gap > _GAP or _stand_apart(text, first, second))
