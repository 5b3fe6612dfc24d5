"""Which account to post in which week.

What its author has put into a week stays in that week. All other weeks are worked out round it: only what is in season is posted. A
species of a walk within seven days goes first, then a rarity that rested (`goes_first.py`). Then comes what was not posted for `REST`
weeks, among it what is soonest over; where nothing has rested so long, what was posted longest ago. The page of the plan says the same.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import AccountFacts, StageSeason
from guidebuild.guide.life_stages import is_state
from guidebuild.guide.seasons import DEKADS, dekad_of
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.pieces.season_words import dekad_words
from guidebuild.views.posts.goes_first import ComingWalk, find_rarity, find_walk_species, list_coming_walks
from guidebuild.words import Words, words

WEEKS = 13
_NEVER = 10_000
"""Weeks since it was posted, of an account that never was."""
REST = 20
"""Weeks before an account is posted again while another in season waits (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class PlannedWeek:
    """One post of a week: the week's Monday, the account, and up to two others that would do.

    `chosen` is one that the author has put there. `is_out` tells whether any of its stages is out then, `lacks` what it still lacks.
    """

    monday: dt.date
    account: str
    name: NameView
    reasons: tuple[str, ...]
    lacks: str
    instead: tuple[NameView, ...]
    chosen: bool
    is_out: bool

    @property
    def why(self) -> tuple[str, ...]:
        """Why it is posted then, and what it still lacks."""
        return (*self.reasons, self.lacks) if self.lacks else self.reasons


@dataclass(frozen=True, slots=True)
class WeekPlanView:
    """The posts of a quarter of weeks from the first Monday on, and what its author had put into weeks that are past or run out.

    Where a walk comes before the first of them, a post of the week that is under way stands before theirs.

    A week in which nothing could be posted has none, one for which its author has chosen several has them all.
    """

    guide: str
    language: str
    made: dt.date
    first: dt.date
    rule: str
    weeks: tuple[PlannedWeek, ...]
    past: tuple[PlannedWeek, ...]


@dataclass(frozen=True, slots=True)
class _Choice:
    account: PublicAccount
    posted: dt.date | None
    stages: tuple[tuple[str, int], ...]  # those that are out, in words, each with the dekads until it is over, 36: all year
    rested: int  # weeks since it was posted; a large number: never
    dekad: int

    @property
    def left(self) -> int:
        """Dekads until the last of its stages is over; 0 where none is out."""
        return max((left for _, left in self.stages), default=0)


def find_monday(day: dt.date) -> dt.date:
    """The Monday of the week that a day lies in."""
    return day - dt.timedelta(days=day.weekday())


def is_out_of_season(account: AccountFacts, day: dt.date) -> bool:
    """Whether it is known that no stage is out on a day; of an account without a season nothing is known."""
    return bool(account.seasons) and not _seasons_on(account, day)


def _seasons_on(account: AccountFacts, day: dt.date) -> list[StageSeason]:
    """The seasons of all the region, not of one place, that a day lies in."""
    return [stated for stated in account.seasons if not stated.place and stated.season.on(day)]


def week_plan(guide: Published, today: dt.date, weeks: int = WEEKS) -> WeekPlanView:
    """Plan `weeks` weeks from the Monday on or after `today`. Deterministic: ties go by id."""
    first, say = find_monday(today + dt.timedelta(days=6)), words(guide.settings.language)
    walks = list(list_coming_walks(guide, today))
    is_soon = today < first and any(walk.date <= first for walk in walks)  # a walk that no post of the first week could tell of
    mondays = [*([find_monday(today)] if is_soon else []), *(first + dt.timedelta(weeks=number) for number in range(weeks))]
    begin = mondays[0]
    chosen = {account.id: monday for account in guide.accounts.values() if (monday := _find_chosen(account, begin, first))}
    posted = {account.id: _find_posted(account, begin, first) for account in guide.accounts.values()}
    planner = _Planner(guide, say)
    planned: list[PlannedWeek] = []
    for monday in mondays[:weeks]:
        theirs = sorted(account for account, week in chosen.items() if week == monday)
        free = [a for a in guide.accounts.values() if not _waits_for(chosen.get(a.id), monday)]
        choices = sorted((c for a in free if (c := _choose(guide, a, monday, posted[a.id])).stages), key=_worth)
        before = None if theirs else _find_before_all(choices, walks, max(monday, today), say)
        made = [_choose(guide, guide.accounts[one], monday, posted[one]) for one in theirs]
        made = made or [choice for choice in choices if before is None or choice.account.id == before[0]][:1]
        others = [choice for choice in choices if choice not in made]
        why = say("chosen by you") if theirs else before[1] if before else ""
        planned += [planner.tell(monday, one, others[:2], why, chosen=bool(theirs)) for one in made]
        posted |= {one.account.id: monday for one in made}
    rule = _say_rule(say, any_chosen=bool(chosen))
    return WeekPlanView(guide.settings.title, say.language, today, first, rule, tuple(planned), tuple(planner.tell_past(begin)))


def _find_before_all(choices: Sequence[_Choice], walks: list[ComingWalk], day: dt.date, say: Words) -> tuple[str, str] | None:
    """The account that goes before all others, by its id, and why."""
    ranked, rested = [choice.account for choice in choices], [choice.account for choice in choices if choice.rested >= REST]
    return find_walk_species(ranked, walks, day, say) or find_rarity(rested, say)


def _find_chosen(account: PublicAccount, begin: dt.date, first: dt.date) -> dt.date | None:
    """The Monday of the week that its author has put it into: by `to post`, or by a day under `posted` that is still to come."""
    given = ((account.to_post, begin), (account.posted, first))
    return next((find_monday(day) for day, earliest in given if day and find_monday(day) >= earliest), None)


def _find_posted(account: PublicAccount, begin: dt.date, first: dt.date) -> dt.date | None:
    """The last day on which it was posted, or was to be: what stood in a week that is past is taken to have gone out."""
    given = ((account.to_post, begin), (account.posted, first))
    return max((day for day, earliest in given if day and find_monday(day) < earliest), default=None)


def _waits_for(chosen: dt.date | None, monday: dt.date) -> bool:
    """Whether an account is kept for its chosen week, this one or one that comes before it has rested."""
    return chosen is not None and dt.timedelta() <= chosen - monday < dt.timedelta(weeks=REST)


def _say_rule(say: Words, *, any_chosen: bool) -> str:
    """What is chosen first, as the page says it; `_worth` does it."""
    rule = say(
        "First a species of a walk within seven days, then a rarity. Else what is in season and was not posted for {weeks} weeks, "
        "the soonest over first; then what was posted longest ago.",
        weeks=REST,
    )
    return f"{say('What you have put into a week stays there.')} {rule}" if any_chosen else rule


@dataclass(frozen=True, slots=True)
class _Planner:
    """Says posts of weeks in the guide's language."""

    guide: Published
    say: Words

    def tell(self, monday: dt.date, choice: _Choice, others: Iterable[_Choice], why: str = "", *, chosen: bool) -> PlannedWeek:
        """One post of a week, with why it is posted then: before all else `why`, where there is something that goes before all else."""
        account, say = choice.account, self.say
        reasons = (*((why,) if why else ()), *_why(choice, say))
        names = tuple(self.name(other.account) for other in others)
        lacks = _say_lacks(self.guide, account, say)
        return PlannedWeek(monday, account.id, self.name(account), reasons, lacks, names, chosen, bool(choice.stages))

    def name(self, account: PublicAccount) -> NameView:
        """What an account is called."""
        return name_view(account, self.say.language, self.say.language)

    def tell_past(self, first: dt.date) -> Iterable[PlannedWeek]:
        """What was to be posted before the first week and is not said to have been, the earliest first."""
        for account in sorted(self.guide.accounts.values(), key=lambda a: (a.to_post or first, a.id)):
            day = account.to_post
            if day is None or find_monday(day) >= first or (account.posted and account.posted >= find_monday(day)):
                continue
            yield self.tell(
                find_monday(day), _choose(self.guide, account, find_monday(day), account.posted), (), self.say("chosen by you"), chosen=True
            )


def _choose(guide: Published, account: PublicAccount, day: dt.date, posted: dt.date | None) -> _Choice:
    """What speaks for an account in the week of a day; one of which no stage is out has no stages."""
    dekad = dekad_of(day)
    out = _seasons_on(account, day)
    sought = [s for s in out if s.stage in sought_stages(guide, account)] if out else []
    group = guide.stage_set(account)
    left = {said if is_state(said := group.said(s.stage)) else group.word(s.stage): _left(s.season.dekads, dekad) for s in sought or out}
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
    return season, say.count("last posted {n} week before", "last posted {n} weeks before", choice.rested)


def _has_plate(guide: Published, account: PublicAccount) -> bool:
    """Whether its post has a picture: one that it lists, or that a mark points at."""
    return bool(guide.photos_of(account)) or any(mark.point and mark.photo in guide.photos for mark in account.diagnostics)


def _say_lacks(guide: Published, account: PublicAccount, say: Words) -> str:
    """What its post still wants before it can go out; "" where it is ready."""
    lacks = [*([] if _has_plate(guide, account) else [say("a picture")]), *([] if account.diagnostics else [say("a field mark")])]
    return say("still lacks {things}", things=say.listed(lacks)) if lacks else ""


def _say_season(choice: _Choice, say: Words) -> str:
    """What is out and until when, what is soonest over first: `in season: egg until late June, adult all year`."""
    if not choice.stages:
        return say("no stage is out then") if choice.account.seasons else say("its account gives no season")
    over: dict[int, list[str]] = {}
    for stage, left in sorted(choice.stages, key=lambda stage: stage[1]):
        over.setdefault(left, []).append(say(stage))
    season = ", ".join(_say_end(say.listed(stages), left, choice.dekad, say) for left, stages in over.items())
    return season if all(is_state(stage) for stage, _ in choice.stages) else say("in season: {stages}", stages=season)


def _say_end(stages: str, left: int, dekad: int, say: Words) -> str:
    if left >= DEKADS:
        return say("{stages} all year", stages=stages)
    return say("{stages} until {when}", stages=stages, when=dekad_words((dekad + left - 1) % DEKADS, say))
