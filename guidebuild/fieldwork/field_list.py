"""What still wants a photo, a sighting, a description or a review, and can be had now: for the author's next trip."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from guidebuild.fieldwork.out import sought_stages, stage_season
from guidebuild.fieldwork.season_words import last_day
from guidebuild.fieldwork.seen import seen_index
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import DEKADS, Season, dekad_of


class Want(StrEnum):
    """What is missing."""

    PHOTO = "a photo"
    SIGHTING = "a sighting"
    DESCRIPTION = "a description"
    REVIEW = "a review"


@dataclass(frozen=True, slots=True)
class Wanted:
    """One thing to get. `ends` is the last day of the present season (None: all year); `stage` is "" for a review."""

    account: str
    stage: str
    want: Want
    ends: dt.date | None
    places: tuple[str, ...]
    most_seen: bool = False

    def days_left(self, day: dt.date) -> int | None:
        """Days from `day` to the season's end, that day counted; None: all year."""
        return None if self.ends is None else (self.ends - day).days + 1


def field_list(guide: Guide, day: dt.date, place: str = "") -> tuple[Wanted, ...]:
    """What is wanted and in season on a day, at one place or anywhere, the season that ends soonest first."""
    found = [wanted for account in guide.accounts.values() for wanted in _of_account(guide, account, day)]
    here = [wanted for wanted in found if not place or place in wanted.places]
    far = dt.date.max
    return tuple(sorted(here, key=lambda w: (w.ends or far, guide.accounts[w.account].name.sort_key, w.stage, w.want)))


def _of_account(guide: Guide, account: Account, day: dt.date) -> Iterator[Wanted]:
    out: list[tuple[str, dt.date | None, bool]] = []
    for stage in sought_stages(guide, account):
        places = _places(guide, account, stage, day)
        season = account.season_of(stage) or next((s.season for s in account.seasons if s.stage == stage), None)
        if season is None or not (dekad_of(day) in season.dekads or places):
            continue
        ends, most = season_end(season, day), dekad_of(day) in season.most_seen
        out.append((stage, ends, most))
        for want in _wants(guide, account, stage):
            yield Wanted(account.id, stage, want, ends, places, most)
    if out and _review_due(guide, account, day):
        everywhere = dict.fromkeys(p for stage, _, _ in out for p in _places(guide, account, stage, day))
        ends = max((e for _, e, _ in out if e), default=None) if all(e for _, e, _ in out) else None
        yield Wanted(account.id, "", Want.REVIEW, ends, tuple(everywhere), any(most for _, _, most in out))


def _wants(guide: Guide, account: Account, stage: str) -> Iterator[Want]:
    pictured = {photo.stage for photo in guide.photos_of(account)}
    if stage not in pictured:
        yield Want.PHOTO
    if (account.id, stage) not in seen_index(guide).stages:
        yield Want.SIGHTING
    if not any(text.stage == stage and text.text for text in account.stages):
        yield Want.DESCRIPTION


def _places(guide: Guide, account: Account, stage: str, day: dt.date) -> tuple[str, ...]:
    """Places where it is known from and the stage is in season."""
    known = dict.fromkeys((*account.places, *sorted(seen_index(guide).places(account.id))))
    dekad = dekad_of(day)
    return tuple(
        place
        for place in known
        if place not in account.absent_from and (season := stage_season(account, stage, place)) and dekad in season.dekads
    )


def season_end(season: Season, day: dt.date) -> dt.date | None:
    """The last day of the run of dekads that holds `day`; the end of its own dekad where none does; None for all year."""
    if len(season.dekads) == DEKADS:
        return None
    dekad, year = dekad_of(day), day.year
    while (dekad + 1) % DEKADS in season.dekads and dekad in season.dekads:
        year += (dekad + 1) // DEKADS
        dekad = (dekad + 1) % DEKADS
    return last_day(dekad, year)


def _review_due(guide: Guide, account: Account, day: dt.date) -> bool:
    if account.reviewed is None:
        return True
    on = account.reviewed.on
    return (day.year - on.year) * 12 + day.month - on.month - (day.day < on.day) >= guide.settings.review_after_months
