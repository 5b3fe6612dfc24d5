"""Further prints that a guide asks for with `prints:` in guide.yaml: leaflets, booklet, plates, print-shop cards."""

from __future__ import annotations

from collections import deque
from collections.abc import Mapping, Sequence

from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.trees import inside
from guidebuild.press.outputs.cards.booklet import first_species_page, render_booklet
from guidebuild.press.outputs.cards.jobs import MODULE, CardWork, LeafletWork, Look
from guidebuild.press.outputs.cards.leaflet import leaflet_pixels
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.pictures import print_pictures
from guidebuild.press.outputs.cards.plate import plate_pixels
from guidebuild.press.paper.formats import Format, Kind, UnknownFormatError, format_named, formats, paper_named
from guidebuild.press.paper.output_profile import OutputProfile, read_profile
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.paper.sheets import NoRoomError, make_booklet
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.run import Run, Work
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import booklet_view, leaflet_views

FOLDER = "cards"
PRINT_SHOP = "print shop"
_SHOP_BLEED = 3.0
_Shown = tuple[tuple[str, Picture], ...]


def publish_prints(run: Run, cards: Sequence[CardView], *, printed: frozenset[str]) -> None:
    """All that `prints:` lists, in its order, each once; `printed` are card formats that stand already."""
    for wanted in dict.fromkeys(run.guide.settings.prints):
        if wanted.casefold() == PRINT_SHOP:
            _print_shop(run, cards)
            continue
        try:
            found = format_named(wanted)
        except UnknownFormatError:
            known = UnknownFormatError("print", wanted, {**formats(), PRINT_SHOP: None})
            run.problems.append(Problem("unknown-format", "guide.yaml", str(known)))
            continue
        if found.id not in printed:
            _PRINTERS[found.kind](run, cards, found)


def _print_shop(run: Run, cards: Sequence[CardView]) -> None:
    """Single cards with bleed as PDF/X-4."""
    settings = run.guide.settings
    try:
        profile = _profile(run)
    except (ValueError, OSError) as error:
        run.problems.append(Problem("print-profile", "guide.yaml", str(error)))
        return
    card_format = format_named(settings.card)
    pictures, look = _pictures(run, cards, picture_pixels(card_format)), _look(run, card_format, settings.bleed or _SHOP_BLEED)
    works = []
    for card in cards:
        shown, marks = _shown(card, pictures)
        seen = (card, marks, card_format, look.contrast, look.bleed, digest(profile.data) if profile else "")
        job = run.job("card", f"{MODULE}:shop_card", CardWork(card, shown, look, profile=profile), seen=seen, where=f"card {card.id}")
        works.append(Work(job, (f"{FOLDER}/print-shop/{card.id}.pdf",)))
    deque(run.make(works), maxlen=0)


def _profile(run: Run) -> OutputProfile | None:
    name = run.guide.settings.print_profile
    if not name:
        return None
    path = inside(run.folder, name)
    if path is None or not path.is_file():
        raise ValueError(f"print profile “{name}” is not a file of the guide; put the print shop's .icc file into the guide's folder")
    return read_profile(path.read_bytes(), name)


def _plates(run: Run, cards: Sequence[CardView], page: Format) -> None:
    _plate_works(run, cards, page, {})


def _plate_works(run: Run, cards: Sequence[CardView], page: Format, numbers: Mapping[str, int]) -> Mapping[str, Work]:
    pictures, look = _pictures(run, cards, plate_pixels(page)), _look(run, page)
    works: dict[str, Work] = {}
    for card in cards:
        shown, marks = _shown(card, pictures)
        number = numbers.get(card.id, 0)
        seen = (card, marks, page, look.contrast, number)
        job = run.job("card", f"{MODULE}:plate", CardWork(card, shown, look, number), seen=seen, where=f"plate {card.id}")
        works[card.id] = Work(job, (f"{FOLDER}/{page.id}/{card.id}.pdf",))
    deque(run.make(works.values()), maxlen=0)
    return works


def _leaflets(run: Run, _: Sequence[CardView], sheet: Format) -> None:
    works = []
    for view in leaflet_views(run.guide):
        pictures = _pictures(run, view.cards, leaflet_pixels(sheet))
        shown = tuple((name, picture) for name, (_mark, picture) in pictures.items())
        look = _look(run, sheet)
        seen = (view, [mark for mark, _picture in pictures.values()], sheet, look.contrast)
        job = run.job("card", f"{MODULE}:leaflet", LeafletWork(view, shown, look), seen=seen, where=f"leaflet {view.id}")
        works.append(Work(job, (f"{FOLDER}/{sheet.id}-{view.id}.pdf",)))
    deque(run.make(works), maxlen=0)


def _booklet(run: Run, _: Sequence[CardView], leaf: Format) -> None:
    view, paper = booklet_view(run.guide), paper_named(run.guide.settings.paper)
    start = first_species_page(view, leaf, run.theme_folders)
    works = _plate_works(run, view.cards, leaf, {card.id: number for number, card in enumerate(view.cards, start=start)})
    read, sheets = f"{FOLDER}/booklet.pdf", f"{FOLDER}/booklet-{paper.id}.pdf"
    key = digest("booklet", view, [work.job.key for work in works.values()], leaf, paper, run.theme)
    if run.staging.keep_all([read, sheets], key):
        return
    pages = [CardResult(i, run.published(work.paths[0]) or b"", ()) for i, work in works.items()]
    pictures = {name: picture for name, (_mark, picture) in _pictures(run, view.cards, plate_pixels(leaf)).items()}
    made = render_booklet(view, pages, pictures, leaf, run.theme_folders)
    run.problems += made.problems
    if not made.pdf:
        return
    run.add_whole(read, made.pdf, key, works.values())
    try:
        run.add_whole(sheets, make_booklet(made.pdf, leaf, paper, title=view.title), key, works.values())
    except NoRoomError as error:
        run.problems.append(Problem("no-room", "guide.yaml", str(error)))


def _cards(run: Run, cards: Sequence[CardView], card_format: Format) -> None:
    """Cards in one more format."""
    pictures, look = _pictures(run, cards, picture_pixels(card_format)), _look(run, card_format, run.guide.settings.bleed)
    works = []
    for card in cards:
        shown, marks = _shown(card, pictures)
        seen = (card, marks, card_format, look.contrast, look.bleed)
        job = run.job("card", f"{MODULE}:card", CardWork(card, shown, look), seen=seen, where=f"card {card.id}")
        works.append(Work(job, (f"{FOLDER}/{card_format.id}/{card.id}.pdf",)))
    deque(run.make(works), maxlen=0)


def _checklists(run: Run, _: Sequence[CardView], __: Format) -> None:
    """Every walk has its checklist already."""


_PRINTERS = {Kind.CARD: _cards, Kind.PLATE: _plates, Kind.LEAFLET: _leaflets, Kind.BOOKLET: _booklet, Kind.CHECKLIST: _checklists}


def _pictures(run: Run, cards: Sequence[CardView], box: tuple[int, int]) -> Mapping[str, tuple[str, Picture]]:
    return print_pictures(run, {photo.id: box for card in cards for photo in card.photos})


def _shown(card: CardView, pictures: Mapping[str, tuple[str, Picture]]) -> tuple[_Shown, tuple[str, ...]]:
    found = [(photo.id, *pictures[photo.id]) for photo in card.photos if photo.id in pictures]
    return tuple((name, picture) for name, _, picture in found), tuple(mark for _, mark, _ in found)


def _look(run: Run, page: Format, bleed: float = 0.0) -> Look:
    return Look(page, run.theme_folders, run.high_contrast, bleed)
