"""Has a booklet made: its spreads one by one, so that an unchanged one costs nothing, then the whole."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from guidebuild.press.engine.digest import KnownFile, digest_bytes
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.maker import Piece
from guidebuild.press.outputs.cards.booklet.bind import number_spreads
from guidebuild.press.outputs.cards.booklet.binding import is_glued, name_files
from guidebuild.press.outputs.cards.booklet.leaf import BLEED, Leaf
from guidebuild.press.outputs.cards.booklet.plates import plate_pixels
from guidebuild.press.outputs.cards.booklet.work import BookletWork, SpreadWork, make_bound, make_ends, make_spread, read_ends
from guidebuild.press.outputs.cards.jobs import Look
from guidebuild.press.outputs.cards.printing import Printing
from guidebuild.press.outputs.cards.shop import read_wish
from guidebuild.press.paper.formats import PRINT_SHOP, Format, paper_named
from guidebuild.press.paper.print_shop import ShopWish
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.booklet.book import BookletView, booklet_view
from guidebuild.views.booklet.spreads import AlikeSpread, Spread
from guidebuild.views.cards.card import CardView
from guidebuild.views.pieces.common import PhotoView

SPREAD = Craft("spread", "spreads", cost=250.0)
BOOKLET = Craft("booklet", "booklets", cost=1500.0, seconds=300.0)


def publish_booklet(printing: Printing, printed: Format, sent: Iterable[CardView]) -> None:
    """The booklet in this format, to be read and to be bound, and as a print shop wants it where that is asked for.

    `sent` are the cards that the print shop gets as well, where it gets any.
    """
    settings, leaf, look = printing.guide.settings, Leaf(printed), _look(printing, printed)
    view, paper = booklet_view(printing.guide), paper_named(settings.paper)
    box = plate_pixels(leaf.inner)
    pictures = printing.pictures.make_prints({photo.id: box for photo in _list_photos(view)})
    plain = BookletWork(view, (), tuple(pictures.items()), look, paper, thickness=settings.paper_thickness)
    folder = printing.files.scratch()
    made = [result.made.parts for result in printing.maker.make_each([_piece(printing, make_ends, plain, ("", "", ""))])]
    if not any(made):
        return  # why was told
    ends = read_ends(made[0])
    whole = len(ends.heads[0]) + 2 * len(view.spreads) + len(ends.heads[1])
    spreads = tuple(_print_spreads(printing, folder, look, view, number_spreads(view, ends.front), pictures))
    wish = _find_wish(printing)
    work = replace(
        plain,
        spreads=spreads,
        ends=tuple(_keep(folder, part) for part in made[0]),
        glued=is_glued(whole),
        shop=wish,
        only_here=tuple(sorted(pictures.keys() - {photo.id for card in sent for photo in card.photos})) if wish else (),
    )
    names = name_files(printed.id, paper.id, glued=work.glued, shop=wish is not None)
    printing.maker.make([_piece(printing, make_bound, work, tuple(names))])


def _look(printing: Printing, printed: Format) -> Look:
    return printing.look(printed, max(BLEED, printing.guide.settings.bleed))


def _find_wish(printing: Printing) -> ShopWish | None:
    """How the print shop wants its files; none where there is no shop or its profile cannot be read, which the cards for it tell."""
    if not any(wanted.casefold() == PRINT_SHOP for wanted in printing.guide.settings.prints):
        return None
    try:
        return read_wish(printing)
    except (ValueError, OSError):
        return None


def _list_photos(view: BookletView) -> Iterator[PhotoView]:
    """All pictures, those that stand in several places more than once."""
    ends = (view.cover, view.diagram.photo if view.diagram else None, *(entry.photo for entry in view.key))
    yield from (photo for photo in ends if photo)
    for spread in view.spreads:
        yield from _photos_of(spread)


def _photos_of(spread: Spread) -> Iterator[PhotoView]:
    if isinstance(spread, AlikeSpread):
        yield from (one.plate.photo for one in spread.each if one.plate.photo)
    else:
        yield from spread.pictures


def _print_spreads(  # noqa: PLR0913, PLR0917 - what spreads are printed with
    printing: Printing, folder: Path, look: Look, view: BookletView, pages: Mapping[str, int], pictures: Mapping[str, Picture]
) -> Iterator[tuple[str, KnownFile]]:
    """The spreads that could be printed, by their ids. They are published in the booklet alone."""
    ids: dict[str, str] = {}
    pieces = []
    for spread in view.spreads:
        shown = tuple((photo.id, pictures[photo.id]) for photo in _photos_of(spread) if photo.id in pictures)
        named = tuple((ident, pages[ident]) for ident in _named_by(spread) if ident in pages)
        job = printing.maker.job(SPREAD, make_spread, SpreadWork(spread, shown, look, named), where=f"booklet {spread.id}")
        ids[job.key] = spread.id
        pieces.append(Piece(job, ("",)))
    for result in printing.maker.make_each(pieces):
        for page in result.made.parts:
            yield ids[result.job.key], _keep(folder, page)


def _keep(folder: Path, part: bytes) -> KnownFile:
    """A part that stands in the booklet alone, for the process that binds it."""
    mark = digest_bytes(part)
    path = folder / mark
    path.write_bytes(part)
    return KnownFile(path, mark)


def _named_by(spread: Spread) -> tuple[str, ...]:
    """The accounts whose pages a spread names."""
    return tuple(one.id for one in spread.each) if isinstance(spread, AlikeSpread) else spread.alike


def _piece(printing: Printing, make: Callable[[BookletWork], Made], work: BookletWork, paths: tuple[str, ...]) -> Piece:
    return Piece(printing.maker.job(BOOKLET, make, work, where="booklet"), paths)
