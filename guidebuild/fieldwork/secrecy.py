"""Keeping places secret, after Chapman (2020), Current Best Practices for Generalizing Sensitive Species Occurrence Data.

Categories 1 to 4 give no coordinates, or round them to 0.1°, 0.01° and 0.001°. Rounding, never moving at random: the guide
says by how much, and every reader gets the same spot. What is taken out is replaced by words, never left blank.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal

from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import OPEN, Place, Position, Sensitivity

DECIMALS = {2: 1, 3: 2, 4: 3}
_AXIS, _FLATTENING = 6_378_137.0, 1 / 298.257223563  # WGS 84
_SQUARE = _FLATTENING * (2 - _FLATTENING)


@dataclass(frozen=True, slots=True)
class PublicPlace:
    """A place as it may leave the house. `latitude` and `longitude` are texts with the digits that may be shown, or "".

    `uncertainty` is in metres (None: not known, or no coordinates). `generalised` and `withheld` are the words for Darwin
    Core's dataGeneralizations and informationWithheld, "" where nothing was done; `link` says whether its page may be named.
    """

    name: str
    latitude: str = ""
    longitude: str = ""
    uncertainty: int | None = None
    precision: str = ""
    generalised: str = ""
    withheld: str = ""
    link: bool = True


def stricter(*sensitivities: Sensitivity) -> Sensitivity:
    """The strictest of several: the lowest category that is not 0."""
    return min((s for s in sensitivities if s), key=lambda s: s.category, default=OPEN)


def public_place(place: Place, guide: Guide, account: Account | None = None) -> PublicPlace:
    """What may be said of a place, or of an account's occurrence there."""
    secret = stricter(place.sensitivity, account.sensitivity if account else OPEN)
    if not secret:
        return _open_place(place)
    name = place.area or guide.settings.region or guide.settings.title
    reason = _reason(secret, of_place=place.sensitivity.category == secret.category)
    withheld = f"The place's name and exact position are withheld {reason}."
    position = place.position
    if position is None or secret.category == 1:
        return PublicPlace(name, generalised="Place given by the name of the wider area only.", withheld=withheld, link=False)
    decimals = DECIMALS[secret.category]
    step = 10.0**-decimals
    lat, lon = rounded(position, decimals)
    metres = math.ceil(step_metres(float(lat), step) + (position.uncertainty or 0))
    words = f"Coordinates rounded to {step:g} degree; place given by the name of the wider area."
    return PublicPlace(name, lat, lon, metres, f"{step:g}", words, withheld, link=False)


def _open_place(place: Place) -> PublicPlace:
    position = place.position
    if position is None:
        return PublicPlace(place.name)
    # Darwin Core: 0 m is not valid, an unknown uncertainty is left empty.
    metres = math.ceil(position.uncertainty) if position.uncertainty else None
    return PublicPlace(place.name, f"{position.latitude:.5f}", f"{position.longitude:.5f}", metres, "0.00001")


def _reason(secret: Sensitivity, *, of_place: bool) -> str:
    why = f" ({secret.reason.rstrip('.')})" if secret.reason else ""
    review = f"; to be reviewed on {secret.review.isoformat()}" if secret.review else ""
    return f"because the {'place' if of_place else 'species'} is sensitive{why}{review}"


def rounded(position: Position, decimals: int) -> tuple[str, str]:
    """Latitude and longitude rounded half away from zero, with all their decimals shown."""
    step = Decimal(1).scaleb(-decimals)
    lat, lon = (Decimal(repr(v)).quantize(step, ROUND_HALF_UP) for v in (position.latitude, position.longitude))
    return tuple(str(value + 0 if value else abs(value)) for value in (lat, lon))  # type: ignore[return-value]


def step_metres(latitude: float, step: float) -> float:
    """The diagonal in metres of a cell of `step` degrees at a latitude: the uncertainty of coordinates that precise.

    Chapman & Wieczorek (2020), Georeferencing Best Practices: radii of the meridian and of the parallel on WGS 84.
    """
    phi, angle = math.radians(latitude), math.radians(step)
    bend = 1 - _SQUARE * math.sin(phi) ** 2
    meridian = _AXIS * (1 - _SQUARE) / bend**1.5
    parallel = _AXIS / math.sqrt(bend) * math.cos(phi)
    return math.hypot(meridian * angle, parallel * angle)


def may_place(guide: Guide, account: Account, place_id: str) -> bool:
    """Whether it may be published that this account is found at this place."""
    place = guide.places.get(place_id)
    return not account.sensitivity and (place is None or not place.sensitivity)


def places_told(guide: Guide, account: Account, text: str) -> tuple[Place, ...]:
    """Places that a text names and may not: any secret place, and of a sensitive account any place at all."""
    hidden = [place for place in guide.places.values() if place.sensitivity or account.sensitivity]
    return tuple(place for place in hidden if re.search(rf"\b{re.escape(_without_article(place.name))}\b", text, re.IGNORECASE))


def _without_article(name: str) -> str:
    """`The Long Hedge` is said in many ways, and begins a sentence as often as not."""
    return re.sub(r"^the\s+", "", name.strip(), flags=re.IGNORECASE)


def public_position(position: Position, category: int) -> Position | None:
    """A position as it may be published; None for category 1."""
    if category == 1:
        return None
    if category == 0:
        return position
    lat, lon = rounded(position, DECIMALS[category])
    metres = math.ceil(step_metres(float(lat), 10.0 ** -DECIMALS[category]) + (position.uncertainty or 0))
    return Position(float(lat), float(lon), metres)
