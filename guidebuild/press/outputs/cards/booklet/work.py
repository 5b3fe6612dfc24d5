"""A booklet as jobs: what each needs, and the functions that worker processes run."""

from __future__ import annotations

import io
import json
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from pypdf import PdfReader

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.booklet.alike import render_alike
from guidebuild.press.outputs.cards.booklet.bind import PrintedEnds, bind_booklet, print_ends, trim_pages
from guidebuild.press.outputs.cards.booklet.binding import find_spine, make_cover, make_inside
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.species import render_species
from guidebuild.press.outputs.cards.jobs import Look
from guidebuild.press.outputs.cards.problems import near_problem
from guidebuild.press.paper.formats import Paper
from guidebuild.press.paper.ink import find_wet
from guidebuild.press.paper.near_trim import find_near_trim
from guidebuild.press.paper.print_shop import ShopWish, to_print_shop
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
    """What a booklet needs; `spreads` are those that could be printed, by their ids."""

    view: BookletView
    spreads: tuple[tuple[str, KnownFile], ...]
    pictures: tuple[tuple[str, Picture], ...]
    look: Look
    paper: Paper
    ends: tuple[KnownFile, ...] = ()
    """What `make_ends` gave."""
    glued: bool = False
    thickness: float = 0.0
    """Of one sheet, millimetres."""
    shop: ShopWish | None = None
    """How a print shop wants its files, where there are any for it."""
    only_here: tuple[str, ...] = ()
    """The photos that the print shop gets in the booklet alone."""

    @property
    def leaf(self) -> Leaf:
        """Its pages."""
        return Leaf(self.look.format, self.look.bleed)


def make_spread(work: SpreadWork) -> Made:
    """Two facing pages; no part where their words are over."""
    look, leaf, pages = work.look, Leaf(work.look.format, work.look.bleed), dict(work.pages)
    if isinstance(work.spread, AlikeSpread):
        result = render_alike(work.spread, dict(work.pictures), leaf, look.theme_folders, pages, look.contrast)
    else:
        result = render_species(work.spread, dict(work.pictures), leaf, look.theme_folders, pages, look.contrast)
    return Made((result.pdf,) if result.pdf else (), result.problems)


def make_ends(work: BookletWork) -> Made:
    """The heads of the pages of both ends, as `read_ends` reads them, and both."""
    look = work.look
    ends = print_ends(work.view, dict(work.pictures), work.leaf, look.theme_folders, contrast=look.contrast)
    return Made((json.dumps(ends.heads).encode(), ends.before, ends.behind), ends.problems)


def read_ends(parts: Sequence[bytes]) -> PrintedEnds:
    """What `make_ends` gave, without its problems, which were told with it."""
    heads, before, behind = parts
    first, last = map(tuple, json.loads(heads))
    return PrintedEnds(before, behind, (first, last))


def make_bound(work: BookletWork) -> Made:
    """A booklet to read, and what it is bound of, in the order of `name_files`; no sheets where the paper has no room for them."""
    look, leaf = work.look, work.leaf
    spreads = {ident: CardResult(ident, printed.path.read_bytes(), ()) for ident, printed in work.spreads}
    ends = read_ends([file.path.read_bytes() for file in work.ends])
    made = bind_booklet(work.view, spreads, dict(work.pictures), leaf, look.theme_folders, ends=ends, contrast=look.contrast)
    if not made.pdf:
        return Made((), made.problems)
    problems = (*made.problems, *(_find_unfit(work, work.shop, made.pdf) if work.shop else ()))
    if work.glued:
        bound = _glue(work, made.pdf)
        return Made((trim_pages(made.pdf), *_glued_for_shop(work, made.pdf, bound), *bound), problems)
    parts = (trim_pages(made.pdf), *((to_print_shop(made.pdf, work.shop),) if work.shop else ()))
    try:
        return Made((*parts, _lay_on_sheets(work, made.pdf)), problems)
    except NoRoomError as error:
        return Made(parts, (*problems, Problem("no-room", "guide.yaml", str(error))))


def _find_unfit(work: BookletWork, wish: ShopWish, pdf: bytes) -> Iterator[Problem]:
    """Pictures that take too much ink, without those of the cards for the shop, which tell it themselves, and type that may be cut."""
    yield from find_wet([(ident, picture) for ident, picture in work.pictures if ident in work.only_here], wish, "booklet")
    if near := find_near_trim(pdf, folded=not work.glued):
        worst = min(near, key=lambda one: one.distance)
        yield near_problem("booklet", f"on page {worst.page} of the {work.look.format.title}", worst, len(near) - 1)


def _glued_for_shop(work: BookletWork, pdf: bytes, bound: tuple[bytes, bytes]) -> tuple[bytes, ...]:
    """What is glued, as a print shop takes it; the flat cover has marks where it is folded round the spine."""
    if work.shop is None:
        return ()
    cover, inside = bound
    width = work.look.format.size.width
    return to_print_shop(cover, work.shop, folds=(width, width + _find_spine(work, pdf))), to_print_shop(inside, work.shop)


def _lay_on_sheets(work: BookletWork, pdf: bytes) -> bytes:
    """Pages two by two, to be folded and stitched; their bleed is kept where the paper has room for it round them."""
    say = words(work.view.language)
    what = say("Sheets to be printed, folded and stitched. {file} has the pages to be read.", file=f"{work.look.format.id}.pdf")
    paper = replace(work.paper, thickness=work.thickness or work.paper.thickness)
    return make_booklet(pdf, work.look.format, paper, SheetsNamed(work.view.title, what, work.view.language), bleed=work.leaf.bleed)


def _glue(work: BookletWork, pdf: bytes) -> tuple[bytes, bytes]:
    """The flat cover and the block."""
    leaf, view = work.leaf, work.view
    say, file = words(view.language), f"{work.look.format.id}.pdf"
    spine = _find_spine(work, pdf)
    cover = say("The cover of {file}, to be folded round its leaves: spine {spine} mm.", file=file, spine=f"{spine:.1f}")
    inside = say("The leaves of {file} page by page, to be glued into its cover.", file=file)
    flat = make_cover(pdf, leaf, spine, SheetsNamed(view.title, cover, view.language))
    return flat, make_inside(pdf, SheetsNamed(view.title, inside, view.language))


def _find_spine(work: BookletWork, pdf: bytes) -> float:
    """How wide the spine of all these pages is, millimetres."""
    return find_spine(len(PdfReader(io.BytesIO(pdf)).pages), work.thickness or work.paper.thickness)
