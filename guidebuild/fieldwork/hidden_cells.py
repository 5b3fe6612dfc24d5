"""Round everything secret, the cell that may be told of it: what is told near by follows from the cell, never from where the place lies.

Whatever stays out round a secret place leaves a hole among what is told there, and the middle of a hole round the place itself would be
the place. Maps (`map_squares.py`) and rows (`exact_spots.py`) keep the same distance from the same cells.
"""

from __future__ import annotations

import math
from typing import NamedTuple

from guidebuild.fieldwork.leaks import Secrets
from guidebuild.fieldwork.near_places import DISTANCES
from guidebuild.fieldwork.secrecy import round_position, step_metres
from guidebuild.guide.distances import METRES, Degrees, measure_metres
from guidebuild.guide.records import Position


class HiddenCell(NamedTuple):
    """The cell of something secret: its middle, its step in degrees, and metres round the middle within which nothing exact is told."""

    middle: Degrees
    step: float
    reach: float

    def is_near(self, spot: Degrees, more: float = 0.0) -> bool:
        """Whether a spot, in degrees north and east, lies within the reach and so many metres."""
        reach = self.reach + more
        return abs(spot[0] - self.middle[0]) * METRES <= reach and measure_metres(spot, self.middle) <= reach

    def may_mean(self, spot: Degrees) -> bool:
        """Whether figures lie within the reach, or would with a sign that was lost or with both halves exchanged."""
        north, east = map(abs, spot)
        plain = self._replace(middle=(abs(self.middle[0]), abs(self.middle[1])))
        return plain.is_near((north, east)) or plain.is_near((east, north))


def list_hidden_cells(secrets: Secrets) -> frozenset[HiddenCell]:
    """The cells of all secret places: as many places as share one are one."""
    return frozenset(_find_cell(at, secret.step) for at, secret in secrets.placed)


def _find_cell(at: Position, step: float) -> HiddenCell:
    north, east = map(float, round_position(at, round(-math.log10(step))))
    return HiddenCell((north, east), step, DISTANCES[step] + step_metres(north, step) / 2)
