"""Which rows of open species may be told with their own figures, and which with the position of their place, or not at all.

Near the cell of a secret place (`hidden_cells.py`) no row has figures of its own: one of an open place is told with that place's
position, wherever it was, and any other is not told. So where in its cell the secret place lies changes no row.
"""

from __future__ import annotations

import math
from functools import lru_cache

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.hidden_cells import list_hidden_cells
from guidebuild.fieldwork.public_records import Locality
from guidebuild.guide.distances import Degrees
from guidebuild.guide.sighting_records import SightingRecord

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
        """Gather the cells of what is secret."""
        self._unsaid = made.at_places
        self._cells = list_hidden_cells(self._unsaid.secrets)
        # Rows share what they say of spots and in words: each is looked at once.
        self.tells = lru_cache(maxsize=_KEPT)(self._tells)
        self._is_near = lru_cache(maxsize=_KEPT)(self._lies_near)

    def _tells(self, texts: tuple[str, ...]) -> bool:
        """Whether words of a row tell, each alone or all together."""
        return bool(self._unsaid.secrets) and self._unsaid.tells("\n".join(texts))

    def _lies_near(self, spot: Degrees) -> bool:
        return any(cell.may_mean(spot) for cell in self._cells)

    def tell_position(self, record: SightingRecord, locality: Locality) -> Told | None:
        """A row with the figures that may be told of it; None where it may not be told at all."""
        if record.spot is None:
            # Figures that cannot be read are words, and held to what words may tell.
            return locality, record, False
        latitude, longitude = _read_typed(record)
        # As typed the figures may be of another datum.
        if not self._is_near(record.spot) and not self._is_near((float(latitude), float(longitude))):
            return Locality(locality.name, latitude, longitude, place=locality.place), record, True
        return (locality, record.without(FIGURES), False) if locality.latitude else None


def _read_typed(record: SightingRecord) -> tuple[str, str]:
    """The figures as typed where they are plain degrees, else as they were read."""
    typed = record.cell("decimalLatitude"), record.cell("decimalLongitude")
    if all(map(_is_plain, typed)):
        return typed
    north, east = record.spot or (0.0, 0.0)
    return f"{north:.6f}", f"{east:.6f}"


def _is_plain(text: str) -> bool:
    try:
        return math.isfinite(float(text)) and text.isascii()
    except ValueError:
        return False
