"""The week's page: what is out and still wanted, what each account should say next, what is to mend, the next walk, the next posts."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from itertools import groupby
from urllib.parse import urlencode

from guidebuild.checks.complete import find_next_part, measure_completeness
from guidebuild.desk.choices import call_place
from guidebuild.desk.desk import Desk
from guidebuild.desk.guard import DESK
from guidebuild.desk.mending_keys import find_mendable, mend_keys, show_mending
from guidebuild.desk.part import Part
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.views.outdoors.field_list import WantedView, field_list_view
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.views.posts.week_plan import PlannedWeek, week_plan
from guidebuild.words import Words

_OUT_AT_ONCE = 12
_OUT_AT_MOST = 120
_QUESTIONS_AT_ONCE = 8
_FINDINGS_AT_MOST = 200
_WEEKS_OF_POSTS = 3


@dataclass(frozen=True, slots=True)
class OutNow:
    """One stage that is out, and all that is wanted of it."""

    account: str
    name: NameView
    stage: str
    wants: str
    until: str
    places: str
    most_seen: bool


@dataclass(frozen=True, slots=True)
class Progress:
    """How far an account has come, and what it should say next ("" where it says all)."""

    account: str
    name: NameView
    said: int
    asked: int
    question: str
    address: str
    """Where it is answered."""

    @property
    def share(self) -> int:
        """Of a hundred."""
        return round(100 * self.said / self.asked) if self.asked else 100


@dataclass(frozen=True, slots=True)
class ToMend:
    """One finding, and the place on the desk that has its field. `by_itself` is one whose key gets its name of today for the asking."""

    level: str
    line: int
    at: str
    message: str
    mend: str
    rule: str
    by_itself: bool


@dataclass(frozen=True, slots=True)
class FileToMend:
    """The findings of one file."""

    file: str
    findings: tuple[ToMend, ...]
    errors: int


@dataclass(frozen=True, slots=True)
class NextWalk:
    """The next walk, and in how many days it is."""

    id: str
    title: str
    when: str
    days: str
    meet: str
    stops: int


@dataclass(frozen=True, slots=True)
class WeekView:
    """All that the page shows. `more` counts what is left out of a list that would be too long."""

    day: str
    accounts: tuple[Progress, ...]
    out: tuple[OutNow, ...]
    out_more: tuple[OutNow, ...]
    out_left: int
    questions: tuple[Progress, ...]
    questions_more: tuple[Progress, ...]
    files: tuple[FileToMend, ...]
    files_left: int
    errors: int
    warnings: int
    walk: NextWalk | None
    posts: tuple[tuple[str, PlannedWeek], ...]

    @property
    def whole(self) -> int:
        """Accounts that say all that is asked."""
        return sum(not one.question for one in self.accounts)


def show_week(desk: Desk, rest: str, _: Mapping[str, str]) -> WeekView | None:
    """The page; a guide that cannot be read shows what is to mend alone."""
    if rest:
        return None
    guide, say, day = desk.guide, desk.say, desk.day
    out = tuple(_join_wants(field_list_view(guide, day).rows, guide, say)) if guide else ()
    accounts = tuple(_measure(guide, account) for account in guide.accounts.values()) if guide else ()
    questions = tuple(sorted((one for one in accounts if one.question), key=lambda one: (one.share, one.account)))
    files, left = _sort_findings(desk.findings, find_mendable(desk, desk.findings))
    return WeekView(
        day=say.date(day),
        accounts=accounts,
        out=out[:_OUT_AT_ONCE],
        out_more=out[_OUT_AT_ONCE:_OUT_AT_MOST],
        out_left=len(out[_OUT_AT_MOST:]),
        questions=questions[:_QUESTIONS_AT_ONCE],
        questions_more=questions[_QUESTIONS_AT_ONCE:],
        files=files,
        files_left=left,
        errors=sum(f.level is Level.ERROR for f in desk.findings),
        warnings=sum(f.level is Level.WARNING for f in desk.findings),
        walk=_find_walk(guide, day, say) if guide else None,
        posts=_plan_posts(desk, day),
    )


def _join_wants(rows: Iterable[WantedView], guide: Guide, say: Words) -> Iterator[OutNow]:
    """The rows of the field list, those of one stage as one."""
    told: dict[tuple[str, str, str], list[WantedView]] = {}
    secret = {place.name: call_place(place, say) for place in guide.places.values() if place.sensitivity}
    for row in rows:
        told.setdefault((row.account, row.stage, row.until), []).append(row)
    for (account, stage, until), same in told.items():
        wants = say.listed([row.want for row in same])
        places = say.listed(list(dict.fromkeys(secret.get(place, place) for row in same for place in row.places)))
        yield OutNow(account, same[0].name, stage, wants, until, places, any(row.most_seen for row in same))


def _measure(guide: Guide, account: Account) -> Progress:
    done, part = measure_completeness(guide, account), find_next_part(guide, account)
    group, language = guide.stage_set(account), guide.settings.language
    key = "" if part is None else part.asked_as if part.key == "sections" else part.key_in(group)
    return Progress(
        account=account.id,
        name=name_view(account, language, language),
        said=done.said,
        asked=done.asked,
        question=part.question_in(group) if part else "",
        address=f"{DESK}open?{urlencode({'at': account.at.file, 'field': key})}",
    )


def _sort_findings(findings: Iterable[Finding], mendable: frozenset[At]) -> tuple[tuple[FileToMend, ...], int]:
    """Findings by file, the file with most errors first; how many were left out."""
    graver = sorted((f for f in findings if f.level is not Level.NOTE), key=lambda f: -f.level.weight)
    shown = sorted(graver[:_FINDINGS_AT_MOST], key=lambda f: (f.at.file, -f.level.weight, f.at.line))
    files = []
    for file, group in groupby(shown, key=lambda f: f.at.file):
        of_file = [ToMend(f.level.value, f.at.line, str(f.at), f.message, f.mend, f.code, f.at in mendable) for f in group]
        files.append(FileToMend(file, tuple(of_file), sum(one.level == Level.ERROR for one in of_file)))
    return tuple(sorted(files, key=lambda one: (-one.errors, one.file))), len(graver[_FINDINGS_AT_MOST:])


def _find_walk(guide: Guide, day: dt.date, say: Words) -> NextWalk | None:
    ahead = sorted((walk for walk in guide.walks.values() if walk.date >= day), key=lambda walk: (walk.date, walk.start))
    if not ahead:
        return None
    walk = ahead[0]
    left = (walk.date - day).days
    when = f"{say.date(walk.date)}, {walk.start:%H:%M}"
    days = say("today") if not left else say.count("in {n} day", "in {n} days", left)
    return NextWalk(walk.id, walk.title, when, days, walk.meet, len(walk.stops))


def _plan_posts(desk: Desk, day: dt.date) -> tuple[tuple[str, PlannedWeek], ...]:
    if desk.published is None:
        return ()
    weeks = week_plan(desk.published, day, _WEEKS_OF_POSTS).weeks
    return tuple((desk.say.date(week.monday), week) for week in weeks)


PART = Part("week", "This week", show_week, {"mending": show_mending, "mend": mend_keys})
