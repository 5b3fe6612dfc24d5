"""Pictures of one page in rows, all at one scale, as large as the page holds them.

Where each frame stands and what scale all have is worked out here, in millimetres of paper; `one_scale.py` lays a picture in its frame.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import sqrt

from guidebuild.views.pieces.one_scale import Box

_STEPS = 40
"""Halvings of the range of scales: the last is finer than any printer."""
_LEAST_SCALE = 1e-6
_UNMEASURED = 0.46
"""Of the page's width: a picture of which nothing is known beside others that have a scale."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What one picture asks for: its subject in millimetres of life; `measured` is false where only its shape is known.

    `beside` is kept free at the left and right for numbers.
    """

    width: float
    height: float
    measured: bool = True
    beside: float = 0.0


@dataclass(frozen=True, slots=True)
class Shelf:
    """The room for all: its size, what stands between frames, the words under each, and the narrowest frame."""

    width: float
    height: float
    gap: float = 2.0
    caption: float = 4.0
    least: float = 20.0


@dataclass(frozen=True, slots=True)
class Shelved:
    """The scale (millimetres of paper for one of life), and each frame in the order of the pictures, without its caption."""

    scale: float
    frames: tuple[Box, ...]


def shelve(wanted: Sequence[Wanted], shelf: Shelf) -> Shelved:
    """The largest scale at which all stand on the shelf, and their frames, which fill it. Without pictures there are none."""
    if not wanted:
        return Shelved(1.0, ())
    high = max((max(shelf.width / one.width, shelf.height / one.height) for one in wanted if one.measured), default=shelf.width)
    low = _LEAST_SCALE
    for _ in range(_STEPS):
        middle = sqrt(low * high)
        low, high = (middle, high) if _fits(wanted, shelf, middle) else (low, middle)
    return Shelved(low, tuple(_fill(_divide(wanted, shelf, low), shelf)))


def _needs(one: Wanted, shelf: Shelf, scale: float, *, alone: bool) -> tuple[float, float]:
    """Width and height of a frame that holds no more than its subject."""
    if one.measured:
        return max(one.width * scale + 2 * one.beside, min(shelf.least, shelf.width)), one.height * scale
    width = min(shelf.width * scale if alone else shelf.width * _UNMEASURED, shelf.width)
    return width, width * one.height / one.width


def _divide(wanted: Sequence[Wanted], shelf: Shelf, scale: float) -> list[list[tuple[float, float]]]:
    """Rows of frames: as many beside one another as go."""
    alone = not any(one.measured for one in wanted)
    rows: list[list[tuple[float, float]]] = []
    used = 0.0
    for one in wanted:
        width, height = _needs(one, shelf, scale, alone=alone)
        if rows and used + shelf.gap + width <= shelf.width:
            rows[-1].append((width, height))
            used += shelf.gap + width
        else:
            rows.append([(width, height)])
            used = width
    return rows


def _fits(wanted: Sequence[Wanted], shelf: Shelf, scale: float) -> bool:
    rows = _divide(wanted, shelf, scale)
    high = sum(max(height for _, height in row) for row in rows) + shelf.caption * len(rows) + shelf.gap * (len(rows) - 1)
    return high <= shelf.height and all(width <= shelf.width for row in rows for width, _ in row)


def _fill(rows: Sequence[Sequence[tuple[float, float]]], shelf: Shelf) -> Iterator[Box]:
    """Frames that share out what their rows leave over, rows what the shelf does."""
    tall = [max(height for _, height in row) for row in rows]
    free = shelf.height - sum(tall) - shelf.caption * len(rows) - shelf.gap * (len(rows) - 1)
    more = 1 + max(free, 0.0) / sum(tall)
    heights = [height * more for height in tall]
    tops = [0.0]
    for height, _ in pairwise([*heights, 0.0]):
        tops.append(tops[-1] + height + shelf.caption + shelf.gap)
    for row, top, height in zip(rows, tops, heights, strict=False):
        spread = (shelf.width - shelf.gap * (len(row) - 1)) / sum(width for width, _ in row)
        left = 0.0
        for width, _ in row:
            yield Box(left, top, width * spread, height)
            left += width * spread + shelf.gap
