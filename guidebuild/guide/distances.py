"""How far two positions are apart, near enough to say whether one lies in a place."""

from __future__ import annotations

import math

METRES = 111_320.0
"""In a degree of latitude."""
Degrees = tuple[float, float]
"""Latitude and longitude."""


def measure_metres(here: Degrees, there: Degrees) -> float:
    """Metres along a flat Earth, which for some kilometres is right to a part in a thousand, also over the 180th meridian."""
    east = abs(here[1] - there[1])
    return METRES * math.hypot(here[0] - there[0], min(east, 360 - east) * math.cos(math.radians(there[0])))
