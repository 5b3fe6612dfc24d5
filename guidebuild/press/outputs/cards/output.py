"""The output `cards`: each account's card, the deck and sheets of them, a walk's own set, checklists, the key and comparisons."""

from __future__ import annotations

import gc
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicWalk
from guidebuild.fieldwork.sale import COMPARISONS_SOLD, DECK_SOLD, WALK_CARDS_SOLD
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Piece
from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.card_sets import CardSets
from guidebuild.press.outputs.cards.jobs import ChecklistWork, DeckWork, join_deck, make_checklist
from guidebuild.press.outputs.cards.printing import CARD, DECK, DECK_FILE, Printing
from guidebuild.press.outputs.cards.prints import publish_prints
from guidebuild.press.outputs.cards.telling import publish_telling
from guidebuild.press.paper.formats import Format, Paper, UnknownFormatError, card_format_named, format_named, paper_named
from guidebuild.press.paper.imposition import Flip
from guidebuild.press.paper.room import NoRoomError
from guidebuild.press.paper.sheets import CardSheets, SheetsNamed
from guidebuild.press.paper.typesetter import HAS_TYPESETTER, tell_missing
from guidebuild.press.printed_cards import note_printed
from guidebuild.views.cards.card import CardView
from guidebuild.views.cards.printed import checklist_view, likely_on_walk
from guidebuild.words import words

__all__ = ["Printing", "publish_cards"]


def publish_cards(printing: Printing) -> None:
    """Everything under cards/."""
    if not HAS_TYPESETTER:
        printing.problems.tell(*tell_missing())
        return
    settings = printing.guide.settings
    try:
        card_format, paper = card_format_named(settings.card), paper_named(settings.paper)
    except UnknownFormatError as error:
        printing.problems.tell(Problem("unknown-format", "guide.yaml", str(error)))
        return
    sets = CardSets(printing, card_format)
    pieces = list(sets.pieces(sets.choose_cards(card_format), card_format).values())
    sheets = _Sheets(printing, pieces, card_format, paper, "sheets")
    for printed in _print_each(printing, pieces):
        sheets.add(printed)
    note_printed(printing.files, sets.whole.cards, printing.maker, printing.pictures)
    of_deck = sets.choose_cards(card_format, DECK_SOLD)
    publish_deck = _begin_deck(printing, of_deck.cards, sets.make(of_deck, card_format))  # by a helper, while the sheets are finished here
    sheets.publish()
    publish_deck()
    for walk in printing.guide.walks.values():
        _publish_walk(printing, walk, sets, paper)
    publish_prints(printing, sets)
    publish_telling(printing, paper, sheets_with=sets.choose(COMPARISONS_SOLD).printing)


def _print_each(printing: Printing, pieces: Sequence[Piece]) -> Iterator[bytes]:
    """Print cards, and give each as soon as it is there: the first stand on their sheets while helpers still print the others."""
    waiting = deque(pieces)
    for result in printing.maker.make_each(pieces):
        while waiting[0].job.key != result.job.key:
            yield from _read_printed(printing.files, (waiting.popleft(),))
        yield from _read_printed(printing.files, (waiting.popleft(),))
    yield from _read_printed(printing.files, waiting)


def _read_printed(files: Files, pieces: Iterable[Piece]) -> Iterator[bytes]:
    """Cards of this run, without those that could not be printed."""
    return (data for piece in pieces if (data := files.read(piece.paths[0])))


@dataclass(frozen=True, slots=True)
class _SheetsWork:
    """All that sheets show; `cards` by the keys of their jobs, since sheets are begun while cards are still printed."""

    cards: tuple[str, ...]
    format: Format
    paper: Paper
    flip: Flip
    bleed: float
    named: SheetsNamed


class _Sheets:
    """Cards n-up, fronts and backs in turn; kept where no card has changed."""

    def __init__(self, printing: Printing, pieces: Sequence[Piece], card_format: Format, paper: Paper, name: str) -> None:
        settings = printing.guide.settings
        keys = tuple(piece.job.key for piece in pieces)
        say = words(settings.language)
        what = say("Sheets to be printed and cut. {file} has the cards to be read.", file=DECK_FILE)
        named = SheetsNamed(f"{settings.title}: cards", what, settings.language)
        self._printing = printing
        self._pieces = pieces
        self._path = f"{name}-{paper.id}.pdf"
        self._work = _SheetsWork(keys, card_format, paper, Flip(settings.flip), settings.bleed, named)
        self._key = printing.maker.key(_Sheets, self._work)
        self._sheets: CardSheets | None = None
        if not printing.files.keep([self._path], self._key):
            try:
                self._sheets = CardSheets(card_format, paper, self._work.flip, self._work.bleed)
            except NoRoomError as error:
                printing.problems.tell(Problem("no-room", "guide.yaml", str(error)))

    def add(self, card: bytes) -> None:
        """Set one card, where the sheets are made at all."""
        if self._sheets is not None:
            self._sheets.add(card)

    def publish(self) -> None:
        """Finish the sheets; such as lack a card that failed are made anew next time."""
        made = self._sheets.finished(self._work.named) if self._sheets is not None else b""
        if made:
            self._sheets = None
            gc.collect()  # the sheets' objects know one another, and the deck needs as much room as they took
            key = self._key if self._printing.maker.all_made(self._pieces) else None
            self._printing.files.add(self._path, made, key=key)


def _begin_deck(printing: Printing, cards: Sequence[CardView], pieces: Mapping[str, Piece]) -> Callable[[], None]:
    """Have all cards put into one tagged file, to read on a screen or send to a printer of cards; it is published when called for."""
    files, path = printing.files, DECK_FILE
    parts = tuple((card.name.short, printed) for card in cards if (printed := files.find(pieces[card.id].paths[0])))
    job = printing.maker.job(DECK, join_deck, DeckWork(parts, f"{printing.guide.settings.title}: cards"), where="deck")
    if not parts or files.keep([path], job.key):
        return lambda: None
    joined = printing.maker.begin(job)

    def publish() -> None:
        for data in joined().parts:
            files.add(path, data, key=job.key)

    return publish


def _publish_walk(printing: Printing, walk: PublicWalk, sets: CardSets, paper: Paper) -> None:
    """The cards of what may be met on a walk, in the walk's own format, and its checklist."""
    try:
        card_format = card_format_named(walk.card_format or printing.guide.settings.card)
    except UnknownFormatError as error:
        printing.problems.tell(Problem("unknown-format", f"walks/{walk.id}.yaml", str(error)))
        return
    cards = sets.make(sets.choose_cards(card_format, WALK_CARDS_SOLD), card_format)
    pieces = [cards[account] for account in likely_on_walk(printing.guide, walk)]
    sheets = _Sheets(printing, pieces, card_format, paper, f"walk-{walk.id}")
    for printed in _read_printed(printing.files, pieces):
        sheets.add(printed)
    sheets.publish()
    checklist = ChecklistWork(checklist_view(printing.guide, walk), printing.look(format_named("checklist")))
    job = printing.maker.job(CARD, make_checklist, checklist, where=f"walk {walk.id}")
    printing.maker.make([Piece(job, (f"walk-{walk.id}-checklist.pdf",))])
