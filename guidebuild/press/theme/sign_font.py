"""A typeface of two signs, female and male, drawn here: the packaged text faces lack them, and a phone's own may be an emoji."""

from __future__ import annotations

import io
from collections.abc import Sequence
from math import cos, pi, sin

from fontTools.fontBuilder import FontBuilder
from fontTools.pens.ttGlyphPen import TTGlyphPen
from fontTools.ttLib.tables._g_l_y_f import Glyph

FAMILY = "Guide Signs"
SIGNS = {"♀": "female", "♂": "male"}
_UNITS, _ASCENT, _DESCENT, _WIDTH = 1000, 750, -250, 620
_STROKE = 64
_RADIUS = 190
_ARCS = 8

Point = tuple[float, float]


def sign_font() -> bytes:
    """The typeface as WOFF2, the same bytes on every machine and day."""
    builder = FontBuilder(_UNITS, isTTF=True)
    names = [".notdef", *SIGNS.values()]
    builder.setupGlyphOrder(names)
    builder.setupCharacterMap({ord(sign): name for sign, name in SIGNS.items()})
    builder.setupGlyf({".notdef": TTGlyphPen(None).glyph(), "female": _female(), "male": _male()})
    builder.setupHorizontalMetrics(dict.fromkeys(names, (_WIDTH, 0)))
    builder.setupHorizontalHeader(ascent=_ASCENT, descent=_DESCENT)
    builder.setupNameTable({"familyName": FAMILY, "styleName": "Regular", "psName": "GuideSigns-Regular"})
    builder.setupOS2(sTypoAscender=_ASCENT, sTypoDescender=_DESCENT, usWinAscent=_ASCENT, usWinDescent=-_DESCENT)
    builder.setupPost()
    # 1 January 2020 in the font format's seconds since 1904: any fixed moment will do.
    builder.font["head"].created = builder.font["head"].modified = 3_660_681_600
    builder.font.recalcTimestamp = False
    builder.font.flavor = "woff2"
    written = io.BytesIO()
    builder.save(written)
    return written.getvalue()


def _female() -> Glyph:
    pen = TTGlyphPen(None)
    across, up = _WIDTH / 2, 480
    _ring(pen, across, up)
    half = _STROKE / 2
    foot = up - _RADIUS + half
    _outline(pen, [(across - half, -30), (across - half, foot), (across + half, foot), (across + half, -30)])
    _outline(pen, [(across - 130, 90), (across - 130, 90 + _STROKE), (across + 130, 90 + _STROKE), (across + 130, 90)])
    return pen.glyph()


def _male() -> Glyph:
    pen = TTGlyphPen(None)
    across, up = 250, 220
    _ring(pen, across, up)
    # The shaft leaves the ring towards the upper right and ends in a corner.
    start, tip, half = _RADIUS * 0.66, 330, _STROKE / 2 * 2**0.5
    x, y = across + start, up + start
    _outline(
        pen, [(x - half / 2, y + half / 2), (across + tip - half, up + tip), (across + tip, up + tip - half), (x + half / 2, y - half / 2)]
    )
    corner = (across + tip, up + tip)
    arm = 190
    _outline(pen, [(corner[0] - arm, corner[1] - _STROKE), (corner[0] - arm, corner[1]), corner, (corner[0], corner[1] - _STROKE)])
    _outline(pen, [(corner[0] - _STROKE, corner[1] - arm), (corner[0] - _STROKE, corner[1]), corner, (corner[0], corner[1] - arm)])
    return pen.glyph()


def _ring(pen: TTGlyphPen, across: float, up: float) -> None:
    """A ring: outline clockwise, hole the other way."""
    _circle(pen, across, up, _RADIUS, turn=-1)
    _circle(pen, across, up, _RADIUS - _STROKE, turn=1)


def _circle(pen: TTGlyphPen, across: float, up: float, radius: float, *, turn: int) -> None:
    step = 2 * pi / _ARCS
    reach = radius / cos(step / 2)  # control points of arcs that touch the circle at both ends

    def at(angle: float, distance: float) -> Point:
        return (across + distance * cos(turn * angle), up + distance * sin(turn * angle))

    pen.moveTo(at(0, radius))
    for arc in range(_ARCS):
        pen.qCurveTo(at((arc + 0.5) * step, reach), at((arc + 1) * step, radius))
    pen.closePath()


def _outline(pen: TTGlyphPen, points: Sequence[Point]) -> None:
    pen.moveTo(points[0])
    for point in points[1:]:
        pen.lineTo(point)
    pen.closePath()
