"""Each species' field card on the site, which is put online by itself: a copy of what the output `cards` has printed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath

from guidebuild.fieldwork.published import Published
from guidebuild.guide.field_declaration import OutputName
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.maker import Maker
from guidebuild.press.engine.toolchain import digest_tools
from guidebuild.press.outputs.site.page_notes import PageNotes
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.printed_cards import Said, find_true_cards, read_card
from guidebuild.views.cards import card
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.account import card_path
from guidebuild.views.site.page import PageNote


def publish_cards(asked: Published, files: Files, maker: Maker, pictures: PictureMaker, notes: PageNotes) -> Mapping[str, int]:
    """Put a copy of each card that stands beside the pages; its bytes by its path from the site's root.

    Where this run prints no cards, those of a former run serve that say what the guide still says.
    """
    return dict(_publish(asked, files, maker, pictures, notes))


def _publish(asked: Published, files: Files, maker: Maker, pictures: PictureMaker, notes: PageNotes) -> Iterator[tuple[str, int]]:
    made_with, pieces = digest_tools(card.__name__), make_pieces(asked)

    def say(account: str) -> Said:
        question = f"card {account}, {made_with}"
        return Said(*notes.recall(question, lambda: read_card(card.field_card(pieces, asked.accounts[account]))))

    for account, printed in find_true_cards(files.of(OutputName.CARDS), tuple(asked.accounts), say, maker, pictures):
        path = card_path(account)
        if not files.keep((path,), printed.mark):
            files.add(path, printed.path.read_bytes(), key=printed.mark, where=f"card {account}")
        yield path, printed.path.stat().st_size


def find_card(cards: Mapping[str, int], note: PageNote) -> tuple[tuple[str, int], ...]:
    """The card that a page offers, with its bytes."""
    path = card_path(PurePosixPath(note.page.path).stem)
    return ((path, cards[path]),) if note.page.kind == "account" and path in cards else ()
