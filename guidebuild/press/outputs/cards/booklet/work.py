"""A booklet as jobs: what each needs, and the functions that worker processes run."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.booklet.alike import render_alike
from guidebuild.press.outputs.cards.booklet.bind import bind_booklet, count_front, trim_pages
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.species import render_species
from guidebuild.press.outputs.cards.jobs import Look
from guidebuild.press.paper.formats import Paper
from guidebuild.press.paper.room import NoRoomError
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import SheetsNamed, make_booklet
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.booklet.book import BookletView
from guidebuild.views.booklet.spreads import AlikeSpread, Spread
from guidebuild.words import words


@dataclass(frozen=True, slots=True)
class SpreadWork:
    """What printing one spread needs; `pages` are the numbers that it names, by account."""

    spread: Spread
    pictures: tuple[tuple[str, Picture], ...]
    look: Look
    pages: tuple[tuple[str, int], ...]


@dataclass(frozen=True, slots=True)
class BookletWork:
    """What a booklet needs; `spreads` are those that could be printed, by their ids, `front` the pages before the first."""

    view: BookletView
    spreads: tuple[tuple[str, KnownFile], ...]
    pictures: tuple[tuple[str, Picture], ...]
    look: Look
    paper: Paper
    front: int = 0


def make_spread(work: SpreadWork) -> Made:
    """Two facing pages; no part where their words are over."""
    look, leaf, pages = work.look, Leaf(work.look.format), dict(work.pages)
    if isinstance(work.spread, AlikeSpread):
        result = render_alike(work.spread, dict(work.pictures), leaf, look.theme_folders, pages, look.contrast)
    else:
        result = render_species(work.spread, dict(work.pictures), leaf, look.theme_folders, pages, look.contrast)
    return Made((result.pdf,) if result.pdf else (), result.problems)


def count_front_pages(work: BookletWork) -> Made:
    """How many pages stand before the first spread, in figures."""
    return Made((str(count_front(work.view, dict(work.pictures), Leaf(work.look.format), work.look.theme_folders)).encode(),))


def make_bound(work: BookletWork) -> Made:
    """A booklet to read, and its pages as they lie on sheets to be folded; the sheets are missing where the paper has no room."""
    look, view = work.look, work.view
    spreads = {ident: CardResult(ident, printed.path.read_bytes(), ()) for ident, printed in work.spreads}
    made = bind_booklet(view, spreads, dict(work.pictures), Leaf(look.format), look.theme_folders, front=work.front, contrast=look.contrast)
    if not made.pdf:
        return Made((), made.problems)
    pages = trim_pages(made.pdf)
    what = words(view.language)("Sheets to be printed, folded and stitched. {file} has the pages to be read.", file=f"{look.format.id}.pdf")
    try:
        sheets = make_booklet(pages, look.format, work.paper, SheetsNamed(view.title, what, view.language))
    except NoRoomError as error:
        return Made((pages,), (*made.problems, Problem("no-room", "guide.yaml", str(error))))
    return Made((pages, sheets), made.problems)
