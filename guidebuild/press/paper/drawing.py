"""Drawn parts of printed matter as inline SVG: season bars, rules, codes and signs.

All coordinates are millimetres on paper.  Colours come from the card's `Inks`, so the high-contrast variant draws the
same things in black.  Every drawing carries its words as `<title>`, which becomes the alternative text in the PDF.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from math import hypot

import segno
from markupsafe import Markup, escape

from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.measuring import measure_drawn
from guidebuild.views.pieces.common import MOST_SEEN, PRESENT, SeasonRow

HAIRLINE = 0.09
"""0.25 pt in millimetres: thinner lines break up in print (common practice, no source)."""
LEAST_TYPE = 2.3
"""6.5 pt in millimetres, and a little more for rounding: no printed word is smaller."""
_CELLS = 36
_NEAR = 0.02
QUIET = 4
"""Modules of white round a code (ISO/IEC 18004, from memory)."""


@dataclass(frozen=True, slots=True)
class Inks:
    """The colours of a card."""

    text: str = "#000000"
    leaf: str = "#1f5a3c"
    haw: str = "#981f18"
    tone: str = "#e4ebe1"
    rule: str = "#6b7a6f"
    line: float = 0.25
    """Width of leader lines, millimetres."""


PLAIN = Inks()
HIGH_CONTRAST = Inks("#000000", "#000000", "#000000", "#ffffff", "#000000", 0.4)


@dataclass(frozen=True, slots=True)
class PictureSpot:
    """A picture in its box: where its corner lies and how large it is drawn."""

    x: float
    y: float
    width: float
    height: float

    def point(self, across: float, down: float) -> tuple[float, float]:
        """Per cent of the picture as millimetres in the box."""
        return self.x + self.width * across / 100, self.y + self.height * down / 100


def fit_picture(box: Area, pixels: tuple[int, int]) -> PictureSpot:
    """The whole picture as large as it goes into the box, in its middle."""
    wide, high = pixels
    scale = min(box.width / wide, box.height / high)
    return PictureSpot((box.width - wide * scale) / 2, (box.height - high * scale) / 2, wide * scale, high * scale)


def draw_words(  # noqa: PLR0913 - what is written, where, how large and in which ink
    words: str, x: float, y: float, size: float, ink: str, *, weight: int = 400, share: float = 0.5
) -> str:
    """A line that has `share` of its length left of `x`.

    Its start is worked out here: for each line with a `text-anchor` WeasyPrint writes a group of its own, a twentieth of a card's file.
    """
    start = x - measure_drawn(words, size, weight) * share
    return (
        f'<text x="{start:.3f}" y="{y:.2f}" font-family="Guide Sans" font-weight="{weight}" font-size="{size:.3g}" '
        f'fill="{ink}">{escape(words)}</text>'
    )


def season_row(row: SeasonRow, width: float, height: float, inks: Inks, now: int | None = None) -> Markup:
    """One stage's year: month ticks, a thin line where present, a full bar where most seen."""
    cell = width / _CELLS
    ticks = [(n * width / 12, 0, n * width / 12, height) for n in range(13)]
    parts = [_strokes([(0, height - HAIRLINE, width, height - HAIRLINE), *ticks], inks.rule, HAIRLINE)]
    for level, share in ((PRESENT, 0.3), (MOST_SEEN, 0.82)):
        tall = height * share
        parts += [
            f'<rect x="{first * cell:.3f}" y="{height - tall:.3f}" width="{count * cell:.3f}" height="{tall:.3f}" fill="{inks.leaf}"/>'
            for first, count in row.spans(level)
        ]
    if now is not None:
        x = (now + 0.5) * cell
        parts.append(f'<path d="M{x:.2f} {height * 0.3:.2f}l-0.8 -1.2h1.6z" fill="{inks.haw}"/>')
    return wrap_svg(Area(width, height), "".join(parts), f"{row.label}: {row.words}", "season")


def month_row(months: Sequence[str], width: float, height: float, title: str, inks: Inks) -> Markup:
    """The initials of the months over a season bar, `height` millimetres high or as high as the least type is."""
    height = max(height, LEAST_TYPE / 0.86)
    step, size = width / 12, height * 0.86
    letters = "".join(draw_words(month, (n + 0.5) * step, height * 0.8, size, inks.text, weight=600) for n, month in enumerate(months))
    return wrap_svg(Area(width, height), letters, title, "months")


def magnification_of(spot: PictureSpot, measured: tuple[float, float, float, float], length: float) -> float:
    """How many times life size a picture is drawn, from the line measured on it (per cent) and that line's length (mm)."""
    (x1, y1), (x2, y2) = spot.point(*measured[:2]), spot.point(*measured[2:])
    return hypot(x2 - x1, y2 - y1) / length


def said_scale(times: float) -> str:
    """A magnification as printed, never more than a fortieth off: whole where that is near, else with one decimal, below 2 with two."""
    if times >= 1 and abs(times - round(times)) / times <= _NEAR:
        return f"× {round(times)}"
    return f"× {times:.1f}" if times >= 2 else f"× {times:.2f}"


def scale_bar(times: float, room: float, inks: Inks) -> tuple[Markup, float] | None:
    """A bar of a round number of millimetres of the animal, and that number; nothing where none fits in `room`."""
    fits = [n for n in (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500) if 3 <= n * times <= room]
    if not fits:
        return None
    return draw_bar(fits[-1] * times, f"{fits[-1]:g} mm", inks), fits[-1]


