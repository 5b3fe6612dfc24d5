"""Keeping places secret, after Chapman (2020), Current Best Practices for Generalizing Sensitive Species Occurrence Data.

Categories 1 to 4 give no coordinates, or round them to 0.1°, 0.01° and 0.001°. Rounding, never moving at random: the guide
says by how much, and every reader gets the same spot. What is taken out is replaced by words, never left blank. Whatever is said
of a secret place follows from its cell alone: two places in one cell are told alike, whatever else is known of them.
"""

from __future__ import annotations

import math
from decimal import ROUND_HALF_UP, Decimal

from guidebuild.fieldwork.public_records import Locality
from guidebuild.guide.records import OPEN, Place, Position, Sensitivity

DECIMALS = {2: 1, 3: 2, 4: 3}
BANDS = (0, 30, 60, 85)
_AXIS, _FLATTENING = 6_378_137.0, 1 / 298.257223563  # WGS 84
_SQUARE = _FLATTENING * (2 - _FLATTENING)


def pick_stricter(*sensitivities: Sensitivity) -> Sensitivity:
    """The strictest of several: the lowest category that is not 0."""
    return min((s for s in sensitivities if s), key=lambda s: s.category, default=OPEN)


def locality_of(place: Place, secret: Sensitivity, *, area: str, reason: str) -> Locality:
    """What may be said of a place that is kept as secret as that. `area` is said instead of its name, `reason` is why."""
    if not secret:
        return _open_locality(place)
    withheld = f"The place's name and exact position are withheld {reason}."
    category = find_category(place.position, secret.category) if place.position else 1
    if place.position is None or category == 1:
        return Locality(area, generalised="Place given by the name of the wider area only.", withheld=withheld)
    decimals = DECIMALS[category]
    step = 10.0**-decimals
    lat, lon = round_position(place.position, decimals)
    words = f"Coordinates rounded to {step:g} degree; place given by the name of the wider area."
    return Locality(area, lat, lon, cell_metres(float(lat), category), f"{step:g}", words, withheld)


def _open_locality(place: Place) -> Locality:
    position = place.position
    if position is None:
        return Locality(place.name, place=place.id)
    # Darwin Core: 0 m is not valid, an unknown uncertainty is left empty.
    metres = math.ceil(position.uncertainty) if position.uncertainty else None
    latitude, longitude = (write_degrees(value, position.precision) for value in (position.latitude, position.longitude))
    return Locality(place.name, latitude, longitude, metres, position.precision, place=place.id)


def write_degrees(degrees: float, precision: str) -> str:
    """Degrees with as many decimals as were typed; with five where they were typed as minutes, or by nobody."""
    decimals = len(precision.partition(".")[2])
    return f"{degrees:.{decimals}f}" if precision and float(precision) == 10.0**-decimals else f"{degrees:.5f}"


def reason_words(secret: Sensitivity, why: str, *, of_place: bool) -> str:
    """Why something is withheld, to follow the word. `why` is the author's reason, as far as it may be said."""
    given = f" ({why.rstrip('.')})" if why else ""
    review = f"; to be reviewed on {secret.review.isoformat()}" if secret.review else ""
    return f"because the {'place' if of_place else 'species'} is sensitive{given}{review}"


def round_position(position: Position, decimals: int) -> tuple[str, str]:
    """Latitude and longitude rounded half away from zero, with all their decimals shown."""
    step = Decimal(1).scaleb(-decimals)
    lat, lon = (Decimal(repr(v)).quantize(step, ROUND_HALF_UP) for v in (position.latitude, position.longitude))
    return tuple(str(value or abs(value)) for value in (lat, lon))  # type: ignore[return-value]


def step_metres(latitude: float, step: float) -> float:
    """The diagonal in metres of a cell of `step` degrees at a latitude: the uncertainty of coordinates that precise.

    Chapman & Wieczorek (2020), Georeferencing Best Practices: radii of the meridian and of the parallel on WGS 84.
    """
    phi, angle = math.radians(latitude), math.radians(step)
    bend = 1 - _SQUARE * math.sin(phi) ** 2
    meridian = _AXIS * (1 - _SQUARE) / bend**1.5
    parallel = _AXIS / math.sqrt(bend) * math.cos(phi)
    return math.hypot(meridian * angle, parallel * angle)


def cell_metres(latitude: float, category: int) -> int:
    """The uncertainty that is published of a rounded position: one value for a category and a band of latitude.

    It is the diagonal of the band's largest cell, as the table of Chapman & Wieczorek (2020) has it for 0, 30, 60 and 85°. What
    is known of the place itself never adds to it: subtracting would tell that.
    """
    band = max(edge for edge in BANDS if edge <= abs(latitude))
    return math.ceil(step_metres(band, 10.0 ** -DECIMALS[category]))


def find_category(position: Position, category: int) -> int:
    """The category that a position is rounded by: a stricter one where the published circle would not hold all of the place."""
    while category > 1:
        latitude = float(round_position(position, DECIMALS[category])[0])
        reach = step_metres(latitude, 10.0 ** -DECIMALS[category]) / 2 + (position.uncertainty or 0)
        if reach <= cell_metres(latitude, category):
            return category
        category -= 1
    return category


def public_position(position: Position, category: int) -> Position | None:
    """A position as it may be published; None for category 1."""
    if category == 0:
        return position
    category = find_category(position, category)
    if category == 1:
        return None
    lat, lon = round_position(position, DECIMALS[category])
    return Position(float(lat), float(lon), cell_metres(float(lat), category))
