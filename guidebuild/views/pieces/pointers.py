"""Where the numbers and leader lines of field marks stand on a plate: numbers in the margins, lines to the marks."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from guidebuild.views.pieces.common import MarkView


@dataclass(frozen=True, slots=True)
class Pointer:
    """One number beside the picture with its line to the mark; all in the plate's own units (100 across)."""

    number: int
    words: str
    x: float
    y: float
    label_x: float
    label_y: float
    line_x: float  # where the line leaves the number's ring


@dataclass(frozen=True, slots=True)
class PlateLayout:
    """A plate 100 units wide: its height, where the picture begins and how wide it is, and the pointers."""

    height: float
    picture_x: float
    picture_width: float
    pointers: tuple[Pointer, ...]


def lay_out(marks: Iterable[MarkView], *, shape: float, margin: float = 8.0, top: float = 2.0, gap: float = 9.0) -> PlateLayout:
    """Lay out a plate.

    `shape` is the picture's height over its width; `margin` the tone left and right in per cent of the plate's width,
    `top` above and below; `gap` the least distance between two numbers. Numbers stand on the side their mark is nearer
    to, in the order of the marks from top to bottom, so that no two lines cross.
    """
    width = 100 - 2 * margin
    height = width * shape
    pointed = [(m, margin + m.point[0] / 100 * width, top + m.point[1] / 100 * height) for m in marks if m.point]
    pointers: list[Pointer] = []
    for left in (True, False):
        side = sorted((p for p in pointed if (p[1] < 50) == left), key=lambda p: (p[2], p[1]))
        heights = _spread([y for _, _, y in side], gap, lowest=top + gap / 2, highest=top + height - gap / 2)
        label_x = margin / 2 if left else 100 - margin / 2
        line_x = margin if left else 100 - margin
        pointers += [Pointer(m.number, m.words, x, y, label_x, at, line_x) for (m, x, y), at in zip(side, heights, strict=True)]
    return PlateLayout(height + 2 * top, margin, width, tuple(sorted(pointers, key=lambda p: p.number)))


def _spread(wanted: list[float], gap: float, *, lowest: float, highest: float) -> list[float]:
    """Heights as near the wanted ones as a gap between neighbours allows, kept on the plate while there is room."""
    placed: list[float] = []
    for height in wanted:
        placed.append(max(height, placed[-1] + gap if placed else lowest))
    limit = highest
    for number in range(len(placed) - 1, -1, -1):
        placed[number] = min(placed[number], limit)
        limit = placed[number] - gap
    return placed
