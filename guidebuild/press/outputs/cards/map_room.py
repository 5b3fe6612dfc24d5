"""How large a map stands on a card, and how much lower the words get that run beside it."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.later import imported_when_used
from guidebuild.press.outputs.cards.shown import MAP
from guidebuild.press.paper.drawing import LEAST_TYPE, Inks
from guidebuild.press.paper.measuring import count_lines
from guidebuild.views.cards.card import CardView
from guidebuild.views.pieces.small_letters import LETTERS

with imported_when_used():  # geometry and projections
    from guidebuild.views.pieces import maps

LEGEND = 6.6
"""Points; a little more than the least that is read."""
BESIDE_MAP = 3.0
"""Millimetres between a map and the words beside it."""
_LEAST_COLUMN = 38.0
"""Millimetres that words beside a map need: some six a line at the comfortable size."""
_LEAST_LEGEND = 26.0
_SIGN = "■ "
_RAGGED = 1.06
"""Shorter lines leave more empty at their ends."""


@dataclass(frozen=True, slots=True)
class FaceMap:
    """A map as a template prints it: how wide it and its legend stand, how wide it is drawn, how high its letters are, the legend's type.

    In millimetres, units of the map and points. The map of a narrow region is narrower than its legend.
    """

    view: maps.MapView
    width: float
    drawn: float
    leaf: str
    letters: float = LETTERS
    legend: float = LEGEND
    gap: float = BESIDE_MAP


def shown_map(card: CardView, out: frozenset[str], inks: Inks) -> FaceMap | None:
    """The map, where it is not left out."""
    return FaceMap(card.map, width_of(card.map), drawn_width(card.map), inks.leaf) if card.map and MAP not in out else None


def drawn_width(view: maps.MapView, letters: float = LETTERS) -> float:
    """So wide that its letters, so many units high, have the least type; millimetres."""
    return view.width * LEAST_TYPE / letters


def width_of(view: maps.MapView) -> float:
    """The same with the legend."""
    return max(drawn_width(view), _LEAST_LEGEND)


def has_column(card: CardView, room: float) -> bool:
    """Whether words have room beside the map on a card that is so wide inside its margins."""
    return card.map is not None and room - width_of(card.map) - BESIDE_MAP >= _LEAST_COLUMN


def stand_beside(card: CardView, high: float, room: float, out: frozenset[str]) -> float:
    """About how many millimetres words of this height get higher by running beside the map; at least down to its foot."""
    if card.map is None or MAP in out:
        return 0.0
    wide = width_of(card.map) + BESIDE_MAP
    legend = " ".join(_SIGN + mark.words for mark in card.map.marks)
    tall = card.map.height * LEAST_TYPE / LETTERS + count_lines(legend, LEGEND, wide - BESIDE_MAP) * LEGEND * 25.4 / 72 * 1.2 + BESIDE_MAP
    return max(tall - high, min(tall, high) * _RAGGED * wide / room)
