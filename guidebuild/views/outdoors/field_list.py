"""The author's list of what to get on the next trip."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from guidebuild.fieldwork.field_list import Wanted, field_list
from guidebuild.guide.guide import Guide
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.pieces.parts import stage_word
from guidebuild.words import Words, words


@dataclass(frozen=True, slots=True)
class WantedView:
    """One thing to get: of which species and stage, what, how long still, and where."""

    name: NameView
    account: str
    stage: str
    want: str
    until: str  # "until 31 August (12 days)", "all year"
    places: tuple[str, ...]
    most_seen: bool


@dataclass(frozen=True, slots=True)
class FieldListView:
    """The list for a day; it names secret places, so it is for the author and is never published."""

    day: str
    place: str
    rows: tuple[WantedView, ...]


def field_list_view(guide: Guide, day: dt.date, place: str = "") -> FieldListView:
    """What is wanted and can be had on that day, the season that ends soonest first."""
    say = words(guide.settings.language)
    named = guide.places[place].name if place in guide.places else place
    return FieldListView(say.date(day), named, tuple(_row(guide, wanted, day, say) for wanted in field_list(guide, day, place)))


def _row(guide: Guide, wanted: Wanted, day: dt.date, say: Words) -> WantedView:
    account = guide.accounts[wanted.account]
    left = wanted.days_left(day)
    until = say("all year")
    if wanted.ends is not None and left is not None:
        days = say.count("{n} day", "{n} days", left)
        until = say("until {date} ({days})", date=say.date(wanted.ends), days=days)
    return WantedView(
        name=name_view(account, say.language, guide.settings.language),
        account=account.id,
        stage=stage_word(guide, account, wanted.stage, say) if wanted.stage else "",
        want=say(wanted.want.value),
        until=until,
        places=tuple(guide.places[p].name if p in guide.places else p for p in wanted.places),
        most_seen=wanted.most_seen,
    )
