"""Which rows of open species may be told with their own figures, and which with the position of their place, or not at all.

An open place is told with its position, so figures within its circle tell no more of where one was; what stands as near to a secret
place as a receiver can be off is never told. Any other figures are held to what no text may tell (`near_places.py`).
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.leaks import Secrets
from guidebuild.fieldwork.public_records import Locality
from guidebuild.fieldwork.unsaid import Unsaid
from guidebuild.guide.distances import measure_metres
from guidebuild.guide.sighting_records import SightingRecord

_NEAR = 100.0
"""Metres: more than a receiver is off under trees (our own figure, as for the finest cells)."""
FIGURES = (
    "decimalLatitude", "decimalLongitude", "geodeticDatum", "coordinateUncertaintyInMeters", "coordinatePrecision", "verbatimLatitude",
    "verbatimLongitude",
)  # fmt: skip
"""Cells that say where a row was by figures."""
_KEPT = 100_000
Told = tuple[Locality, SightingRecord, bool]
"""Where a row was, the row without what is not told of it, and whether the figures are its own."""


class ExactSpots:
    """Decides for rows of open species at places that are open or none of the guide's."""

    def __init__(self, made: Decisions) -> None:
        """Gather the secret positions."""
        self._unsaid, self._places = made.at_places, made.guide.places
        # What a text may be doubted for, a position of no place, is what such a row is for.
        self._near_secrets = Unsaid(replace(self._unsaid.secrets, ground=None))
        self._secret = [place.position for place in self._unsaid.secrets.places if place.position]
        self._secret_reach = {place.position: place.position.uncertainty or 0.0 for place in self._places.values()
                              if place.position and place.sensitivity}  # fmt: skip
        # Rows share what they say of spots and in words: each is looked at once.
        self.tells = lru_cache(maxsize=_KEPT)(self._tells)
        self._tells_position = lru_cache(maxsize=_KEPT)(self._position_tells)

    def _tells(self, texts: tuple[str, ...]) -> bool:
        """Whether words of a row tell, each alone or all together."""
        return bool(self._unsaid.secrets) and self._unsaid.tells("\n".join(texts))

    def _position_tells(self, text: str) -> bool:
        return self._near_secrets.tells(text)

    def tell_position(self, record: SightingRecord, locality: Locality) -> Told | None:
        """A row with the figures that may be told of it; None where it may not be told at all."""
        if record.spot is None:
            # Figures that cannot be read are words, and held to what words may tell.
            return locality, record, False
        latitude, longitude = self._typed(record)
        own = Locality(locality.name, latitude, longitude, place=locality.place)
        if not self._unsaid.secrets:
            return own, record, True
        if self._is_at_secret(record.spot, record.cell("coordinateUncertaintyInMeters")):
            return None
        if self._lies_in_place(record):
            return own, record, True
        north, east = record.spot
        if not self._tells_position(f"{latitude}, {longitude}; {north:.6f}, {east:.6f}"):
            return own, record, True
        return (locality, record.without(FIGURES), False) if locality.latitude else None

    def _typed(self, record: SightingRecord) -> tuple[str, str]:
        """The figures as typed where they are plain degrees, else as they were read."""
        typed = record.cell("decimalLatitude"), record.cell("decimalLongitude")
        if all(map(_is_plain, typed)):
            return typed
        north, east = record.spot or (0.0, 0.0)
        return f"{north:.6f}", f"{east:.6f}"

    def _is_at_secret(self, spot: tuple[float, float], uncertainty: str) -> bool:
        """Whether a row may have been at a secret place, by how exactly both are known."""
        off = float(uncertainty) if _is_plain(uncertainty) else 0.0
        return any(
            measure_metres(spot, (there.latitude, there.longitude)) <= max(self._secret_reach.get(there, 0.0), _NEAR) + min(off, _NEAR)
            for there in self._secret
        )

    def _lies_in_place(self, record: SightingRecord) -> bool:
        place = self._places.get(record.place)
        if place is None or place.position is None or place.sensitivity or record.spot is None:
            return False
        there = place.position.latitude, place.position.longitude
        return measure_metres(record.spot, there) <= max(place.position.uncertainty or 0.0, _NEAR)


def _is_plain(text: str) -> bool:
    try:
        return math.isfinite(float(text)) and text.isascii()
    except ValueError:
        return False


def is_at_secret(spot: tuple[float, float], secrets: Secrets) -> bool:
    """Whether a spot, in degrees north and east, lies at a secret place."""
    return any(measure_metres(spot, (at.latitude, at.longitude)) <= max(at.uncertainty or 0.0, _NEAR) for at, _ in secrets.placed)
