"""The checklist of a walk: boxes to tick, room for numbers and notes; as many pages as the list needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import partial
from pathlib import Path

from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN, Inks
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.theme import Theme, read_theme
from guidebuild.views.cards.printed import ChecklistView

_SPARE = 3
_BOX = 3.6


def render_checklist(view: ChecklistView, page_format: Format, theme_folders: Sequence[Path], *, contrast: bool = False) -> CardResult:
    """Print a checklist: one page where smaller type brings it on one, else as many as it takes at the largest."""
    look, inks = read_theme(tuple(theme_folders)), HIGH_CONTRAST if contrast else PLAIN
    sizes = look.sizes_within(page_format.least_type, page_format.largest_type)
    each = {points: partial(_laid, view, page_format, look, inks, points) for points in sizes}
    laid, layouts = _choose_layout(each)
    pdf, logged = write_pdf(laid, f"checklist {view.id}")
    return CardResult(view.id, pdf, logged, layouts)


def _choose_layout(each: Mapping[float, Callable[[], Laid]]) -> tuple[Laid, int]:
    """The largest type with which all stands on one page, or the largest of all where none does that; and how many were laid out.

    The smallest is tried second: where that takes more pages, so do all between.
    """
    first, *between = sorted(each, reverse=True)
    largest = each[first]()
    if len(largest.document.pages) == 1 or not between:
        return largest, 1
    smallest = each[between.pop()]()
    if len(smallest.document.pages) > 1:
        return largest, 2
    for tried, points in enumerate(between, 3):
        laid = each[points]()
        if len(laid.document.pages) == 1:
            return laid, tried
    return smallest, 2 + len(between)


def _laid(view: ChecklistView, page_format: Format, look: Theme, inks: Inks, points: float) -> Laid:
    size = page_format.size
    html = look.page(
        "checklist.html",
        view=view,
        words=view.words,
        language=view.language,
        points=points,
        spare=_SPARE,
        box=_box(inks, view.words.seen),
        line="",
        rule=drawing.edge_rule(50, inks, view.words.card.fifty),
        caution_mark=drawing.caution_mark(view.words.card.caution),
    )
    css = f"@page{{size:{size.width}mm {size.height}mm;margin:{page_format.margin}mm}}" + look.css("card.css")
    return lay_out(html, css, GuideFetcher())


def _box(inks: Inks, words: str) -> str:
    inset = 0.15
    side = _BOX - 2 * inset
    square = f'<rect x="{inset}" y="{inset}" width="{side}" height="{side}" fill="#ffffff" stroke="{inks.text}" stroke-width="0.25"/>'
    return drawing.wrap_svg(Area(_BOX, _BOX), square, f"{words}?", "tick-box")
