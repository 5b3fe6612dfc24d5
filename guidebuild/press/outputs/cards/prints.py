"""Further prints that a guide asks for with `prints:` in guide.yaml: leaflets, booklet, plates, print-shop cards, sheets of walks."""

from __future__ import annotations

from collections.abc import Sequence

from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.maker import Piece
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards import walk_sheets
from guidebuild.press.outputs.cards.booklet.publishing import publish_booklet
from guidebuild.press.outputs.cards.card_sets import CardSets, Variant
from guidebuild.press.outputs.cards.jobs import CardWork, LeafletWork, make_leaflet, make_plate
from guidebuild.press.outputs.cards.leaflet import leaflet_pixels
from guidebuild.press.outputs.cards.plate import plate_pixels
from guidebuild.press.outputs.cards.printing import SHEET, Printing
from guidebuild.press.outputs.cards.shop import publish_shop_cards
from guidebuild.press.paper.formats import PRINT_SHOP, Format, PrintKind, UnknownFormatError, print_named
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import checklist_view, leaflet_views
from guidebuild.views.cards.walk_sheets import spotting_view

PLATE = Craft("plate", "plates", cost=150.0)
LEAFLET = Craft("leaflet", "leaflets", cost=400.0)


def publish_prints(printing: Printing, sets: CardSets) -> None:
    """All that `prints:` lists, in its order, each once; cards of a format that stand already are not made again."""
    for wanted in dict.fromkeys(printing.guide.settings.prints):
        if wanted.casefold() == PRINT_SHOP:
            publish_shop_cards(printing, sets)
            continue
        try:
            printed_format = print_named(wanted)
        except UnknownFormatError as error:
            printing.problems.tell(Problem("unknown-format", "guide.yaml", str(error)))
            continue
        if printed_format.kind is PrintKind.CARD:
            sets.make(sets.choose_cards(printed_format), printed_format)
        elif printed_format.kind is not PrintKind.CHECKLIST:  # every walk has its checklist already
            variant = sets.choose(wanted)
            _PRINTERS[printed_format.kind](variant.printing, _cards_for(printed_format, variant, sets), printed_format)


def _cards_for(printed: Format, variant: Variant, sets: CardSets) -> Sequence[CardView]:
    """The cards that a print is made of; of a booklet, those that go to a print shop beside it."""
    return (sets.choose(PRINT_SHOP) if printed.kind is PrintKind.BOOKLET else variant).cards


def _publish_plates(printing: Printing, cards: Sequence[CardView], page: Format) -> None:
    shown, look = printing.shown_on(cards, plate_pixels(page)), printing.look(page)
    works = {card.id: CardWork(card, shown[card.id], look) for card in cards}
    printing.maker.make(
        Piece(printing.maker.job(PLATE, make_plate, work, where=f"plate {account}"), (f"{page.id}/{account}.pdf",))
        for account, work in works.items()
    )


def _publish_leaflets(printing: Printing, _: Sequence[CardView], sheet: Format) -> None:
    pieces = []
    for view in leaflet_views(printing.guide):
        shown = printing.shown_on(view.cards, leaflet_pixels(sheet))
        pictures = tuple(dict.fromkeys(picture for pictures in shown.values() for picture in pictures))
        job = printing.maker.job(LEAFLET, make_leaflet, LeafletWork(view, pictures, printing.look(sheet)), where=f"leaflet {view.id}")
        pieces.append(Piece(job, (f"{sheet.id}-{view.id}.pdf",)))
    printing.maker.make(pieces)


def _publish_spotting(printing: Printing, _: Sequence[CardView], page: Format) -> None:
    """A sheet for the children on each walk."""
    each = {walk.id: spotting_view(printing.guide, walk) for walk in printing.guide.walks.values()}
    nothing = "no children's sheet: nothing that is out then has a picture and hurts nobody, nor is taken for what does"
    printing.problems.tell(*(Problem("nothing-to-find", f"walks/{ident}.yaml", nothing) for ident, view in each.items() if view is None))
    views = [view for view in each.values() if view]
    box = walk_sheets.picture_pixels(page)
    pictures = printing.pictures.make_prints({photo.id: box for view in views for photo in view.photos})
    pieces = []
    for view in views:
        shown = tuple((photo.id, pictures[photo.id]) for photo in view.photos if photo.id in pictures)
        work = walk_sheets.SpottingWork(view, shown, printing.look(page))
        job = printing.maker.job(SHEET, walk_sheets.render_spotting, work, where=f"children's sheet {view.id}")
        pieces.append(Piece(job, (f"walk-{view.id}-{page.id}.pdf",)))
    printing.maker.make(pieces)


def _publish_large_print(printing: Printing, _: Sequence[CardView], page: Format) -> None:
    """Each walk for those who need large type."""
    pieces = []
    for walk in printing.guide.walks.values():
        work = walk_sheets.LargePrintWork(checklist_view(printing.guide, walk), printing.look(page))
        job = printing.maker.job(SHEET, walk_sheets.render_large_print, work, where=f"large print {walk.id}")
        pieces.append(Piece(job, (f"walk-{walk.id}-{page.id}.pdf",)))
    printing.maker.make(pieces)


def _publish_booklet(printing: Printing, sent: Sequence[CardView], leaf: Format) -> None:
    publish_booklet(printing, leaf, sent)


_PRINTERS = {
    PrintKind.PLATE: _publish_plates,
    PrintKind.LEAFLET: _publish_leaflets,
    PrintKind.BOOKLET: _publish_booklet,
    PrintKind.SPOTTING: _publish_spotting,
    PrintKind.LARGE_PRINT: _publish_large_print,
}
