"""When something was seen at a place that is not told: as exactly as no day leads to the place.

Whoever publishes a day at an open place was there that day. So a month is told only where the places that were looked at in that
month, in the same cell, are no fewer than over all the years (or none at all); else the year by the same rule; else no date.
Every row counts, whoever saw it: that is stricter than asking for the same observer, and needs no names.
"""

from __future__ import annotations

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from guidebuild.fieldwork.public_records import Locality, PublicTally
from guidebuild.fieldwork.secrecy import DECIMALS, round_position
from guidebuild.guide.records import Position

Cell = tuple[str, str]
_ANY = ("", "")
"""The cell of what is told by its area only: all of the guide."""


@dataclass(frozen=True, slots=True)
class Looked:
    """The open places that were looked at, by cell and by period (a month, a year, "" for all the years)."""

    places: dict[tuple[Cell, str], set[str]] = field(default_factory=lambda: defaultdict(set))

    def tell_period(self, day: int, where: Locality) -> str:
        """What may be told of a day: its month, its year, or nothing."""
        cell, iso = (where.latitude, where.longitude), dt.date.fromordinal(day).isoformat()
        always = self.places.get((cell, ""), set())
        return next((period for period in (iso[:7], iso[:4]) if self.places.get((cell, period), always) == always), "")


def find_looked(tallies: Iterable[PublicTally]) -> Looked:
    """What the exact rows tell of where one was, and when. A row at an open place without a position tells it all the same."""
    looked = Looked()
    for tally in tallies:
        where = tally.locality
        if where.generalised or not tally.days:
            continue
        place = f"{tally.place}@{where.latitude},{where.longitude}"
        months = {dt.date.fromordinal(day).isoformat()[:7] for day in tally.days}
        for cell in _cells_of(where):
            for period in ("", *months, *{month[:4] for month in months}):
                looked.places[cell, period].add(place)
    return looked


def _cells_of(where: Locality) -> tuple[Cell, ...]:
    if not where.latitude:
        return (_ANY,)
    position = Position(float(where.latitude), float(where.longitude))
    return (_ANY, *(round_position(position, decimals) for decimals in DECIMALS.values()))
