"""Which of the cards that stand are true: each one's file, and what its account said and its photos showed when it was printed."""

from __future__ import annotations

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import suppress
from typing import NamedTuple

from guidebuild.press.engine.digest import KnownFile, digest
from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Maker
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.views.cards.card import CardView

_NOTE = "printed"


class Said(NamedTuple):
    """What a card says of its account, as a digest, and the ids of the photos that it shows."""

    mark: str
    photos: tuple[str, ...]


def read_card(view: CardView) -> Said:
    """What there is on a card."""
    return Said(digest(view), tuple(photo.id for photo in view.photos))


def note_printed(cards: Files, views: Iterable[CardView], maker: Maker, pictures: PictureMaker) -> None:
    """Write down what has been printed in this run; a card that could not be is none."""
    by_account = {view.id: view for view in views}
    noted = {account: key for account, _, key in _find_cards(cards, by_account, lambda one: read_card(by_account[one]), maker, pictures)}
    with suppress(OSError):  # without it the next site offers no cards, and the next run prints none again
        write_safely(cards.find_note_file(_NOTE), json.dumps(noted).encode())


def find_true_cards(
    cards: Files, accounts: Iterable[str], ask: Callable[[str], Said], maker: Maker, pictures: PictureMaker
) -> Iterator[tuple[str, KnownFile]]:
    """Each account with its card, where the one that stands says what the guide says today and is as it was printed.

    `ask` tells what the card of an account would say; it is asked only where one stands.
    """
    noted = _read(cards)
    found = _find_cards(cards, (account for account in accounts if account in noted), ask, maker, pictures)
    return ((account, card) for account, card, key in found if noted[account] == key)


def _find_cards(
    cards: Files, accounts: Iterable[str], ask: Callable[[str], Said], maker: Maker, pictures: PictureMaker
) -> Iterator[tuple[str, KnownFile, str]]:
    """Accounts with the cards that stand, each with the key of what it says, shows and is; none where a photo cannot be read."""
    for account in accounts:
        card = cards.find(f"{account}.pdf")
        if card is None:
            continue
        said = ask(account)
        try:
            key = maker.key(note_printed, (said.mark, pictures.find_originals(said.photos), card.mark))
        except OSError:
            continue
        yield account, card, key


def _read(cards: Files) -> Mapping[str, object]:
    try:
        noted = json.loads(cards.find_note_file(_NOTE).read_bytes())
    except (OSError, ValueError):
        return {}
    return noted if isinstance(noted, dict) else {}
