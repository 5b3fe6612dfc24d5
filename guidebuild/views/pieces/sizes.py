"""Sizes that are drawn together: how long the longest is, what familiar thing they stand beside, and the words of each scale."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass

from guidebuild.views.pieces.common import SizeView
from guidebuild.words import Words

SCALES = (
    (1000.0, "a thousand times life size"),
    (100.0, "a hundred times life size"),
    (10.0, "ten times life size"),
    (1.0, "life size"),
    (1 / 2, "half life size"),
    (1 / 5, "one fifth of life size"),
    (1 / 10, "one tenth of life size"),
    (1 / 20, "one twentieth of life size"),
    (1 / 50, "one fiftieth of life size"),
    (1 / 100, "one hundredth of life size"),
    (1 / 200, "one two-hundredth of life size"),
    (1 / 500, "one five-hundredth of life size"),
    (1 / 1000, "one thousandth of life size"),
    (1 / 2000, "one two-thousandth of life size"),
)
"""The scales at which sizes may be drawn, the largest first, in words that are read in the field."""
# As long as a hand, and the longest still judged by hands (common practice, no source).
_BY_CARD, _BY_HAND = 120.0, 1000.0
_HEIGHT = re.compile(r"\b(?:height|high|tall|altura|alto|alta)\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class FamiliarThing:
    """Something that everyone knows the size of, standing upright; millimetres, and how its real size is said."""

    id: str
    height: float
    width: float
    said: str


THINGS = {
    thing.id: thing
    for thing in (
        # A grown-up's hand and person: common practice, no source.
        FamiliarThing("hand", 180.0, 86.0, "hand: 18 cm"),
        # ISO/IEC 7810, ID-1: 85.60 by 53.98 mm.
        FamiliarThing("card", 85.6, 53.98, "bank card: 8.6 cm"),
        FamiliarThing("person", 1700.0, 470.0, "person: 1.7 m"),
    )
}


@dataclass(frozen=True, slots=True)
class SizesView:
    """What the sizes on one print have in common, so that all of them are drawn to one scale.

    `longest` and `tallest` are millimetres, 0 where nothing lies or stands; `thing` is what they stand beside, None for nothing.
    `said` are the words of each of `SCALES`, for a bar by itself and for one beside the thing.
    """

    longest: float = 0.0
    tallest: float = 0.0
    thing: FamiliarThing | None = None
    said: tuple[tuple[str, str], ...] = ()


NO_SIZES = SizesView()


def is_height(measured: str) -> bool:
    """Whether what was measured stands upright: `height`, `height of the stem`."""
    return bool(_HEIGHT.search(measured))


def sizes_together(sizes: Iterable[SizeView | None], beside: str, say: Words) -> SizesView:
    """What these sizes have in common; `beside` is the thing that the guide chooses, empty for one that is about as large."""
    drawn = [size for size in sizes if size and size.high]
    longest = max((size.high or 0.0 for size in drawn if not size.upright), default=0.0)
    tallest = max((size.high or 0.0 for size in drawn if size.upright), default=0.0)
    thing = THINGS.get(beside or choose_thing(max(longest, tallest)))
    return SizesView(longest, tallest, thing, tuple(_say_scale(scale, words, thing, say) for scale, words in SCALES))


def choose_thing(largest: float) -> str:
    """The familiar thing for a guide whose largest is so many millimetres long."""
    return "card" if largest <= _BY_CARD else "hand" if largest <= _BY_HAND else "person"


def _say_scale(scale: float, words: str, thing: FamiliarThing | None, say: Words) -> tuple[str, str]:
    alone = say(words) if scale == 1 else say("bar: {scale}", scale=say(words))
    return alone, f"{alone}; {say(thing.said)}" if thing else alone
