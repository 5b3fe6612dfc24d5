"""What is out, walks and field lists on a terminal."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from rich.console import Console
from rich.table import Table
from rich.text import Text

from guidebuild.fieldwork.daylight import Daylight
from guidebuild.fieldwork.field_list import Wanted
from guidebuild.fieldwork.out import IN_SEASON, Chance, Out, sought_stages
from guidebuild.fieldwork.season_words import BLOCKS, PLAIN, text_bars
from guidebuild.fieldwork.walks import StopPlan, WalkPack
from guidebuild.guide.guide import Guide

NOT_A_PROMISE = "A chance is not a promise: weather and luck decide."


def print_out(console: Console, guide: Guide, found: Sequence[Out], *, day: dt.date, place: str) -> None:
    """Species by chance, each with why, and what the words mean."""
    where = guide.places[place].name if place in guide.places else guide.settings.region
    console.print(Text(f"Out on {day.day} {day:%B %Y}" + (f", {where}" if where else ""), style="bold"))
    if not found:
        console.print("Nothing in the guide is in season.", highlight=False)
        return
    console.print(_out_table(guide, found))
    console.print()
    for chance in sorted({out.chance for out in found}):
        console.print(f"{chance.words}: {chance.meaning(at_place=bool(place))}.", style="dim", highlight=False, soft_wrap=True)
    console.print(NOT_A_PROMISE, style="dim")


def print_bars(console: Console, guide: Guide, found: Sequence[Out]) -> None:
    """The year of each species that is out, a line a stage; heights say how much is seen, so it reads without colour."""
    rows = [
        (f"{_name(guide, out.account)}, {stage}", season)
        for out in found
        for stage in sought_stages(guide, guide.accounts[out.account])
        if (season := guide.accounts[out.account].season_of(stage))
    ]
    marks = BLOCKS if (console.encoding or "").lower().startswith("utf") else PLAIN
    for line in text_bars(rows, marks=marks):
        console.print(line, highlight=False, soft_wrap=True)


def print_walk(console: Console, guide: Guide, pack: WalkPack) -> None:
    """The leader's pack: times and light, each stop, look-alikes, cautions, what to bring."""
    walk = pack.walk
    console.print(Text(walk.title, style="bold"))
    console.print(
        f"{pack.starts:%A} {pack.starts.day} {pack.starts:%B %Y, %H:%M} to {pack.ends:%H:%M}, {walk.meet}; {pack.metres} m",
        highlight=False,
        soft_wrap=True,
    )
    if pack.light:
        console.print(_light(pack.light), highlight=False, soft_wrap=True)
    for warning in pack.warnings:
        console.print(Text(warning.text, style="yellow"), soft_wrap=True)
    for plan in pack.stops:
        _print_stop(console, guide, plan)
    if pack.look_alikes:
        console.print(Text("\nTaken for one another here", style="bold"))
    for pair in pack.look_alikes:
        one, other = guide.accounts[pair.account], guide.accounts.get(pair.similar.account)
        if other:
            console.print(f"  {one.vernacular} / {other.vernacular}: {pair.similar.note}", highlight=False, soft_wrap=True)
    console.print(Text("\nTake care", style="bold"))
    for hazard in pack.hazards:
        caution = guide.cautions.get(hazard)
        told = f"{caution.title}: {caution.text} {caution.local}" if caution else hazard
        console.print(f"  {told}", highlight=False, soft_wrap=True)
    brought = [*pack.bring, *(reason.text for reason in pack.also_bring)]
    console.print(Text("\nBring: ", style="bold") + Text("; ".join(brought)), soft_wrap=True)
    for chance in sorted({out.chance for out in pack.met}):
        console.print(f"{chance.words}: {chance.meaning(at_place=True)}.", style="dim", highlight=False, soft_wrap=True)
    console.print(NOT_A_PROMISE, style="dim")


def print_field_list(console: Console, guide: Guide, wanted: Sequence[Wanted], *, day: dt.date) -> None:
    """What still wants a photo, a sighting, a description or a review, soonest over first."""
    if not wanted:
        console.print("Nothing that is in season now is wanted.", highlight=False)
        return
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for heading in ("Species", "Stage", "Wants", "Season ends", "Where"):
        table.add_column(heading)
    for one in wanted:
        left = one.days_left(day)
        ends = "all year" if one.ends is None or left is None else f"{one.ends.day} {one.ends:%b} ({left} days)"
        places = ", ".join(guide.places[p].name for p in one.places if p in guide.places)
        table.add_row(_name(guide, one.account), one.stage, one.want.value, ends, places)
    console.print(table)


def _print_stop(console: Console, guide: Guide, plan: StopPlan) -> None:
    place = guide.places.get(plan.stop.place)
    called = plan.stop.place if place is None else place.area if place.sensitivity else place.name
    console.print(Text(f"\n{plan.number}. {called}, {plan.arrive:%H:%M} to {plan.leave:%H:%M}", style="bold"))
    if plan.stop.note:
        console.print(f"  {plan.stop.note}", highlight=False, soft_wrap=True)
    if plan.out:
        console.print(_out_table(guide, [out for out in plan.out if out.chance is not Chance.OUTSIDE], reasons=2))
    for plant, users in plan.hosts:
        name = guide.plants[plant].vernacular if plant in guide.plants else plant
        console.print(f"  On {name}: {', '.join(_name(guide, u) for u in users)}", highlight=False, soft_wrap=True)


def _light(light: Daylight) -> str:
    told = [f"{label} {moment:%H:%M}" for label, moment in (("sunrise", light.sunrise), ("sunset", light.sunset)) if moment]
    return f"Light: {', '.join(told)}" if told else "Light: the sun neither rises nor sets that day"


def _out_table(guide: Guide, found: Iterable[Out], *, reasons: int = 9) -> Table:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0))
    for heading in ("Chance", "Species", "Stages", "Why"):
        table.add_column(heading)
    for out in found:
        style = "bold" if out.chance is Chance.LIKELY else ""
        why = "; ".join([reason.text for reason in out.reasons if reason.message != IN_SEASON][:reasons])
        table.add_row(Text(out.chance.words, style=style), Text(_name(guide, out.account), style=style), ", ".join(out.stages), why)
    return table


def _name(guide: Guide, account_id: str) -> str:
    account = guide.accounts[account_id]
    return account.vernacular or account.name.plain
