"""The output `cards`: each account's card, the deck and sheets of them, a walk's own set, checklists, the key and comparisons."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence

from guidebuild.guide.records import Walk
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import Job
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.jobs import MODULE, CardWork, ChecklistWork, DeckWork, Look
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.pictures import print_pictures
from guidebuild.press.outputs.cards.prints import publish_prints
from guidebuild.press.outputs.cards.telling import publish_telling
from guidebuild.press.paper.formats import Format, Kind, Paper, UnknownFormatError, format_named, paper_named
from guidebuild.press.paper.imposition import Flip
from guidebuild.press.paper.sheets import CardSheets, NoRoomError
from guidebuild.press.run import Run, Work
from guidebuild.views.cards.card import CardView, card_views
from guidebuild.views.cards.printed import checklist_view, likely_on_walk

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
    works = _card_works(run, cards, card_format, "")
    sheets = _Sheets(run, list(works.values()), card_format, paper, "sheets")
    for printed in _as_printed(run, list(works.values())):
        sheets.add(printed)
    publish_deck = _deck_begun(run, cards, works)  # by a helper, while the sheets are finished here
    sheets.publish()
    publish_deck()
    sets = {card_format.id: works}
    for walk in run.guide.walks.values():
        _publish_walk(run, walk, cards, sets, paper)
    publish_prints(run, cards, printed=frozenset(sets))
    publish_telling(run, paper)


def _card_format(name: str) -> Format:
    found = format_named(name)
    if found.kind is not Kind.CARD:
        raise UnknownFormatError("card format", name, {"a6": 0, "a7": 0, "id-1": 0, "index-3x5": 0, "index-4x6": 0})
    return found


def _card_works(run: Run, cards: Sequence[CardView], card_format: Format, folder: str) -> Mapping[str, Work]:
    """What printing the cards takes, by account."""
    box = picture_pixels(card_format)
    pictures = print_pictures(run, {photo.id: box for card in cards for photo in card.photos})
    look = Look(card_format, run.theme_folders, run.high_contrast, run.guide.settings.bleed)
    works: dict[str, Work] = {}
    for card in cards:
        shown = tuple((photo.id, pictures[photo.id][1]) for photo in card.photos if photo.id in pictures)
        seen = (card, [pictures[name][0] for name, _ in shown], card_format, look.contrast, look.bleed)
        job = run.job("card", f"{MODULE}:card", CardWork(card, shown, look), seen=seen, where=f"card {card.id}")
        works[card.id] = Work(job, (f"{FOLDER}/{folder}{card.id}.pdf",))
    return works


def _as_printed(run: Run, works: Sequence[Work]) -> Iterator[bytes]:
    """Print cards, and give each as soon as it is there: the first stand on their sheets while helpers still print the others."""
    waiting = deque(works)
    for result in run.make(works):
        while waiting[0].job.key != result.job.key:
            yield from _standing(run, (waiting.popleft(),))
        yield from _standing(run, (waiting.popleft(),))
    yield from _standing(run, waiting)


def _standing(run: Run, works: Iterable[Work]) -> Iterator[bytes]:
    """Cards of this run, without those that could not be printed."""
    return (data for work in works if (data := run.published(work.paths[0])))


class _Sheets:
    """Cards n-up, fronts and backs in turn; kept where no card has changed."""

    def __init__(self, run: Run, works: Sequence[Work], card_format: Format, paper: Paper, name: str) -> None:
        settings = run.guide.settings
        self._run = run
        self._works = works
        self._path = f"{FOLDER}/{name}-{paper.id}.pdf"
        keys = [work.job.key for work in works]
        self._key = digest("sheets", keys, card_format, paper, settings.flip, settings.bleed, run.theme)
        self._sheets: CardSheets | None = None
        if not run.staging.keep_all([self._path], self._key):
            try:
                self._sheets = CardSheets(card_format, paper, Flip(settings.flip), settings.bleed)
            except NoRoomError as error:
                run.problems.append(Problem("no-room", "guide.yaml", str(error)))

    def add(self, card: bytes) -> None:
        """Set one card, where the sheets are made at all."""
        if self._sheets is not None:
            self._sheets.add(card)

    def publish(self) -> None:
        """Finish the sheets."""
        made = self._sheets.finished(f"{self._run.guide.settings.title}: cards") if self._sheets is not None else b""
        if made:
            self._run.add_whole(self._path, made, self._key, self._works)


def _deck_begun(run: Run, cards: Sequence[CardView], works: Mapping[str, Work]) -> Callable[[], None]:
    """Have all cards put into one tagged file, to read on a screen or send to a printer of cards; it is published when called for."""
    path, key = f"{FOLDER}/deck.pdf", digest("deck", [work.job.key for work in works.values()], run.theme)
    parts = tuple((card.name.short, place[0]) for card in cards if (place := run.standing(works[card.id].paths[0])))
    if not parts or run.staging.keep_all([path], key):
        return lambda: None
    joined = run.begin(Job(key, "deck", f"{MODULE}:deck", DeckWork(parts, f"{run.guide.settings.title}: cards"), "deck"))

    def publish() -> None:
        for data in joined().parts:
            run.add_whole(path, data, key, works.values())

    return publish


def _publish_walk(run: Run, walk: Walk, cards: Sequence[CardView], sets: dict[str, Mapping[str, Work]], paper: Paper) -> None:
    """The cards of what may be met on a walk, in the walk's own format, and its checklist."""
    try:
        card_format = _card_format(walk.card_format or run.guide.settings.card)
    except UnknownFormatError as error:
        run.problems.append(Problem("unknown-format", f"walks/{walk.id}.yaml", str(error)))
        return
    if card_format.id not in sets:
        sets[card_format.id] = _card_works(run, cards, card_format, f"{card_format.id}/")
        deque(run.make(sets[card_format.id].values()), maxlen=0)
    works = [sets[card_format.id][account] for account in likely_on_walk(run.guide, walk)]
    sheets = _Sheets(run, works, card_format, paper, f"walk-{walk.id}")
    for printed in _standing(run, works):
        sheets.add(printed)
    sheets.publish()
    deque(run.make(_checklists(run, walk)), maxlen=0)


def _checklists(run: Run, walk: Walk) -> Iterator[Work]:
    view, look = checklist_view(run.guide, walk), Look(format_named("checklist"), run.theme_folders, run.high_contrast)
    seen = (view, look.format, look.contrast)
    job = run.job("card", f"{MODULE}:checklist", ChecklistWork(view, look), seen=seen, where=f"walk {walk.id}")
    yield Work(job, (f"{FOLDER}/walk-{walk.id}-checklist.pdf",))
