"""How one side and one card are set, and what stays the same while a card is fitted."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from guidebuild.press.outputs.cards.leaving_out import rank_pieces, rank_sentences, rank_small
from guidebuild.press.outputs.cards.page import (
    WIDE_PLATE,
    code_side,
    front_text,
    is_small,
)
from guidebuild.press.outputs.cards.shown import ALIKE_PICTURES, with_pictures
from guidebuild.press.outputs.cards.words import back_words, name_words, tell_words
from guidebuild.press.paper.formats import Format
from guidebuild.press.paper.giving_way import WHOLE, Height, LeftOut
from guidebuild.press.paper.measuring import FINE
from guidebuild.press.paper.setup import Setup
from guidebuild.views.cards.card import CardView

FRONT, BACK = "front", "back"


@dataclass(frozen=True, slots=True)
class Fit:
    """How one side is set."""

    points: float
    out: LeftOut = WHOLE

    @property
    def left_out(self) -> frozenset[str]:
        """The pieces that are left out."""
        return self.out.pieces

    @property
    def fine(self) -> bool:
        """Whether no word may be set smaller than the rest."""
        return self.points < FINE


@dataclass(frozen=True, slots=True)
class CardSetting:
    """One try at setting a card: both sides and the heights of plate and foot."""

    front: Fit
    back: Fit
    plate: float
    foot: float
    share: float = WIDE_PLATE
    """Of the width, for the plate of a card that lies on its side."""
    strip: float = 0.0
    """Height of the pictures of other stages and sexes."""
    bare: tuple[Fit, float] | None = None
    """The front and the plate to go back to where the strip turns out to have no room."""
    broken: bool = False
    """Whether words may be broken anywhere, because one is longer than its line."""


@dataclass(frozen=True, slots=True)
class CardFitting:
    """Everything that stays the same while one card is fitted."""

    card: CardView
    setup: Setup
    bleed: float = 0.0

    def __post_init__(self) -> None:
        """A small picture of which there is no file is none that has to be left out; a card on its side is too low for any."""
        object.__setattr__(self, "card", with_pictures(self.card, () if self.format.wide else self.setup.pictures))

    @property
    def where(self) -> str:
        """How a problem names the card."""
        return f"card {self.card.id}"

    @property
    def format(self) -> Format:
        """The format it is fitted to."""
        return self.setup.format

    @property
    def rule(self) -> bool:
        """Whether the back carries a rule of 50 mm."""
        return not self.format.wide

    @property
    def foot_code(self) -> float:
        """Side of the code in the foot, 0 for none; on a card that lies on its side it stands beside the season bars."""
        return code_side(self.format) if self.card.address and not self.format.wide else 0.0

    @property
    def aspect(self) -> float | None:
        """Width of the picture by its height."""
        picture = self.setup.pictures.get(self.card.plate.id) if self.card.plate else None
        return picture.width / picture.height if picture else None

    @property
    def sentences(self) -> tuple[str, ...]:
        """Sentences of the back that go before type gets smaller than is comfortable, the least needed first."""
        return rank_sentences(self.card)

    @property
    def small(self) -> frozenset[str]:
        """All small pictures, as pieces."""
        return frozenset(rank_small(self.card))

    @property
    def has_thumbs(self) -> bool:
        """Whether there are pictures of look-alikes."""
        return ALIKE_PICTURES in self.small

    def ranked(self, name: str) -> tuple[str, ...]:
        """The pieces of a side that go once its type is at the least, the least needed first."""
        return rank_pieces(self.card, self.setup.theme.left_out[name])

    def pieces(self, name: str) -> tuple[str, ...]:
        """All of a side that may be left out, the least needed first."""
        return (*(self.sentences if name == BACK else rank_small(self.card)), *self.ranked(name))

    @property
    def size_under(self) -> bool:
        """Whether the line of size stands under the plate; beside words an upright picture is too narrow for that."""
        return not self.format.wide or (self.aspect or 4 / 3) >= 1


def without(pieces: frozenset[str], out: LeftOut = WHOLE) -> LeftOut:
    """Without these as well, for good."""
    return LeftOut(out.pieces | pieces, out.refused | pieces)


def comfortable(fitting: CardFitting) -> float:
    """Points below which single sentences go first: the theme's, or the middle of a format that never reaches them."""
    sizes, wanted = fitting.setup.sizes, fitting.setup.theme.comfortable
    return wanted if wanted <= sizes[0] else (sizes[0] + sizes[-1]) / 2


def height_of(fitting: CardFitting, points: float, name: str, share: float = WIDE_PLATE) -> Height:
    """About how high the words of a side are at a size without some of their pieces."""
    if name == BACK:
        return partial(back_height, fitting, points)
    return partial(_front_words, fitting, points, share)


def _front_words(fitting: CardFitting, points: float, share: float, left_out: frozenset[str]) -> float:
    card = fitting.card
    told = tell_words(card, points, front_text(fitting.format, share), left_out)
    return told + name_words(card, points, fitting.format.inner.width, left_out)


def back_height(fitting: CardFitting, points: float, left_out: frozenset[str] = frozenset()) -> float:
    """About how high the words of the back are at a size."""
    return back_words(fitting.card, points, fitting.format.inner.width, left_out, small=is_small(fitting.format))
