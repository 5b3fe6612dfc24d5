"""The checklist of a walk: boxes to tick, room for numbers and notes; as many pages as the list needs."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from functools import cache, partial
from pathlib import Path

from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN, Inks
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.spill import is_short, tell_short
from guidebuild.press.paper.theme import Theme, read_theme
from guidebuild.views.cards.printed import ChecklistView

_SPARE = 3
_BOX = 3.6
_MORE = 3
"""So many sizes of type more are tried where the last page is nearly empty."""


def render_checklist(view: ChecklistView, page_format: Format, theme_folders: Sequence[Path], *, contrast: bool = False) -> CardResult:
    """Print a checklist: one page where smaller type brings it on one, else as many as it takes at the largest."""
    look, inks = read_theme(tuple(theme_folders)), HIGH_CONTRAST if contrast else PLAIN
    sizes = look.sizes_within(page_format.least_type, page_format.largest_type)
    each = {points: cache(partial(_laid, view, page_format, look, inks, points)) for points in sizes}
    laid, layouts = _choose_layout(each)
    if is_short(laid.document):
        laid, layouts = _fill_last(each, laid), layouts + _MORE
    where = f"checklist {view.id}"
    pdf, logged = write_pdf(laid, where)
    return CardResult(view.id, pdf, (*logged, *tell_short(laid.document, where)), layouts)


def _fill_last(each: Mapping[float, Callable[[], Laid]], short: Laid) -> Laid:
    """The largest of the next sizes down that leaves no last page nearly empty, or what there was."""
    tried = (each[points]() for points in sorted(each, reverse=True)[1 : 1 + _MORE])
    return next((laid for laid in tried if not is_short(laid.document)), short)


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
