"""Further prints that a guide asks for with `prints:` in guide.yaml: leaflets, booklet, plates, print-shop cards."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence

from guidebuild.press.engine.digest import KnownFile, digest_bytes
from guidebuild.press.engine.jobs import Craft, Job
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.maker import Piece
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.card_sets import CardSets
from guidebuild.press.outputs.cards.jobs import (
    BOOKLET_FILE,
    BookletWork,
    CardWork,
    LeafletWork,
    bind_booklet,
    count_front_pages,
    make_leaflet,
    make_plate,
    make_shop_card,
)
from guidebuild.press.outputs.cards.leaflet import leaflet_pixels
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.plate import plate_pixels
from guidebuild.press.outputs.cards.printing import CARD, Printing
from guidebuild.press.paper.formats import PRINT_SHOP, Format, PrintKind, UnknownFormatError, format_named, paper_named, print_named
from guidebuild.press.paper.output_profile import read_profile_of
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import booklet_view, leaflet_views

_SHOP_BLEED = 3.0
PLATE = Craft("plate", "plates", cost=150.0)
LEAFLET = Craft("leaflet", "leaflets", cost=400.0)
BOOKLET = Craft("booklet", "booklets", cost=1500.0, seconds=300.0)


def publish_prints(printing: Printing, sets: CardSets) -> None:
    """All that `prints:` lists, in its order, each once; cards of a format that stand already are not made again."""
    for wanted in dict.fromkeys(printing.guide.settings.prints):
        if wanted.casefold() == PRINT_SHOP:
            variant = sets.choose(wanted)
            _publish_shop_cards(variant.printing, variant.cards)
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
            _PRINTERS[printed_format.kind](variant.printing, variant.cards, printed_format)


def _publish_shop_cards(printing: Printing, cards: Sequence[CardView]) -> None:
    """Single cards with bleed as PDF/X-4."""
    settings = printing.guide.settings
    try:
        name = settings.print_profile
        profile = read_profile_of(printing.folder, name) if name else None
    except (ValueError, OSError) as error:
        printing.problems.tell(Problem("print-profile", "guide.yaml", str(error)))
        return
    card_format = format_named(settings.card)
    look = printing.look(card_format, settings.bleed or _SHOP_BLEED)
    shown = printing.shown_on(cards, picture_pixels(card_format))

    def piece(card: CardView) -> Piece:
        work = CardWork(card, shown[card.id], look, profile=profile)
        return Piece(printing.maker.job(CARD, make_shop_card, work, where=f"card {card.id}"), (f"print-shop/{card.id}.pdf",))

    printing.maker.make(map(piece, cards))


def _publish_plates(printing: Printing, cards: Sequence[CardView], page: Format) -> None:
    jobs = _plate_jobs(printing, cards, page, {})
    printing.maker.make(Piece(job, (f"{page.id}/{account}.pdf",)) for account, job in jobs.items())


def _plate_jobs(printing: Printing, cards: Sequence[CardView], page: Format, numbers: Mapping[str, int]) -> dict[str, Job[CardWork]]:
    """A species a page, by account; `numbers` are those of a booklet's pages."""
    shown, look = printing.shown_on(cards, plate_pixels(page)), printing.look(page)
    works = {card.id: CardWork(card, shown[card.id], look, numbers.get(card.id, 0)) for card in cards}
    return {account: printing.maker.job(PLATE, make_plate, work, where=f"plate {account}") for account, work in works.items()}


def _print_pages(printing: Printing, jobs: Mapping[str, Job[CardWork]]) -> Iterator[tuple[str, KnownFile]]:
    """The species pages of a booklet that could be printed, by account. They are published in the booklet alone."""
    folder, accounts = printing.files.scratch(), {job.key: account for account, job in jobs.items()}
    for result in printing.maker.make_each(Piece(job, ("",)) for job in jobs.values()):
        for page in result.made.parts:
            mark = digest_bytes(page)
            path = folder / f"{mark}.pdf"
            path.write_bytes(page)
            yield accounts[result.job.key], KnownFile(path, mark)


def _publish_leaflets(printing: Printing, _: Sequence[CardView], sheet: Format) -> None:
    pieces = []
    for view in leaflet_views(printing.guide):
        shown = printing.shown_on(view.cards, leaflet_pixels(sheet))
        pictures = tuple(dict.fromkeys(picture for pictures in shown.values() for picture in pictures))
        job = printing.maker.job(LEAFLET, make_leaflet, LeafletWork(view, pictures, printing.look(sheet)), where=f"leaflet {view.id}")
        pieces.append(Piece(job, (f"{sheet.id}-{view.id}.pdf",)))
    printing.maker.make(pieces)


def _publish_booklet(printing: Printing, _: Sequence[CardView], leaf: Format) -> None:
    view, paper = booklet_view(printing.guide), paper_named(printing.guide.settings.paper)
    counting = BookletWork(view, (), (), printing.look(leaf), paper)
    counted = [result.made.parts for result in printing.maker.make_each([_booklet_piece(printing, count_front_pages, counting, ("",))])]
    start = next((int(parts[0]) for parts in counted if parts), 0)
    if not start:
        return  # why was told
    numbers = {card.id: number for number, card in enumerate(view.cards, start=start)}
    pages = tuple(_print_pages(printing, _plate_jobs(printing, view.cards, leaf, numbers)))
    shown = printing.shown_on(view.cards, plate_pixels(leaf))
    pictures = tuple(dict.fromkeys(picture for pictures in shown.values() for picture in pictures))
    work = BookletWork(view, pages, pictures, printing.look(leaf), paper)
    printing.maker.make([_booklet_piece(printing, bind_booklet, work, (BOOKLET_FILE, f"booklet-{paper.id}.pdf"))])


def _booklet_piece(printing: Printing, make: Callable[[BookletWork], Made], work: BookletWork, paths: tuple[str, ...]) -> Piece:
    return Piece(printing.maker.job(BOOKLET, make, work, where="booklet"), paths)


_PRINTERS = {
    PrintKind.PLATE: _publish_plates,
    PrintKind.LEAFLET: _publish_leaflets,
    PrintKind.BOOKLET: _publish_booklet,
}
