"""A booklet of the whole guide: cover, contents, a page a species, cautions and credits, back cover; stitched through the fold.

The species pages are plates that were printed apart, so an unchanged one costs nothing; here they are joined in order.
Sheets of four pages seldom come out even: pages that would stay empty are ruled for notes and stand before the back cover,
which is always the last page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from markupsafe import Markup

from guidebuild.press.engine.problems import Problem
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.plates import draw_plate
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.theme import Theme, read_theme
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.printed import BookletView
from guidebuild.views.pieces.common import NameView

_CODE = 20.0
_COVER = 0.6
_BACK_COVER = 0.55
"""Of the height, what stays white above the words of the back cover."""
_NOTES_HEAD = 9.0


@dataclass(frozen=True, slots=True)
class ContentsEntry:
    """A line of the contents."""

    name: NameView
    page: int


def first_species_page(view: BookletView, leaf: Format, theme_folders: Sequence[Path]) -> int:
    """The number of the first species page, after the cover and as many pages of contents as it takes."""
    entries = [ContentsEntry(card.name, number) for number, card in enumerate(view.cards, start=100)]
    return len(_front(view, entries, {}, leaf, read_theme(tuple(theme_folders))).document.pages) + 1


def render_booklet(
    view: BookletView, pages: Sequence[CardResult], pictures: Pictures, leaf: Format, theme_folders: Sequence[Path]
) -> CardResult:
    """Join the species pages (`render_plate`, numbered on from `first_species_page`) with cover, contents and back.

    Where a species does not fit on its page there is no booklet, because every number after it would be wrong.
    """
    problems = tuple(problem for page in pages for problem in page.problems)
    printed = {page.id: page.pdf for page in pages if page.pdf}
    if missing := [card.name.short for card in view.cards if card.id not in printed]:
        return CardResult(view.id, b"", (*problems, Problem("no-booklet", "booklet", f"not printed, because of {', '.join(missing)}")))
    look = read_theme(tuple(theme_folders))
    start = first_species_page(view, leaf, theme_folders)
    entries = [ContentsEntry(card.name, number) for number, card in enumerate(view.cards, start=start)]
    front, front_problems = write_pdf(_front(view, entries, pictures, leaf, look), "booklet")
    back, back_problems = write_pdf(_whole_back(view, leaf, look, before=start - 1 + len(view.cards)), "booklet")
    parts = [(view.title, front), *((card.name.short, printed[card.id]) for card in view.cards), (view.words.pictures, back)]
    return CardResult(view.id, join_pdfs(parts, view.title), (*problems, *front_problems, *back_problems))


def _front(view: BookletView, entries: Sequence[ContentsEntry], pictures: Pictures, leaf: Format, look: Theme) -> Laid:
    inner = leaf.inner
    box = Area(inner.width, inner.height * _COVER)
    html = look.page("booklet_front.html", view=view, entries=entries, language=view.language, plate=_cover(view, pictures, box))
    fetcher = GuideFetcher(pictures=pictures.values())
    return lay_out(html, _css(leaf, look), fetcher)


def _cover(view: BookletView, pictures: Pictures, box: Area) -> Markup | None:
    picture = pictures.get(view.cover.id) if view.cover else None
    if view.cover is None or picture is None:
        return None
    spot = drawing.fit_picture(box, (picture.width, picture.height))
    return draw_plate(picture, box, spot, (), view.cover.alt, PLAIN)


def notes_wanted(pages: int) -> int:
    """Pages to add so that whole sheets of four are filled."""
    return -pages % 4


def _whole_back(view: BookletView, leaf: Format, look: Theme, *, before: int) -> Laid:
    laid = _back(view, leaf, look, 0)
    notes = notes_wanted(before + len(laid.document.pages))
    return _back(view, leaf, look, notes) if notes else laid


def _back(view: BookletView, leaf: Format, look: Theme, notes: int) -> Laid:
    credits = dict.fromkeys(c.plate.credit_line for c in view.cards if c.plate and c.plate.credit_line)
    html = look.page(
        "booklet_back.html",
        view=view,
        language=view.language,
        credits="; ".join(credits),
        notes=notes,
        lines=drawing.draw_lines(leaf.inner.width, leaf.inner.height - _NOTES_HEAD, view.words.notes, PLAIN),
        drop=leaf.inner.height * _BACK_COVER,
        code=drawing.draw_code(view.address, _CODE) if view.address else None,
        rule=drawing.edge_rule(50, PLAIN, view.words.card.fifty),
        caution_mark=drawing.caution_mark(view.words.card.caution),
    )
    return lay_out(html, _css(leaf, look), GuideFetcher())


def _css(leaf: Format, look: Theme) -> str:
    return f"@page{{size:{leaf.size.width}mm {leaf.size.height}mm;margin:{leaf.margin}mm}}" + look.css("card.css")
