"""Commands that tell species apart."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.cli.options import IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import session
    from guidebuild.fieldwork import published
    from guidebuild.identify import readings
    from guidebuild.terminal import console, outdoors, telling
    from guidebuild.views.pieces import cautions, parts
    from guidebuild.views.telling import compare as comparing
    from guidebuild.views.telling import diagnosis
    from guidebuild.views.telling import key as keys


@click.command(epilog=example("guidebuild compare birch-shieldbug parent-bug"))
@click.argument("names", nargs=-1, required=True)
@IN
def compare(names: tuple[str, ...], folder: Path) -> None:
    """Say what tells species apart, easiest first; of one alone, what tells it from all others, and its year. Any name will do."""
    guide = session.read_unchecked(folder)
    ids = session.accounts_named(guide, names)
    if len(ids) == 1:
        account = guide.accounts[ids[0]]
        shown, out = published.make_published(guide), console.make_console()
        telling.print_diagnoses(out, account.vernacular or account.name.plain, diagnosis.diagnosis_views(shown, account.id))
        outdoors.print_bars(out, guide, ids)
        telling.print_cautions(out, cautions.cautions_of_set(parts.make_pieces(shown), ids, by_itself=True))
    else:
        telling.print_comparison(console.make_console(), comparing.compare_view(published.make_published(guide), ids))


@click.command(epilog=example("guidebuild key --layout bracketed"))
@click.argument("names", nargs=-1)
@click.option("--layout", type=click.Choice(["indented", "bracketed"]), default="indented", show_default=True, help="How the leads stand.")
@click.option("--stage", default="", metavar="STAGE", help="The life stage that the key is for, such as nymph or in flower.")
@click.option("--several", is_flag=True, help="Allow couplets with more than two leads.")
@IN
def key(names: tuple[str, ...], layout: str, stage: str, several: bool, folder: Path) -> None:
    """Print the identification key of the whole guide, or of some of its species."""
    guide = session.read_unchecked(folder)
    scope = readings.Scope(session.find_stage(guide, stage)) if stage else None
    view = keys.key_view(
        published.make_published(guide), dichotomous=not several, scope=scope, accounts=session.accounts_named(guide, names)
    )
    telling.print_key(console.make_console(), view, layout=layout)
