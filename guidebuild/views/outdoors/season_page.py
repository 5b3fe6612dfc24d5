"""What is out on a day, with chance words and reasons: for the terminal, and for a page of one place or the region."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from guidebuild.fieldwork.out import IN_SEASON, Chance, out_on
from guidebuild.guide.guide import Guide
from guidebuild.guide.seasons import dekad_of
from guidebuild.views.pieces.chances import PROMISE, meanings, said
from guidebuild.views.pieces.common import LinkView, SeasonBarView
from guidebuild.views.pieces.parts import Maker, maker
from guidebuild.views.pieces.season_words import dekad_words


@dataclass(frozen=True, slots=True)
class OutView:
    """One species that may be met."""

    link: LinkView
    stages: str
    chance: str
    why: tuple[str, ...]
    most_seen: bool
    bar: SeasonBarView | None
    id: str = ""


@dataclass(frozen=True, slots=True)
class OutPage:
    """What is out: at a place, or in the region where `place` is None. `chances` tell what the words stand for."""

    day: str
    when: str  # the third of the month: mid June
    dekad: int
    place: LinkView | None
    rows: tuple[OutView, ...]
    chances: tuple[tuple[str, str], ...]
    promise: str


def out_page(guide: Guide, day: dt.date, place: str = "", *, language: str = "", published: bool = True) -> OutPage:
    """What is out on a day. At a place, what is only somewhere in the region is left out unless it was seen."""
    make = maker(guide, language)
    found = out_on(guide, day, place, published=published)
    shown = [out for out in found if not place or out.chance is not Chance.OUTSIDE or out.years]
    say = make.words
    rows = []
    for out in shown:
        account = guide.accounts[out.account]
        why = tuple(said(say, reason) for reason in out.reasons if reason.message != IN_SEASON)
        stages = say.listed([make.stage_word(account, stage) for stage in out.stages])
        link, bar = make.map.account(account), make.season_bar(account)
        rows.append(OutView(link, stages, say(out.chance.words), why, out.most_seen, bar, account.id))
    return OutPage(
        day=say.date(day),
        when=dekad_words(dekad_of(day), say),
        dekad=dekad_of(day),
        place=_place(make, place, published=published),
        rows=tuple(rows),
        chances=meanings(say, {out.chance for out in shown}, at_place=bool(place)),
        promise=say(PROMISE),
    )


def _place(make: Maker, place: str, *, published: bool) -> LinkView | None:
    """The author's own terminal may name a secret place; nothing that is published does."""
    if not place:
        return None
    known = make.guide.places.get(place)
    return LinkView("", known.name) if known and not published else make.map.place(place)
