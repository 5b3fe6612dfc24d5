"""How much room words take before they are laid out: a first guess at type size and plate height.

The guess only saves layouts; what fits is decided by the layout itself.
"""

from __future__ import annotations

from functools import cache, lru_cache
from math import ceil

from fontTools.ttLib import TTFont

from guidebuild.press.paper.formats import POINTS_PER_MM
from guidebuild.press.theme.fonts import SANS, SERIF, find_face

_UNKNOWN = 0.5
FINE = 8.0
"""Points below which words that are set a little smaller than the rest are as large as it, so that none is under 6.5 pt."""
_SIZE_LINE = 0.92
_WORDS = 4096
"""Words whose width is kept: those of a card are measured at each size that is tried."""


def size_line_type(points: float, *, fine: bool) -> float:
    """Type size of the line of size and scale among words of so many points; `fine` where none is set smaller than the rest."""
    return points if fine else points * _SIZE_LINE


@cache
def _advances(family: str, weight: int, *, italic: bool) -> dict[str, float]:
    with TTFont(find_face(family, weight=weight, italic=italic).path, lazy=True) as font:
        metrics, em = font["hmtx"].metrics, font["head"].unitsPerEm
        return {chr(code): metrics[glyph][0] / em for code, glyph in font.getBestCmap().items()}


def measure_width(text: str, points: float, *, bold: bool = False, serif: bool = False, italic: bool = False) -> float:
    """Millimetres that a text takes on one line."""
    return _ems(text, SERIF if serif else SANS, 700 if bold else 400, italic=italic) * points / POINTS_PER_MM


@lru_cache(maxsize=_WORDS)
def _ems(text: str, family: str, weight: int, *, italic: bool) -> float:
    advances = _advances(family, weight, italic=italic)
    return sum(advances.get(sign, _UNKNOWN) for sign in text)


def measure_drawn(text: str, size: float, weight: int = 400) -> float:
    """Millimetres that a line in a drawing takes, in the sans face; its size is in millimetres too."""
    advances = _advances(SANS, weight, italic=False)
    return sum(advances.get(sign, _UNKNOWN) for sign in text) * size


def count_lines(text: str, points: float, room: float, *, bold: bool = False, serif: bool = False) -> int:
    """Lines that a text breaks into in a column `room` millimetres wide."""
    count, used = 1, 0.0
    space = measure_width(" ", points, bold=bold, serif=serif)
    for word in text.split():
        wide = measure_width(word, points, bold=bold, serif=serif)
        if used and used + space + wide > room:
            count, used = count + 1, 0.0
        used += wide + (space if used else 0.0)
        if used > room:  # a word longer than a line is broken
            count, used = count + ceil(used / room) - 1, used % room
    return count
