"""The cover of a leaflet: picture, day and time; of its walk the meeting point, stops and map. What gives way, and in what order."""

from __future__ import annotations

from guidebuild.press.outputs.cards.map_room import FaceMap, drawn_width
from guidebuild.press.outputs.cards.shown import MAP
from guidebuild.press.paper.drawing import Inks
from guidebuild.press.paper.formats import Area
from guidebuild.views.cards.printed import LeafletView
from guidebuild.views.pieces.small_letters import LEAFLET_LETTERS

COVER_LEAST = 0.24
"""Of the height of a panel, for the picture: less than on the others, which tell by theirs."""
STOPS = "stops"
_HEIGHTS = {MAP: 14.0, STOPS: 12.0}
"""Millimetres that pieces take, about: the stops stand beside the map."""
_TITLE = 36.0
"""Millimetres that title, day, publisher and margins take, about."""
_WAY = 34.0
"""The same of meeting point, stops and map."""


def list_cover_pieces(view: LeafletView) -> tuple[str, ...]:
    """What of the cover may go, the least needed first."""
    return tuple(piece for piece, stands in ((MAP, view.map is not None), (STOPS, bool(view.stops))) if stands)


def cover_words(_: float, left_out: frozenset[str]) -> float:
    """How much lower the cover is without some of its pieces."""
    return -sum(_HEIGHTS[piece] for piece in left_out)


def first_plate(view: LeafletView, room: Area) -> float:
    """How high the picture may be, at a guess."""
    return max(room.height * COVER_LEAST, room.height - _TITLE - (_WAY if view.map else 0.0))


def map_on_cover(view: LeafletView, out: frozenset[str], inks: Inks) -> FaceMap | None:
    """The map of the walk, where it is not left out."""
    if view.map is None or MAP in out:
        return None
    wide = drawn_width(view.map, LEAFLET_LETTERS)
    return FaceMap(view.map, wide, wide, inks.leaf, letters=LEAFLET_LETTERS)
