"""The command that notes what a film says, on the day it comes out."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Sequence
from pathlib import Path

import click

from guidebuild.cli.options import FINE, IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import authoring, clock, counting, session
    from guidebuild.fieldwork import published
    from guidebuild.guide import films as records
    from guidebuild.terminal import console
    from guidebuild.views.scripts import film_facts


@click.command(epilog=example("guidebuild film parent-bug-at-birch-clump"))
@click.argument("films", nargs=-1, metavar="[FILM]...")
@IN
def film(films: tuple[str, ...], folder: Path) -> int:
    """Note which facts a film says, so that `check` can tell when one has changed.

    Without a name: all films of films.yaml of which nothing is noted yet. Run it on the day a film comes out,
    and again once it is cut anew.
    """
    guide = session.read_unchecked(folder, with_sightings=False)
    shown, out = published.make_published(guide), console.make_console()
    for one in _choose(guide.films.values(), films):
        facts = film_facts.note_facts(shown, one)
        written = authoring.note_film(folder, one, facts, clock.find_today())
        out.print(f"{written.files[0]}: {counting.count_of(len(facts), 'fact')} that the film says.", highlight=False, soft_wrap=True)
        for fact in facts:
            out.print(f"  {film_facts.say_fact(fact)}", highlight=False, soft_wrap=True, markup=False)
    return FINE


def _choose(known: Iterable[records.Film], named: Sequence[str]) -> list[records.Film]:
    """The films that are named, else those of which nothing is noted."""
    by_id = {one.id: one for one in known}
    for ident in named:
        if ident not in by_id:
            near = difflib.get_close_matches(ident, by_id, n=1)
            hint = f" Did you mean “{near[0]}”?" if near else f" films.yaml has: {', '.join(by_id) or 'none'}."
            raise click.UsageError(f"There is no film “{ident}”.{hint}")
    chosen = [by_id[ident] for ident in named] or [one for one in by_id.values() if one.noted is None and (one.script or one.cues)]
    if not chosen:
        told = "Of every film in films.yaml it is noted what it says; name one to note it anew."
        if not any(one.noted for one in by_id.values()):
            told = "films.yaml has no film with captions or a script."
        console.make_console().print(told, highlight=False)
    return chosen
