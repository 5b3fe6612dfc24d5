"""Each species' field card on the site, which is put online by itself: a copy of what the output `cards` has printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath

from guidebuild.fieldwork.published import Published
from guidebuild.guide.field_declaration import OutputName
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Maker
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.printed_cards import find_true_cards
from guidebuild.views.cards.card import card_views
from guidebuild.views.site.account import card_path
from guidebuild.views.site.page import PageNote


def publish_cards(guide: Published, files: Files, maker: Maker, pictures: PictureMaker) -> Mapping[str, int]:
    """Put a copy of each card that stands beside the pages; its bytes by its path from the site's root.

    Where this run prints no cards, those of a former run serve that say what the guide still says.
    """
    return dict(_publish(guide, files, maker, pictures))


def _publish(guide: Published, files: Files, maker: Maker, pictures: PictureMaker) -> Iterator[tuple[str, int]]:
    for account, card in find_true_cards(files.of(OutputName.CARDS), card_views(guide), maker, pictures):
        path = card_path(account)
        if not files.keep((path,), card.mark):
            files.add(path, card.path.read_bytes(), key=card.mark, where=f"card {account}")
        yield path, card.path.stat().st_size


def find_card(cards: Mapping[str, int], note: PageNote) -> tuple[tuple[str, int], ...]:
    """The card that a page offers, with its bytes."""
    path = card_path(PurePosixPath(note.page.path).stem)
    return ((path, cards[path]),) if note.page.kind == "account" and path in cards else ()
