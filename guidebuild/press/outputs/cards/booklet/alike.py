"""The spread of look-alikes: their pictures at one scale on the left page, what tells each from the others on the right."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import product
from pathlib import Path

from markupsafe import Markup

from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.booklet.leaf import TEXT, Leaf
from guidebuild.press.outputs.cards.booklet.plates import draw_pictures
from guidebuild.press.outputs.cards.booklet.species import SCALE
from guidebuild.press.paper import drawing
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.giving_way import too_long
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.setup import CardResult, Setup, make_setup
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.booklet.spreads import AlikeSpread
from guidebuild.words import words

_CAPTION = 7.4
"""Millimetres for a name and its page under a picture."""
_SIZES = (9.5, 9.0, 8.5, 8.0)
"""Points, the largest first; the last only where nothing more can be left out."""
_SEASON, _LABEL = 2.6, 0.62
"""Height of a bar of months, and its share of the line."""
_WAYS = ((True, True), (False, True), (False, False))
"""Whether years and marks are shown: what gives way first is the year, which its species tells too."""


@dataclass(frozen=True, slots=True)
class _Year:
    """The bar of one species and its months."""

    months: Markup
    bar: Markup


def render_alike(  # noqa: PLR0913, PLR0917 - what each spread needs
    spread: AlikeSpread,
    pictures: Pictures,
    leaf: Leaf,
    theme_folders: tuple[Path, ...],
    pages: Mapping[str, int],
    contrast: bool = False,
) -> CardResult:
    """Print look-alikes on two facing pages; no `pdf` where their words are over."""
    setup, where, count = make_setup(pictures, leaf.format, theme_folders, contrast=contrast), f"booklet {spread.id}", 0
    tries = [(size, way) for way, size in product(_WAYS, _SIZES[:2])] + [(size, _WAYS[-1]) for size in _SIZES[2:]]
    for size, (years, marks) in tries:
        laid, count = _lay_out(spread, setup, leaf, pages, (size, years, marks)), count + 1
        side = laid.side(TEXT)
        if not side.over:
            pdf, logged = write_pdf(laid, where)
            return CardResult(spread.id, pdf, (*_tell(leaf, where, years=years, marks=marks), *logged), count)
    return CardResult(spread.id, b"", (too_long(where, f"the {leaf.format.title}", side, _SIZES[-1]),), count)


def _lay_out(spread: AlikeSpread, setup: Setup, leaf: Leaf, pages: Mapping[str, int], way: tuple[float, bool, bool]) -> Laid:
    theme = setup.theme
    return lay_out(
        alike_html(spread, setup, leaf, pages, way), leaf.spread_css() + theme.css("card.css") + theme.css("booklet.css"), setup.fetcher
    )


def alike_html(spread: AlikeSpread, setup: Setup, leaf: Leaf, pages: Mapping[str, int], way: tuple[float, bool, bool]) -> str:
    """Both pages at a size of type, with years and marks or without."""
    points, years, marks = way
    inner = leaf.inner
    room = Area(inner.width, inner.height - SCALE)
    photos = [one.plate.photo for one in spread.each]
    language = spread.language
    return setup.theme.page(
        "booklet_alike.html",
        spread=spread,
        plate=draw_pictures(photos, setup.pictures, room, setup.inks, words(language), caption=_CAPTION),
        years=[_draw_year(spread, number, setup, inner.width * _LABEL) if years else None for number in range(len(spread.each))],
        marks=marks,
        pages=pages,
        points=points,
        room=inner,
        caption=_CAPTION,
        language=language,
        contrast=setup.contrast,
        caution_mark=drawing.caution_mark(words(language)("Caution")),
        _=words(language),
    )


def _draw_year(spread: AlikeSpread, number: int, setup: Setup, width: float) -> _Year | None:
    season = spread.each[number].season
    if season is None:
        return None
    months = drawing.month_row(spread.months, width, _SEASON, ", ".join(spread.month_names), setup.inks)
    return _Year(months, drawing.season_row(season, width, _SEASON, setup.inks))


def _tell(leaf: Leaf, where: str, *, years: bool, marks: bool) -> tuple[Problem, ...]:
    out = [piece for piece, shown in (("their seasons", years), ("their marks", marks)) if not shown]
    if not out:
        return ()
    return (
        Problem(
            "left-out", where, f"to make room the {leaf.format.title} leaves out: {', '.join(out)}, which each species has on its own page"
        ),
    )
