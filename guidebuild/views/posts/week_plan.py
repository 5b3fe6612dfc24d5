"""Which account to post in which week.

Only what is in season is posted. What was not posted for `REST` weeks comes first, among it what is soonest over; where nothing has
rested so long, what was posted longest ago. The page of the plan says the same.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection
from dataclasses import dataclass

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.life_stages import is_state
from guidebuild.guide.seasons import DEKADS, dekad_of
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.words import Words, words

WEEKS = 13
_NEVER = 10_000
"""Weeks since it was posted, of an account that never was."""
REST = 20
"""Weeks before an account is posted again while another in season waits (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PlannedWeek:
    """One week, its Monday, the account to post, why and what it still lacks, and up to two others that would do."""

    monday: dt.date
    account: str
    name: NameView
    why: tuple[str, ...]
    instead: tuple[NameView, ...]


@dataclass(frozen=True, slots=True)
class WeekPlanView:
    """A quarter of weeks from the day it was made."""

    guide: str
    language: str
    made: dt.date
    rule: str
    weeks: tuple[PlannedWeek, ...]


@dataclass(frozen=True, slots=True)
class _Choice:
    account: PublicAccount
    posted: dt.date | None
    stages: tuple[tuple[str, int], ...]  # those that are out, in words, each with the dekads until it is over, 36: all year
    rested: int  # weeks since it was posted; a large number: never; below 0: its day is still to come
    dekad: int

    @property
    def left(self) -> int:
        """Dekads until the last of its stages is over."""
        return max(left for _, left in self.stages)


def week_plan(guide: Published, today: dt.date, weeks: int = WEEKS) -> WeekPlanView:
    """Plan `weeks` weeks from the Monday on or after `today`. Deterministic: ties go by id."""
    monday = today + dt.timedelta(days=-today.weekday() % 7)
    posted = {a.id: a.posted for a in guide.accounts.values()}
    planned: list[PlannedWeek] = []
    language = guide.settings.language
    pictured = {account.id for account in guide.accounts.values() if _has_plate(guide, account)}
    for number in range(weeks):
        day = monday + dt.timedelta(weeks=number)
        choices = sorted((c for a in guide.accounts.values() if (c := _choice(guide, a, day, posted[a.id]))), key=_worth)
        if not choices:
            continue
        best, *rest = choices
        posted[best.account.id] = day
        names = tuple(name_view(c.account, language, language) for c in rest[:2])
        why = (*_why(best, words(language)), *_say_lacks(best.account, pictured, words(language)))
        planned.append(PlannedWeek(day, best.account.id, name_view(best.account, language, language), why, names))
    return WeekPlanView(guide.settings.title, language, today, _rule(words(language)), tuple(planned))


def _rule(say: Words) -> str:
    """What is chosen first, as the page says it; `_worth` does it."""
    return say("In season and not posted for {weeks} weeks, the soonest over first; then what was posted longest ago.", weeks=REST)


def _choice(guide: Published, account: PublicAccount, day: dt.date, posted: dt.date | None) -> _Choice | None:
    dekad = dekad_of(day)
    out = [s for s in account.seasons if not s.place and dekad in s.season.dekads]
    if not out:
        return None
    sought = [s for s in out if s.stage in sought_stages(guide, account)]
    chosen = sought or out
    group = guide.stage_set(account)
    left = {said if is_state(said := group.said(s.stage)) else group.word(s.stage): _left(s.season.dekads, dekad) for s in chosen}
    rested = (day - posted).days // 7 if posted else _NEVER
    return _Choice(account, posted, tuple(left.items()), rested, dekad)


def _left(dekads: frozenset[int], now: int) -> int:
    """Dekads from now until the season's end, 36 where it has none."""
    for ahead in range(1, DEKADS + 1):
        if (now + ahead) % DEKADS not in dekads:
            return ahead
    return DEKADS


def _worth(choice: _Choice) -> tuple[bool, int, int, str]:
    """Less comes first."""
    if choice.rested >= REST:
        return False, choice.left, -choice.rested, choice.account.id
    return True, -choice.rested, choice.left, choice.account.id


def _why(choice: _Choice, say: Words) -> tuple[str, ...]:
    season = _say_season(choice, say)
    if choice.posted is None:
        return season, say("never posted")
    if choice.rested < 0:
        return season, say("to be posted on {day}", day=say.date(choice.posted))
    return season, say.count("last posted {n} week before", "last posted {n} weeks before", choice.rested)


def _has_plate(guide: Published, account: PublicAccount) -> bool:
    """Whether its post has a picture: one that it lists, or that a mark points at."""
    return bool(guide.photos_of(account)) or any(mark.point and mark.photo in guide.photos for mark in account.diagnostics)


def _say_lacks(account: PublicAccount, pictured: Collection[str], say: Words) -> tuple[str, ...]:
    """What its post still wants before it can go out; nothing where it is ready."""
    lacks = [*([] if account.id in pictured else [say("a picture")]), *([] if account.diagnostics else [say("a field mark")])]
    return (say("still lacks {things}", things=say.listed(lacks)),) if lacks else ()


def _say_season(choice: _Choice, say: Words) -> str:
    """What is out and until when, what is soonest over first: `in season: egg until late June, adult all year`."""
    over: dict[int, list[str]] = {}
    for stage, left in sorted(choice.stages, key=lambda stage: stage[1]):
        over.setdefault(left, []).append(say(stage))
    season = ", ".join(_say_end(say.listed(stages), left, choice.dekad, say) for left, stages in over.items())
    return season if all(is_state(stage) for stage, _ in choice.stages) else say("in season: {stages}", stages=season)


def _say_end(stages: str, left: int, dekad: int, say: Words) -> str:
    if left >= DEKADS:
        return say("{stages} all year", stages=stages)
    return say("{stages} until {when}", stages=stages, when=dekad_words((dekad + left - 1) % DEKADS, say))
