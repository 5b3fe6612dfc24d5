"""The cards of each format, with all their pictures or with those that may be sold; each set is made once."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.sale import make_sellable
from guidebuild.press.engine.maker import Piece
from guidebuild.press.outputs.cards.page import picture_pixels
from guidebuild.press.outputs.cards.printing import Printing
from guidebuild.press.paper.formats import Format
from guidebuild.views.cards.card import CardView, card_views

_FOR_SALE = "sold/"


@dataclass(frozen=True, slots=True)
class Variant:
    """What prints are made with: the guide as it is, or without the pictures that may not be sold."""

    printing: Printing
    cards: Sequence[CardView]
    sold: bool


class CardSets:
    """Which variant a print takes, and the cards of each format in it."""

    def __init__(self, printing: Printing, base: Format) -> None:
        """`base` is the format of the guide's own cards, which stand at the top of the output."""
        self._base = base
        self._names = {name.strip().casefold() for name in printing.guide.settings.sold}
        self.whole = Variant(printing, card_views(printing.guide), sold=False)
        guide = make_sellable(printing.guide) if self._names else printing.guide
        fair = Variant(replace(printing, guide=guide), card_views(guide), sold=True) if guide is not printing.guide else self.whole
        self._fair = fair
        self._sets: dict[str, Mapping[str, Piece]] = {}

    def choose(self, *names: str) -> Variant:
        """The variant for what goes by these names in `sold:`."""
        return self._fair if self._names & {name.strip().casefold() for name in names} else self.whole

    def choose_cards(self, card_format: Format, *names: str) -> Variant:
        """The variant for cards of a format, which are also sold where all cards of that format are."""
        return self.choose(*names, *self._own_names(card_format))

    def stand_already(self, variant: Variant, card_format: Format) -> bool:
        """Whether these cards were asked for before."""
        return self._folder(variant, card_format) in self._sets

    def pieces(self, variant: Variant, card_format: Format) -> Mapping[str, Piece]:
        """The cards as pieces, by account; whoever asks first has them made."""
        folder = self._folder(variant, card_format)
        if folder not in self._sets:
            look = variant.printing.look(card_format, variant.printing.guide.settings.bleed)
            self._sets[folder] = variant.printing.card_pieces(variant.cards, look, picture_pixels(card_format), folder)
        return self._sets[folder]

    def make(self, variant: Variant, card_format: Format) -> Mapping[str, Piece]:
        """The cards as pieces that stand."""
        made = self.stand_already(variant, card_format)
        pieces = self.pieces(variant, card_format)
        if not made:
            variant.printing.maker.make(pieces.values())
        return pieces

    def _own_names(self, card_format: Format) -> tuple[str, ...]:
        return ("cards", card_format.id) if card_format.id == self._base.id else (card_format.id,)

    def _folder(self, variant: Variant, card_format: Format) -> str:
        own = "" if card_format.id == self._base.id else f"{card_format.id}/"
        apart = variant.sold and not self.choose(*self._own_names(card_format)).sold
        return f"{_FOR_SALE}{own}" if apart else own
