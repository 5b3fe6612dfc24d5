"""Seasons: sets of dekads (thirds of months) on a circle of 36."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeVar

DEKADS = 36
_T = TypeVar("_T")


def dekad_of(day: dt.date) -> int:
    """The dekad of a date, 0–35: days 1–10, 11–20 and 21 to the month's end (Czech Met. Dictionary, entry 585)."""
    return (day.month - 1) * 3 + min((day.day - 1) // 10, 2)


def turn_year(year: Sequence[_T], first: int) -> tuple[_T, ...]:
    """What stands for the parts of a year from January, as it stands where the year is told from another of its parts on."""
    return (*year[first:], *year[:first])


@dataclass(frozen=True, slots=True)
class Season:
    """When something is about. `typed` is what the author wrote; `dekads` and `most_seen` count 0–35 from 1–10 January.

    `uncertain` are dekads of a start or an end given as "c." or "sometimes".
    """

    typed: str
    dekads: frozenset[int]
    most_seen: frozenset[int] = frozenset()
    uncertain: frozenset[int] = frozenset()

    @property
    def months(self) -> frozenset[int]:
        """Months 1–12 touched."""
        return frozenset(d // 3 + 1 for d in self.dekads)

    def runs(self, first: int = 0) -> tuple[tuple[int, int], ...]:
        """Unbroken runs (first, last dekad) in order of start in a year that begins with the dekad `first`.

        One that wraps over New Year has first > last.
        """
        if len(self.dekads) == DEKADS:
            return ((first, (first - 1) % DEKADS),)
        starts = [d for d in turn_year(range(DEKADS), first) if d in self.dekads and (d - 1) % DEKADS not in self.dekads]
        return tuple((start, self._end(start)) for start in starts)

    def _end(self, start: int) -> int:
        last = start
        while (last + 1) % DEKADS in self.dekads:
            last = (last + 1) % DEKADS
        return last

    def on(self, day: dt.date) -> bool:
        """Whether the date falls in the season."""
        return dekad_of(day) in self.dekads
