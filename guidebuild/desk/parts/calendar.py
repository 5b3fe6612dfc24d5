"""The plan of posts as a calendar of weeks: what goes out when, what it still lacks, and a species put into another week."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import groupby
from typing import Any

from guidebuild.authoring import join_note, list_post_notes
from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import Change, RefusedError, SetValue
from guidebuild.desk.editing.writer import NO_FILES
from guidebuild.desk.part import Part
from guidebuild.fieldwork.published import Published
from guidebuild.guide.accounts import Account
from guidebuild.guide.posted import NotedPost, PostNotes
from guidebuild.reading.posted import noted_file
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.posts.noting import find_facts_posted
from guidebuild.views.posts.week_plan import WEEKS, PlannedWeek, find_monday, is_out_of_season, week_plan

_LONGER = 4 * WEEKS
"""The weeks of a year, where more than a quarter is asked for."""


@dataclass(frozen=True, slots=True)
class PostCard:
    """A species in a week. `out` says of each week of the calendar, one sign each, whether one may post it: 0 where no stage is out."""

    account: str
    name: NameView
    photo: str
    file: str
    digest: str
    why: str
    lacks: str
    chosen: bool
    is_out: bool
    week: str
    out: str


@dataclass(frozen=True, slots=True)
class CalendarWeek:
    """A week by its Monday, as files have it and in words, and what is posted in it."""

    monday: str
    title: str
    cards: tuple[PostCard, ...]


@dataclass(frozen=True, slots=True)
class CalendarMonth:
    """The weeks whose Mondays lie in a month."""

    title: str
    weeks: tuple[CalendarWeek, ...]


@dataclass(frozen=True, slots=True)
class CalendarView:
    """All that the page shows. `others` are the species that have no week, each with its name and in which weeks it is out."""

    rule: str = ""
    months: tuple[CalendarMonth, ...] = ()
    past: tuple[PostCard, ...] = ()
    others: tuple[tuple[str, NameView, str], ...] = ()
    longer: int = 0
    """How many weeks the page can show instead; 0 where it shows them all."""


def show_calendar(desk: Desk, rest: str, asked: Mapping[str, str]) -> CalendarView | None:
    """The calendar of a quarter of weeks; of a year where that is asked for. There is one page, and none below it."""
    guide = desk.published
    if rest:
        return None
    if guide is None:
        return CalendarView()
    number = _LONGER if asked.get("weeks") == str(_LONGER) else WEEKS
    plan = week_plan(guide, desk.day, number)
    first = min([plan.first, *(post.monday for post in plan.weeks[:1])])  # the week that is under way, where a walk is at hand
    mondays = [first + dt.timedelta(weeks=n) for n in range(number)]
    teller = _Teller(desk, guide, mondays)
    cards = {monday: tuple(map(teller.tell, posts)) for monday, posts in groupby(plan.weeks, key=lambda post: post.monday)}
    weeks = [(monday, CalendarWeek(monday.isoformat(), desk.say.day(monday), cards.get(monday, ()))) for monday in mondays]
    planned = {post.account for post in (*plan.weeks, *plan.past)}
    return CalendarView(
        rule=plan.rule,
        months=tuple(_join_months(desk, weeks)),
        past=tuple(map(teller.tell, plan.past)),
        others=tuple(sorted(teller.list_others(planned), key=lambda other: other[1].short.casefold())),
        longer=0 if number == _LONGER else _LONGER,
    )


def _join_months(desk: Desk, weeks: Iterable[tuple[dt.date, CalendarWeek]]) -> Iterator[CalendarMonth]:
    for first, pairs in groupby(weeks, key=lambda pair: pair[0].replace(day=1)):
        yield CalendarMonth(desk.say.month_of(first), tuple(week for _, week in pairs))


@dataclass(frozen=True, slots=True)
class _Teller:
    """Makes cards of planned posts."""

    desk: Desk
    guide: Published
    mondays: list[dt.date]

    def tell(self, post: PlannedWeek) -> PostCard:
        """One post as its card."""
        account = self.guide.accounts[post.account]
        pictures = self.guide.photos_of(account)
        return PostCard(
            account=post.account,
            name=post.name,
            photo=pictures[0].id if pictures else "",
            file=account.at.file,
            digest=self._read_digest(account.at.file),
            why="; ".join(post.reasons),
            lacks=post.lacks,
            chosen=post.chosen,
            is_out=post.is_out,
            week=self.desk.say.day(post.monday),
            out=self._say_out(post.account),
        )

    def _read_digest(self, file: str) -> str:
        """Of a file that cannot be read at the moment nothing is known: what is wanted of it then is refused with the reason."""
        try:
            return self.desk.writer.read(file).digest
        except RefusedError:
            return ""

    def list_others(self, planned: set[str]) -> Iterator[tuple[str, NameView, str]]:
        """The species that are in no week of the calendar."""
        language = self.guide.settings.language
        for account in self.guide.accounts.values():
            if account.id not in planned:
                yield account.id, name_view(account, language, language), self._say_out(account.id)

    def _say_out(self, account: str) -> str:
        return "".join("0" if is_out_of_season(self.guide.accounts[account], monday) else "1" for monday in self.mondays)


def move_post(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """Put a species into a week: `{account, week, digest}`, the week by its Monday, "" to let the plan choose.

    Answers `{file, digest, message}`; the message tells where no stage is out then.
    """
    account, say = _find_account(desk, asked), desk.say
    monday = _read_week(asked)
    changes: list[Change] = [SetValue(("to post",), monday.isoformat() if monday else None)]
    if account.posted and account.posted > desk.day:
        changes.append(SetValue(("posted",), None))  # a day to come stood there: what is said last counts
    name = name_view(account, say.language, say.language).short
    told = [say("{name}: the week of {day}.", name=name, day=say.day(monday)) if monday else say("{name}: the plan chooses.", name=name)]
    told += [say("No stage is out then.")] if monday and is_out_of_season(account, monday) else []
    return {**_write(desk, account, changes, asked), "message": " ".join(told)}


def note_posted(desk: Desk, asked: Mapping[str, Any]) -> Mapping[str, Any]:
    """A species went out in the week that it was put into: `{account, digest}`. Its day is noted as the one on which it was posted."""
    account = _find_account(desk, asked)
    if account.to_post is None:
        raise RefusedError("It is in no week any more. Load the page anew.")
    day = min(account.to_post, desk.day)
    changes = [SetValue(("posted",), day.isoformat()), SetValue(("to post",), None)]
    return _write(desk, account, changes, asked, dict(_note_facts(desk, account, day)))


def _note_facts(desk: Desk, account: Account, day: dt.date) -> Iterator[tuple[str, bytes]]:
    """What its post said, as the command `posted` notes it, so that a change can be told: a file and its text."""
    guide, shown = desk.guide, desk.published
    if guide and shown and account.id in shown.accounts:
        post = NotedPost(day, says=find_facts_posted(shown, shown.accounts[account.id]))
        name = account.vernacular or account.name.plain
        notes = guide.posted.get(account.id) or PostNotes(account.id)
        yield noted_file(account.id), join_note(list_post_notes(name, notes, post))


def _find_account(desk: Desk, asked: Mapping[str, Any]) -> Account:
    account = desk.guide.accounts.get(str(asked.get("account", ""))) if desk.guide else None
    if account is None:
        raise RefusedError("The account that the page means is not there any more. Load the page anew.")
    return account


def _read_week(asked: Mapping[str, Any]) -> dt.date | None:
    week = asked.get("week")
    if week == "":
        return None
    try:
        return find_monday(dt.date.fromisoformat(str(week)))
    except ValueError:
        raise RefusedError("The page did not say which week it means. Load the page anew.") from None


def _write(
    desk: Desk, account: Account, changes: Sequence[Change], asked: Mapping[str, Any], beside: Mapping[str, bytes] = NO_FILES
) -> dict[str, Any]:
    """A species without a week has no card, so that its page has not seen its file: then its text of now is changed."""
    file = account.at.file
    digest = asked.get("digest") or desk.writer.read(file).digest
    written = desk.writer.change(file, str(digest), changes, desk.guide, beside)
    return {"file": written.file, "digest": written.digest}


PART = Part("calendar", "Plan", show_calendar, {"move": move_post, "posted": note_posted})
