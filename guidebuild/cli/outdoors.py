"""Commands for the days outside."""

from __future__ import annotations

import datetime as dt
import difflib
from collections.abc import Mapping
from pathlib import Path

import click

from guidebuild.cli.options import IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import clock, session, words
    from guidebuild.fieldwork import published
    from guidebuild.guide import guide as guides
    from guidebuild.terminal import console
    from guidebuild.terminal import outdoors as lines
    from guidebuild.views.outdoors import field_list, season_page
    from guidebuild.views.outdoors import walk as walks
    from guidebuild.views.posts import week_plan

DAY = click.option(
    "--on", "day", type=click.DateTime(["%Y-%m-%d"]), default=None, metavar="DATE", help="As in 2026-06-14; today if not given."
)
PLACE = click.option("--at", "place", default="", metavar="PLACE", help="A place of places.yaml, by id or name.")


@click.command(epilog=example("guidebuild season --on 2026-06-14 --at birch-clump"))
@DAY
@PLACE
@click.option("--bars", is_flag=True, help="Draw the year of each species too.")
@IN
def season(day: dt.datetime | None, place: str, bars: bool, folder: Path) -> None:
    """Say what is out on a day, here or anywhere, and why."""
    guide = session.read_unchecked(folder)
    page = season_page.out_page(guide, day.date() if day else clock.find_today(), _place(guide, place))
    lines.print_out(console.make_console(), page, say=words.words(guide.settings.language), where=page.place or guide.settings.region)
    if bars:
        lines.print_bars(console.make_console(), guide, (row.id for row in page.rows))


@click.command(epilog=example("guidebuild walk september-hedge"))
@click.argument("name")
@IN
def walk(name: str, folder: Path) -> None:
    """Print a walk's pack: what is likely at each stop, look-alikes, cautions, light. `make walks` prints it on paper."""
    guide = published.make_published(session.read_unchecked(folder))
    walk_id = _known(name, guide.walks, {w.title: w.id for w in guide.walks.values()}, "walk")
    lines.print_walk(console.make_console(), walks.walk_pack_view(guide, guide.walks[walk_id]))


@click.command(epilog=example("guidebuild fieldlist --at long-hedge"))
@DAY
@PLACE
@IN
def fieldlist(day: dt.datetime | None, place: str, folder: Path) -> None:
    """List what still wants a photo, a sighting or a review and is in season now, soonest over first."""
    guide = session.read_unchecked(folder)
    view = field_list.field_list_view(guide, day.date() if day else clock.find_today(), _place(guide, place))
    lines.print_field_list(console.make_console(), view, say=words.words(guide.settings.language))


@click.command(epilog=example("guidebuild plan --weeks 4"))
@DAY
@click.option("--weeks", type=click.IntRange(1, 52), default=None, help="How many weeks to show; a quarter of a year if not given.")
@IN
def plan(day: dt.datetime | None, weeks: int | None, folder: Path) -> None:
    """Say what to post in each of the coming weeks, why, and what it still lacks.

    `to post: DATE` in an account puts it into the week of that day; all other weeks are planned round it.
    """
    guide = published.make_published(session.read_unchecked(folder, with_sightings=False))
    view = week_plan.week_plan(guide, day.date() if day else clock.find_today(), weeks or week_plan.WEEKS)
    lines.print_plan(console.make_console(), view, say=words.words(guide.settings.language))


def _place(guide: guides.Guide, typed: str) -> str:
    return _known(typed, guide.places, {p.name: p.id for p in guide.places.values()}, "place") if typed else ""


def _known(typed: str, records: Mapping[str, object], names: Mapping[str, str], what: str) -> str:
    """The id meant by an id or a name; a click error with the nearest known where there is none."""
    if typed in records:
        return typed
    folded = {name.casefold(): record for name, record in names.items()}
    if typed.casefold() in folded:
        return folded[typed.casefold()]
    near = difflib.get_close_matches(typed, [*records, *names], n=1)
    known = f"Did you mean “{near[0]}”?" if near else f"Known: {', '.join(records) or 'none'}."
    raise click.UsageError(f"There is no {what} “{typed}”. {known}")
