"""Sightings by dekad, for quick questions: was it seen here at this time of year, and in how many years."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field

from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.seasons import DEKADS, dekad_of

Key = tuple[str, str, str]  # account, stage, place


@dataclass(slots=True)
class SeenIndex:
    """(account, stage, place) → dekad → year → rows."""

    dekads: dict[Key, dict[int, dict[int, int]]] = field(default_factory=dict)
    of_account: dict[str, list[Key]] = field(default_factory=dict)
    loose_places: dict[str, set[str]] = field(default_factory=dict)  # places where it was seen on no known day

    stages: set[tuple[str, str]] = field(default_factory=set)  # (account, stage) seen at all
    noted: dict[str | None, dict[int, set[int]]] = field(default_factory=dict)  # place (None: any) → dekad → years with any row

    def years(self, keys: Iterable[Key], dekad: int, *, reach: int = 1) -> dict[int, int]:
        """Year → rows within `reach` dekads of a dekad."""
        years: dict[int, int] = {}
        for key in keys:
            by_dekad = self.dekads.get(key, {})
            for near in range(dekad - reach, dekad + reach + 1):
                for year, rows in by_dekad.get(near % DEKADS, {}).items():
                    years[year] = years.get(year, 0) + rows
        return years

    def keys(self, account: str, stage: str | None = None, place: str | None = None) -> list[Key]:
        """Keys of an account, narrowed to a stage or place where given."""
        return [k for k in self.of_account.get(account, ()) if stage in (None, k[1]) and place in (None, k[2])]

    def years_noted(self, place: str | None, dekad: int, *, reach: int = 1) -> int:
        """In how many years anything at all was noted within `reach` dekads of a dekad, at a place or (None) anywhere."""
        by_dekad = self.noted.get(place, {})
        return len(set().union(*(by_dekad.get(near % DEKADS, set()) for near in range(dekad - reach, dekad + reach + 1))))

    def places(self, account: str) -> set[str]:
        """Places of the guide where it was ever seen."""
        return {k[2] for k in self.of_account.get(account, ()) if k[2]} | self.loose_places.get(account, set())


@kept_by_guide(4)
def seen_index(guide: AnyGuide) -> SeenIndex:
    """The index of a guide's sightings, made once a guide."""
    index = SeenIndex()
    for tally in guide.sightings:
        if tally.rows:
            index.stages.add((tally.account, tally.stage))
        if tally.loose and tally.place:
            index.loose_places.setdefault(tally.account, set()).add(tally.place)
        if not tally.days:
            continue
        key = (tally.account, tally.stage, tally.place)
        by_dekad = index.dekads.setdefault(key, {})
        index.of_account.setdefault(tally.account, []).append(key)
        for day, rows in zip(tally.days, tally.counts, strict=True):
            date = dt.date.fromordinal(day)
            dekad = dekad_of(date)
            years = by_dekad.setdefault(dekad, {})
            years[date.year] = years.get(date.year, 0) + rows
            for where in {None, tally.place}:
                index.noted.setdefault(where, {}).setdefault(dekad, set()).add(date.year)
    return index
