"""The output `cards`: each account's card, the deck and sheets of them, a walk's own set, checklists, the key and comparisons."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence

from guidebuild.guide.records import Walk
from guidebuild.press.card_page import picture_pixels
from guidebuild.press.digest import digest
from guidebuild.press.formats import Format, Kind, Paper, UnknownFormatError, format_named, paper_named
from guidebuild.press.imposition import Flip
from guidebuild.press.joining import join
from guidebuild.press.out_prints import publish_prints
from guidebuild.press.out_telling import publish_telling
from guidebuild.press.print_jobs import MODULE, CardWork, ChecklistWork, Look
from guidebuild.press.print_pictures import print_pictures
from guidebuild.press.problems import Problem
from guidebuild.press.run import Run, Work
from guidebuild.press.sheets import NoRoomError, make_sheets
from guidebuild.views.card import CardView, card_views
from guidebuild.views.printed import checklist_view, likely_on_walk

FOLDER = "cards"


def publish_cards(run: Run) -> None:
    """Everything under cards/."""
    settings = run.guide.settings
    try:
        card_format, paper = _card_format(settings.card), paper_named(settings.paper)
    except UnknownFormatError as error:
        run.problems.append(Problem("unknown-format", "guide.yaml", str(error)))
        return
    cards = card_views(run.guide)
    sets = {card_format.id: _printed(run, cards, card_format, "")}
    _publish_deck(run, cards, sets[card_format.id])
    _publish_sheets(run, list(sets[card_format.id].values()), card_format, paper, "sheets")
    for walk in run.guide.walks.values():
        _publish_walk(run, walk, cards, sets, paper)
    publish_prints(run, cards, printed=frozenset(sets))
    publish_telling(run, paper)


def _card_format(name: str) -> Format:
    found = format_named(name)
    if found.kind is not Kind.CARD:
        raise UnknownFormatError("card format", name, {"a6": 0, "a7": 0, "id-1": 0, "index-3x5": 0, "index-4x6": 0})
    return found


def _printed(run: Run, cards: Sequence[CardView], card_format: Format, folder: str) -> Mapping[str, Work]:
    """Print cards; where each went, by account."""
    box = picture_pixels(card_format)
    pictures = print_pictures(run, {photo.id: box for card in cards for photo in card.photos})
    look = Look(card_format, run.theme_folders, run.high_contrast, run.guide.settings.bleed)
    works: dict[str, Work] = {}
    for card in cards:
        shown = tuple((photo.id, pictures[photo.id][1]) for photo in card.photos if photo.id in pictures)
        seen = (card, [pictures[name][0] for name, _ in shown], card_format, look.contrast, look.bleed)
        job = run.job("card", f"{MODULE}:card", CardWork(card, shown, look), seen=seen, where=f"card {card.id}")
        works[card.id] = Work(job, (f"{FOLDER}/{folder}{card.id}.pdf",))
    deque(run.make(works.values()), maxlen=0)
    return works


def _publish_deck(run: Run, cards: Sequence[CardView], works: Mapping[str, Work]) -> None:
    """All cards in one tagged file, to read on a screen or send to a printer of cards."""
    path, key = f"{FOLDER}/deck.pdf", digest("deck", [work.job.key for work in works.values()], run.theme)
    parts = [(card.name.short, data) for card in cards if (data := run.published(works[card.id].paths[0]))]
    if parts and not run.staging.keep_all([path], key):
        run.staging.add(path, join(parts, f"{run.guide.settings.title}: cards"), key)


def _publish_sheets(run: Run, works: Iterable[Work], card_format: Format, paper: Paper, name: str) -> None:
    """Cards n-up, fronts and backs in turn; kept where no card has changed."""
    settings, listed = run.guide.settings, list(works)
    path = f"{FOLDER}/{name}-{paper.id}.pdf"
    key = digest("sheets", [work.job.key for work in listed], card_format, paper, settings.flip, settings.bleed, run.theme)
    printed = [data for work in listed if (data := run.published(work.paths[0]))]
    if not printed or run.staging.keep_all([path], key):
        return
    try:
        sheets = make_sheets(printed, card_format, paper, Flip(settings.flip), settings.bleed, title=f"{settings.title}: cards")
    except NoRoomError as error:
        run.problems.append(Problem("no-room", "guide.yaml", str(error)))
        return
    run.staging.add(path, sheets, key)


def _publish_walk(run: Run, walk: Walk, cards: Sequence[CardView], sets: dict[str, Mapping[str, Work]], paper: Paper) -> None:
    """The cards of what may be met on a walk, in the walk's own format, and its checklist."""
    try:
        card_format = _card_format(walk.card_format or run.guide.settings.card)
    except UnknownFormatError as error:
        run.problems.append(Problem("unknown-format", f"walks/{walk.id}.yaml", str(error)))
        return
    if card_format.id not in sets:
        sets[card_format.id] = _printed(run, cards, card_format, f"{card_format.id}/")
    works = [sets[card_format.id][account] for account in likely_on_walk(run.guide, walk)]
    _publish_sheets(run, works, card_format, paper, f"walk-{walk.id}")
    deque(run.make(_checklists(run, walk)), maxlen=0)


def _checklists(run: Run, walk: Walk) -> Iterator[Work]:
    view, look = checklist_view(run.guide, walk), Look(format_named("checklist"), run.theme_folders, run.high_contrast)
    seen = (view, look.format, look.contrast)
    job = run.job("card", f"{MODULE}:checklist", ChecklistWork(view, look), seen=seen, where=f"walk {walk.id}")
    yield Work(job, (f"{FOLDER}/walk-{walk.id}-checklist.pdf",))
