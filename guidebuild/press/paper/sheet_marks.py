"""What stands on a sheet beside the cards: crop marks, the 50 mm rule, and the request to print at true size."""

from __future__ import annotations

from collections.abc import Iterable

from markupsafe import Markup

from guidebuild.press.paper.drawing import Inks, check_rule, wrap_svg
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.imposition import EDGE, MARK_GAP, Grid, Line

RULE = 50
_BAND = 8.0
"""Free millimetres, inside the printable part, that the rule and its words need."""
_WORDS = "50 mm · print at 100 %, not fitted to the page"
_SHORT_WORDS = "50 mm · print at 100 %"
_LINE = 0.09


def draw_furniture(grid: Grid, bleed: float, margin: float, inks: Inks, *, with_rule: bool) -> Markup:
    """The marks of one side as a drawing of the whole sheet."""
    parts = [_line(mark, grid.paper.height, inks) for mark in grid.crop_marks(bleed)]
    if with_rule:
        parts.append(_rule(grid, bleed, margin, inks))
    return wrap_svg(grid.paper, "".join(parts), "Crop marks and a rule of 50 mm", "sheet-marks")


def draw_marks(marks: Iterable[Line], sheet: Area, inks: Inks) -> Markup:
    """Single marks as a drawing of the whole sheet."""
    return wrap_svg(sheet, "".join(_line(mark, sheet.height, inks) for mark in marks), "Crop marks", "sheet-marks")


def rule_place(grid: Grid, bleed: float) -> tuple[float, float, bool]:
    """Where the rule's zero stands (mm from left and bottom), and whether it lies on a cut for want of room."""
    free = grid.bottom - max(bleed, MARK_GAP)
    if free >= EDGE + _BAND:
        return grid.left + 1.5, free - 1.0, False
    cuts = grid.level_cuts()
    inner = [y for y in cuts if EDGE < y < grid.paper.height - EDGE] or [cuts[0] + EDGE]
    return grid.left + max(2.0, EDGE - grid.left), inner[len(inner) // 2], True


def _rule(grid: Grid, bleed: float, margin: float, inks: Inks) -> str:
    x, y, on_cut = rule_place(grid, bleed)
    top = grid.paper.height - y
    drawn = f'<g transform="translate({x:.3f} {top:.3f})">{check_rule(inks)}</g>'
    if not on_cut:
        return drawn + _text(x, top + 5.4, _WORDS)
    # On the cut only half a tick goes to each card; the words stay in the white margin of the card below the line.
    return drawn + (_text(x + RULE + 1.5, top + min(margin - 1.0, 3.4), _SHORT_WORDS) if margin >= 3.5 else "")


def _line(mark: Line, height: float, inks: Inks) -> str:
    return (
        f'<line x1="{mark.x1:.3f}" y1="{height - mark.y1:.3f}" x2="{mark.x2:.3f}" y2="{height - mark.y2:.3f}" '
        f'stroke="{inks.text}" stroke-width="{_LINE}"/>'
    )


def _text(x: float, y: float, words: str) -> str:
    return f'<text x="{x:.3f}" y="{y:.3f}" font-family="Guide Sans" font-size="2.3" fill="#000000">{words}</text>'
