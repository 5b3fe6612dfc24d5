"""What is out, walks and field lists on a terminal, in the guide's own language."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from babel.dates import format_date
from rich.console import Console
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

from guidebuild.fieldwork.out import sought_stages
from guidebuild.fieldwork.season_words import BLOCKS, PLAIN, month_letters, text_bar
from guidebuild.guide.guide import Guide
from guidebuild.views.outdoors.field_list import FieldListView
from guidebuild.views.outdoors.season_page import OutPage
from guidebuild.views.outdoors.walk import MetView, StopPackView, WalkPackView
from guidebuild.views.pieces.season_words import season_words
from guidebuild.views.posts.week_plan import WeekPlanView
from guidebuild.words import Words, find_locale, words

_GAP = (0, 2, 0, 0)


def print_out(console: Console, page: OutPage, *, say: Words, where: str) -> None:
    """Species by chance, each with why, and what the words mean."""
    heading = say("Out on {date}", date=page.day)
    console.print(Text(f"{heading}, {where}" if where else heading, style="bold"))
    if not page.rows:
        console.print(say("Nothing in the guide is in season."), highlight=False)
        return
    best = page.chances[0][0]
    table = _table(say("Chance"), say("Species"), say("Stages"), say("Why"))
    for row in page.rows:
        style = "bold" if row.chance == best else ""
        table.add_row(Text(row.chance, style=style), Text(row.name.short, style=style), row.stages, "; ".join(row.why))
    console.print(table)
    _print_chances(console, page.chances, page.promise)


def print_bars(console: Console, guide: Guide, accounts: Iterable[str]) -> None:
    """The year of each species, a line a stage; heights say how much is seen, so it reads without colour."""
    language = guide.settings.language
    say, marks = words(language), BLOCKS if (console.encoding or "").lower().startswith("utf") else PLAIN
    table = _table("", month_letters(language, guide.settings.first_month), "")
    table.columns[1].no_wrap = True
    for account in (guide.accounts[i] for i in accounts):
        stages = dict(guide.stage_set(account).stages)
        table.add_row(Text(account.vernacular or account.name.plain, style="bold"))
        for stage in sought_stages(guide, account):
            if season := account.season_of(stage):
                bar = text_bar(season, marks, guide.settings.first_dekad)
                table.add_row(f"  {say(stages.get(stage, stage))}", bar, season_words(season, say, guide.settings))
    console.print()
    console.print(table)


def print_walk(console: Console, pack: WalkPackView) -> None:
    """The leader's pack: times and light, each stop, look-alikes, cautions, what to bring."""
    say = words(pack.language)
    _print_head(console, pack, say)
    for stop in pack.stops:
        _print_stop(console, stop, say)
    _heading(console, say("Taken for one another here") if pack.alikes else "")
    for pair in pack.alikes:
        _item(console, Text(f"{pair.one.text} / {pair.other.text}"), f": {pair.note}" if pair.note else "")
    _heading(console, say("Take care"))
    for caution in pack.cautions:
        _item(console, Text(caution.title, style="bold"), f": {caution.whole} {caution.local}".rstrip())
    _item(console, Text(), pack.law)
    _heading(console, say("Bring") if pack.bring else "")
    for thing in pack.bring:
        _item(console, Text(), thing)
    _print_chances(console, pack.chances, pack.promise)


def print_field_list(console: Console, view: FieldListView, *, say: Words) -> None:
    """What still wants a photo, a sighting, a description or a review, soonest over first."""
    if not view.rows:
        console.print(say("Nothing in season now lacks a photo, a sighting or a review."), highlight=False)
        return
    table = _table(say("Species"), say("Stage"), say("Wants"), say("In season"), say("Where"))
    for row in view.rows:
        style = "bold" if row.most_seen else ""
        table.add_row(Text(row.name.short, style=style), row.stage, row.want, row.until, ", ".join(row.places))
    console.print(table)


def print_plan(console: Console, plan: WeekPlanView, *, say: Words) -> None:
    """What to post week by week, with why; then what was to go out before and is not noted as posted."""
    console.print(Text(plan.rule, style="dim"))
    if plan.weeks:
        table = _table(say("Week of"), say("Post"), say("Why"), say("Or"))
        for post in plan.weeks:
            style = "bold" if post.chosen else ""
            others = ", ".join(name.short for name in post.instead)
            table.add_row(say.date(post.monday), Text(post.name.short, style=style), "; ".join(post.why), others)
        console.print(table)
    else:
        console.print(say("Nothing is in season that could be posted."), highlight=False)
    _heading(console, say("Have these gone out?") if plan.past else "")
    for post in plan.past:
        _item(console, Text(post.name.short, style="bold"), f": {say('Week of')} {say.date(post.monday)}. guidebuild posted {post.account}")


def _print_head(console: Console, pack: WalkPackView, say: Words) -> None:
    console.print(Text(pack.title, style="bold"))
    day = format_date(dt.date.fromisoformat(pack.iso[:10]), "full", find_locale(say.language))
    meet = [f"{day}, {pack.starts}–{pack.ends}", pack.meet, f"{pack.metres} m" if pack.metres else ""]
    console.print(" · ".join(part for part in meet if part), highlight=False)
    if pack.light:
        console.print(f"{say('Light')}: {' · '.join(f'{what} {time}' for what, time in pack.light)}", highlight=False)
    _heading(console, say("Before the day") if pack.warnings else "")
    for warning in pack.warnings:
        _item(console, Text("! ", style="yellow"), warning)
    if pack.note:
        console.print()
        console.print(pack.note, highlight=False)


def _print_stop(console: Console, stop: StopPackView, say: Words) -> None:
    _heading(console, f"{stop.number}. {stop.place.text}, {stop.arrive}–{stop.leave}")
    for line in (stop.note.words, stop.access.words):
        if line:
            _item(console, Text(), line)
    if stop.met:
        console.print(Padding(_met(stop.met, say), (0, 0, 0, 2)))
    for host in stop.hosts:
        _item(
            console,
            Text(f"{say('Look over')} ") + Text(host.plant.text, style="bold"),
            f": {', '.join(guest.short for guest in host.guests)}",
        )


def _met(met: Sequence[MetView], say: Words) -> Table:
    table = _table(say("Chance"), say("May be found"), say("Look for"), say("Why"))
    for one in met:
        style = "bold" if one.chance == say("likely") else ""
        sought = "; ".join(f"{claim.stages}: {claim.mark}" if claim.mark else claim.stages for claim in one.sought)
        table.add_row(Text(one.chance, style=style), Text(one.link.text, style=style), sought, one.why)
    return table


def _print_chances(console: Console, chances: Iterable[tuple[str, str]], promise: str) -> None:
    console.print()
    for word, meaning in chances:
        console.print(Text(f"{word}: {meaning}.", style="dim"))
    console.print(Text(promise, style="dim"))


def _heading(console: Console, text: str) -> None:
    if text:
        console.print()
        console.print(Text(text, style="bold"))


def _item(console: Console, opening: Text, text: str) -> None:
    """A line that keeps its indent where it is broken."""
    console.print(Padding(opening + Text(text), (0, 0, 0, 2)))


def _table(*headings: str) -> Table:
    table = Table(box=None, pad_edge=False, padding=_GAP)
    for heading in headings:
        table.add_column(heading)
    return table