def draw_bar(reach: float, title: str, inks: Inks) -> Markup:
    """A scale bar so many millimetres long on paper."""
    ends = _strokes([(x, 0.2, x, 1.8) for x in (0.1, reach - 0.1)], inks.text, 0.2)
    parts = _strokes([(0.1, 1, reach - 0.1, 1)], inks.text, 0.35) + ends
    return wrap_svg(Area(reach, 2), parts, title, "scale-bar")


def check_rule(inks: Inks, length: int = 50) -> str:
    """A rule of 50 mm with a tick each millimetre, as an SVG fragment whose outer ticks stand at 0 and at `length`."""
    ticks = [(n, 0, n, 2.6 if n % 10 == 0 else 1.9 if n % 5 == 0 else 1.2) for n in range(length + 1)]
    return _strokes([(0, 0, length, 0), *ticks], inks.text, HAIRLINE * 1.4)


def draw_lines(width: float, height: float, title: str, inks: Inks) -> Markup:
    """Lines to write on, a usual 8 mm apart (common practice, no source)."""
    count = int(height // 8)
    lines = [(0.0, 8.0 * n, width, 8.0 * n) for n in range(1, count + 1)]
    return wrap_svg(Area(width, 8.0 * count + HAIRLINE), _strokes(lines, inks.rule, HAIRLINE), title, "ruled")


def edge_rule(length: int, inks: Inks, title: str) -> Markup:
    """The same along the foot of a card, ticks standing up, numbered each centimetre."""
    tall, side = 4.6, 1.2
    ticks = [(n + side, tall, n + side, tall - (2.1 if n % 10 == 0 else 1.6 if n % 5 == 0 else 1.0)) for n in range(length + 1)]
    parts = [_strokes(ticks, inks.text, 0.12)]
    parts += [_figure(n + side, tall - 2.5, n) for n in range(0, length, 10)]
    parts.append(_figure(length + side + 1.2, tall - 2.5, f"{length} mm", share=1.0))
    return wrap_svg(Area(length + 2 * side, tall), "".join(parts), title, "edge-rule")


def _figure(x: float, y: float, words: object, share: float = 0.5) -> str:
    return draw_words(str(words), x, y, LEAST_TYPE, "#000000", share=share)


def quiet_of(address: str, side: float) -> float:
    """How wide the white is at each side of such a code, millimetres."""
    return side * QUIET / (len(_modules(address)) + 2 * QUIET)


def _modules(address: str) -> list[list[int]]:
    return [list(row) for row in segno.make(address, error="m", micro=False, boost_error=True).matrix]


def draw_code(address: str, side: float) -> Markup:
    """A QR code of an address; `side` millimetres include the white round it."""
    rows = _modules(address)
    whole = len(rows) + 2 * QUIET
    path = "".join(f"M{QUIET + start} {QUIET + y}h{count}v1h-{count}z" for y, row in enumerate(rows) for start, count in _runs(row))
    inner = f'<g transform="scale({side / whole:.5f})"><path d="{path}" fill="#000000"/></g>'
    return wrap_svg(Area(side, side), inner, f"QR code: {address}", "code")


def _runs(row: Sequence[int]) -> Iterator[tuple[int, int]]:
    at = 0
    for dark, group in groupby(row):
        count = len(list(group))
        if dark:
            yield at, count
        at += count


SIGNS = {
    "♂": ("male", '<circle cx="4" cy="6" r="2.9"/><path d="M6.1 3.9L9 1M6.4 0.8H9.2V3.6"/>', 10),
    "♀": ("female", '<circle cx="4" cy="3.6" r="2.9"/><path d="M4 6.5V10M2.1 8.4H5.9"/>', 8),
}
"""Signs that the packaged faces lack: the interface word for each, and its lines on a square of ten."""


def draw_sign(character: str, words: str) -> Markup:
    """A drawn sign as high as a capital letter; `words` is what it is called in the reader's language."""
    _, path, width = SIGNS[character]
    return Markup(  # noqa: S704 - every word in it is escaped
        f'<svg class="sign" viewBox="0 0 {width} 10" style="width:{width * 0.075:.3f}em;height:0.75em">'
        f'<title>{escape(words)}</title><g fill="none" stroke="#000000" stroke-width="1.15">{path}</g></svg>'
    )


def caution_mark(words: str) -> Markup:
    """A triangle with a stroke and a dot, and what it means."""
    return Markup(  # noqa: S704 - every word in it is escaped
        f'<svg class="caution-mark" viewBox="0 0 12 11"><title>{escape(words)}</title>'
        '<path d="M6 0.8L11.4 10.3H0.6z" fill="none" stroke="#000000" stroke-width="1.1" stroke-linejoin="round"/>'
        '<path d="M6 4v3.2M6 8.3v1" stroke="#000000" stroke-width="1.2"/></svg>'
    )


def wrap_svg(box: Area, inner: str, title: str, name: str) -> Markup:
    """An inline drawing at its true size."""
    return Markup(  # noqa: S704 - every word in it is escaped
        f'<svg class="{name}" xmlns="http://www.w3.org/2000/svg" width="{box.width:.3f}mm" height="{box.height:.3f}mm" '
        f'viewBox="0 0 {box.width:.3f} {box.height:.3f}"><title>{escape(title)}</title>{inner}</svg>'
    )


def _strokes(lines: Iterable[tuple[float, float, float, float]], colour: str, width: float) -> str:
    """Straight lines as one path: a page of single lines takes several times as long to read and draw."""
    path = "".join(f"M{x1:.3f} {y1:.3f}L{x2:.3f} {y2:.3f}" for x1, y1, x2, y2 in lines)
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width:.3f}"/>'
