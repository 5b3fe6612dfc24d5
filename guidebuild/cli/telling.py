"""Commands that tell species apart."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.cli.options import IN, example
from guidebuild.fieldwork.published import make_published
from guidebuild.identify.readings import Scope
from guidebuild.session import accounts_named, find_stage, open_session
from guidebuild.terminal import make_console
from guidebuild.terminal.outdoors import print_bars
from guidebuild.terminal.telling import print_comparison, print_diagnoses, print_key
from guidebuild.views.telling.compare import compare_view
from guidebuild.views.telling.diagnosis import diagnosis_views
from guidebuild.views.telling.key import key_view


@click.command(epilog=example("guidebuild compare birch-shieldbug parent-bug"))
@click.argument("names", nargs=-1, required=True)
@IN
def compare(names: tuple[str, ...], folder: Path) -> None:
    """Say what tells species apart, easiest first; of one alone, what tells it from all others, and its year. Any name will do."""
    guide = open_session(folder).guide
    ids = accounts_named(guide, names)
    if len(ids) == 1:
        account = guide.accounts[ids[0]]
        print_diagnoses(make_console(), account.vernacular or account.name.plain, diagnosis_views(make_published(guide), account.id))
        print_bars(make_console(), guide, ids)
    else:
        print_comparison(make_console(), compare_view(make_published(guide), ids))


@click.command(epilog=example("guidebuild key --layout bracketed"))
@click.argument("names", nargs=-1)
@click.option("--layout", type=click.Choice(["indented", "bracketed"]), default="indented", show_default=True, help="How the leads stand.")
@click.option("--stage", default="", metavar="STAGE", help="The life stage that the key is for, such as nymph or in flower.")
@click.option("--several", is_flag=True, help="Allow couplets with more than two leads.")
@IN
def key(names: tuple[str, ...], layout: str, stage: str, several: bool, folder: Path) -> None:
    """Print the identification key of the whole guide, or of some of its species."""
    guide = open_session(folder).guide
    scope = Scope(find_stage(guide, stage)) if stage else None
    view = key_view(make_published(guide), dichotomous=not several, scope=scope, accounts=accounts_named(guide, names))
    print_key(make_console(), view, layout=layout)
