"""What the prints among the cards are made with."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problems
from guidebuild.press.outputs.cards.jobs import CardWork, Look, make_card
from guidebuild.press.paper.formats import Format
from guidebuild.press.photos.maker import Box, PictureMaker
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.cards.card import CardView

CARD = Craft("card", "cards", cost=150.0)
DECK = Craft("deck", "decks", cost=500.0, seconds=300.0)
DECK_FILE = "deck.pdf"
SHEET = Craft("sheet", "sheets", cost=1000.0)


def seen_near(cards: Iterable[CardView]) -> frozenset[str]:
    """The photos of which small marks may be shown enlarged."""
    return frozenset(mark.photo for card in cards for mark in card.marks if mark.point and mark.wide)


@dataclass(frozen=True, slots=True)
class Printing:
    """What every print needs: what the guide says, where files go, who makes them, and how they look."""

    guide: Published
    files: Files
    maker: Maker
    pictures: PictureMaker
    problems: Problems
    theme: tuple[Path, ...]
    high_contrast: bool
    folder: Path
    """The guide's own folder, in which a print shop's colour profile may stand."""

    def look(self, page: Format, bleed: float = 0.0) -> Look:
        """How something of a format is printed."""
        return Look(page, self.theme, self.high_contrast, bleed)

    def shown_on(self, cards: Iterable[CardView], box: Box) -> dict[str, tuple[tuple[str, Picture], ...]]:
        """The pictures of each card by photo id, fit to be printed in a box; by account."""
        listed = tuple(cards)
        pictures = self.pictures.make_prints({photo.id: box for card in listed for photo in card.photos}, near=seen_near(listed))
        return {card.id: tuple((photo.id, pictures[photo.id]) for photo in card.photos if photo.id in pictures) for card in listed}

    def card_pieces(self, cards: Iterable[CardView], look: Look, box: Box, folder: str) -> dict[str, Piece]:
        """The cards in a format as pieces to be put into a folder of the output, by account."""
        listed = tuple(cards)
        shown = self.shown_on(listed, box)
        return {
            card.id: Piece(
                self.maker.job(CARD, make_card, CardWork(card, shown[card.id], look), where=f"card {card.id}"), (f"{folder}{card.id}.pdf",)
            )
            for card in listed
        }
