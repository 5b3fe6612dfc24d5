"""Crop marks on the pages of a file for a print shop: where each sheet is cut, drawn outside its bleed on paper that is thrown away.

They lie beyond the bleed box, on a media box that is grown for them (ISO 32000-1, 14.11.2 and 14.11.3), and are drawn with every ink
that the press has (8.6.6.4: the colorant `All`), so that they stand on each plate.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from pikepdf import Array, Dictionary, Name, Object, Page, Pdf

from guidebuild.press.paper.formats import POINTS_PER_MM
from guidebuild.press.paper.imposition import MARK_GAP, MARK_LENGTH, Line

_HAIR = 0.25
"""Points (common practice, no source)."""
_ROOM = 1.0
"""Millimetres of paper beyond the marks."""
_DASH = 3.0
_SPACE = "RegistrationInk"


def mark_crops(pdf: Pdf, *, cmyk: bool, folds: Sequence[float] = ()) -> None:
    """Draw marks at the corners of every page's trim, and dashed ones where it is folded: millimetres from its left edge."""
    ink = _every_ink(pdf, cmyk=cmyk)
    for page in pdf.pages:
        left, low, right, high = (float(edge) for edge in page.trimbox)
        bleed = [abs(float(out) - float(edge)) for out, edge in zip(page.obj.get("/BleedBox", page.trimbox), page.trimbox, strict=True)]
        off = max(MARK_GAP * POINTS_PER_MM, *bleed)
        reach = off + MARK_LENGTH * POINTS_PER_MM
        solid = list(corner_marks((left, low, right, high), off, reach))
        dashed = [
            Line(x, end, x, end + way * (reach - off))
            for x in (left + fold * POINTS_PER_MM for fold in folds)
            for end, way in ((low - off, -1), (high + off, 1))
        ]
        _draw(page, ink, solid, dashed)
        grown = reach + _ROOM * POINTS_PER_MM
        page.mediabox = Array([round(edge, 4) for edge in (left - grown, low - grown, right + grown, high + grown)])


def corner_marks(trim: tuple[float, float, float, float], off: float, reach: float) -> Iterator[Line]:
    """Two lines at each corner, in line with its edges, from `off` to `reach` away from it."""
    left, low, right, high = trim
    for y in (low, high):
        yield Line(left - reach, y, left - off, y)
        yield Line(right + off, y, right + reach, y)
    for x in (left, right):
        yield Line(x, low - reach, x, low - off)
        yield Line(x, high + off, x, high + reach)


def _every_ink(pdf: Pdf, *, cmyk: bool) -> Object:
    """The colour space of registration marks."""
    other, none, full = (Name.DeviceCMYK, [0] * 4, [1] * 4) if cmyk else (Name.DeviceRGB, [1] * 3, [0] * 3)
    tint = Dictionary(FunctionType=2, Domain=[0, 1], C0=none, C1=full, N=1)
    return pdf.make_indirect(Array([Name.Separation, Name.All, other, tint]))


def _draw(page: Page, ink: Object, solid: Sequence[Line], dashed: Sequence[Line]) -> None:
    """Over the page's own drawing, which is cut off at its bleed: what lies beyond was never on the paper."""
    left, low, right, high = (float(edge) for edge in page.obj.get("/BleedBox", page.trimbox))
    resources = page.obj.Resources
    resources.ColorSpace = Dictionary({**dict(resources.get("/ColorSpace", Dictionary()).items()), f"/{_SPACE}": ink})
    page.contents_add(f"q {left:.4f} {low:.4f} {right - left:.4f} {high - low:.4f} re W n".encode(), prepend=True)
    marks = f"Q q /{_SPACE} CS 1 SCN {_HAIR} w {_path(solid)}"
    marks += f" [{_DASH}] 0 d {_path(dashed)}" if dashed else ""
    page.contents_add(f"{marks} Q".encode())


def _path(lines: Sequence[Line]) -> str:
    return " ".join(f"{line.x1:.4f} {line.y1:.4f} m {line.x2:.4f} {line.y2:.4f} l S" for line in lines)
