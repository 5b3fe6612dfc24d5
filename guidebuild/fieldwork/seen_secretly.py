"""Where a sensitive species was seen, by the rows of sightings: localities and spots that places.yaml does not list are secret too."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from guidebuild.fieldwork.names_kept import holds_name, is_everyday
from guidebuild.fieldwork.secrecy import pick_stricter
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import OPEN, Position, Sensitivity
from guidebuild.guide.resolve import fold_name

_DIGITS = 4
"""Decimals by which spots count as one: some ten metres."""


class SecretSpot(NamedTuple):
    """A locality ("": none is typed) or a position that may not be told, of what, and how secret it is."""

    locality: str
    position: Position | None
    species: str
    secret: Sensitivity


def find_secret_spots(guide: Guide, said: str) -> Iterator[SecretSpot]:
    """Each locality and each position once. What a row at an open place tells, the place tells; what is said anyway is no secret."""
    accounts = {account.id: account for account in (*guide.unpublished, *guide.accounts.values())}
    open_names = {fold_name(name) for p in guide.places.values() for name in (p.area, "" if p.sensitivity else p.name) if name}
    localities: dict[str, SecretSpot] = {}
    positions: dict[tuple[float, float], SecretSpot] = {}
    for tally in guide.sightings:
        account, place = accounts.get(tally.account), guide.places.get(tally.place)
        secret = pick_stricter(account.sensitivity if account else OPEN, place.sensitivity if place else OPEN)
        if account is None or not secret or (place and not place.sensitivity):
            continue
        called = account.vernacular or account.name.plain
        for name, latitude, longitude in tally.spots:
            if name and fold_name(name) not in open_names:
                localities.setdefault(fold_name(name), SecretSpot(name, None, called, secret))
            if latitude is not None and longitude is not None:
                spot = round(latitude, _DIGITS), round(longitude, _DIGITS)
                positions.setdefault(spot, SecretSpot("", Position(latitude, longitude), called, secret))
    yield from (spot for spot in localities.values() if not is_everyday(spot.locality) and not holds_name(said, spot.locality))
    yield from positions.values()
