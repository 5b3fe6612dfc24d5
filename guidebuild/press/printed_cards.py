"""Which of the cards that stand are true: each one's file, and what its account said and its photos showed when it was printed."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from contextlib import suppress

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Maker
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.views.cards.card import CardView

_NOTE = "printed"


def note_printed(cards: Files, views: Iterable[CardView], maker: Maker, pictures: PictureMaker) -> None:
    """Write down what has been printed in this run; a card that could not be is none."""
    noted = {account: key for account, _, key in _find_cards(cards, views, maker, pictures)}
    with suppress(OSError):  # without it the next site offers no cards, and the next run prints none again
        write_safely(cards.find_note_file(_NOTE), json.dumps(noted).encode())


def find_true_cards(cards: Files, views: Iterable[CardView], maker: Maker, pictures: PictureMaker) -> Iterator[tuple[str, KnownFile]]:
    """Each account with its card, where the one that stands says what the guide says today and is as it was printed."""
    noted = _read(cards)
    found = _find_cards(cards, views, maker, pictures)
    return ((account, card) for account, card, key in found if noted.get(account) == key)


def _find_cards(cards: Files, views: Iterable[CardView], maker: Maker, pictures: PictureMaker) -> Iterator[tuple[str, KnownFile, str]]:
    """Accounts with the cards that stand, each with the key of what it says, shows and is; none where a photo cannot be read."""
    for view in views:
        card = cards.find(f"{view.id}.pdf")
        if card is None:
            continue
        photos = pictures.find_originals(photo.id for photo in view.photos)
        try:
            key = maker.key(note_printed, (view, photos, card.mark))
        except OSError:
            continue
        yield view.id, card, key


def _read(cards: Files) -> Mapping[str, object]:
    try:
        noted = json.loads(cards.find_note_file(_NOTE).read_bytes())
    except (OSError, ValueError):
        return {}
    return noted if isinstance(noted, dict) else {}
