"""What is out on a day, with chance words and reasons, for the author's terminal. It may name secret places: nothing of it is published."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from guidebuild.fieldwork.out import Chance, Out, out_on
from guidebuild.guide.guide import Guide
from guidebuild.views.pieces.chances import PROMISE, list_meanings, list_whys, say_reason
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.pieces.parts import stage_word
from guidebuild.words import Words, words


@dataclass(frozen=True, slots=True)
class OutView:
    """One species that may be met."""

    id: str
    name: NameView
    stages: str
    chance: str
    why: tuple[str, ...]
    most_seen: bool


@dataclass(frozen=True, slots=True)
class OutPage:
    """What is out: at a place, or in the region where `place` is empty. `chances` tell what the words stand for."""

    day: str
    place: str
    rows: tuple[OutView, ...]
    chances: tuple[tuple[str, str], ...]
    promise: str


def out_page(guide: Guide, day: dt.date, place: str = "") -> OutPage:
    """What is out on a day. At a place, what is only somewhere in the region is left out unless it was seen."""
    say = words(guide.settings.language)
    shown = [out for out in out_on(guide, day, place) if not place or out.chance is not Chance.OUTSIDE or out.years]
    return OutPage(
        day=say.date(day),
        place=guide.places[place].name if place in guide.places else place,
        rows=tuple(_row(guide, out, say) for out in shown),
        chances=list_meanings(guide, say, {out.chance for out in shown}, at_place=bool(place)),
        promise=say(PROMISE),
    )


def _row(guide: Guide, out: Out, say: Words) -> OutView:
    account = guide.accounts[out.account]
    return OutView(
        id=account.id,
        name=name_view(account, say.language, guide.settings.language),
        stages=say.listed([stage_word(guide, account, stage, say) for stage in out.stages]),
        chance=say(out.chance.words),
        why=tuple(say_reason(say, reason) for reason in list_whys(out)),
        most_seen=out.most_seen,
    )
