"""Commands that write files for authors."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.authoring import add_account, start_guide
from guidebuild.changes import make_changes, undo_broken_change
from guidebuild.cli.options import IN, example
from guidebuild.rename_wish import read_wish
from guidebuild.renaming import plan_renaming
from guidebuild.session import open_session
from guidebuild.terminal import make_console
from guidebuild.terminal.renaming import print_renaming


@click.command(epilog=example("guidebuild start my_guide"))
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
def start(folder: Path) -> None:
    """Write a small guide to begin with into a new folder."""
    written = start_guide(folder)
    out = make_console()
    for file in written.files:
        out.print(f"  {folder / file}", highlight=False, soft_wrap=True)
    out.print(f"Next: guidebuild make {folder}", highlight=False, soft_wrap=True)


@click.command(epilog=example('guidebuild account "Elasmucha grisea (Linnaeus, 1758)" --vernacular "Parent Bug"'))
@click.argument("name")
@click.option("--vernacular", default="", help="What people call it; also gives the file its name.")
@IN
def account(name: str, vernacular: str, folder: Path) -> None:
    """Add a draft account with every heading and every question to answer."""
    session = open_session(folder)
    written = add_account(folder, session.guide, name, vernacular=vernacular)
    make_console().print(f"Written: {folder / written.files[0]}", highlight=False, soft_wrap=True)


@click.command(epilog=example('guidebuild rename parent-bug mothering-bug "Elasmucha grisea (Linnaeus, 1758)" --try'))
@click.argument("old")
@click.argument("new", nargs=-1, required=True, metavar="NEW [NEW]")
@click.option("--try", "only_try", is_flag=True, help="Say what would change and write nothing.")
@IN
def rename(old: str, new: tuple[str, ...], only_try: bool, folder: Path) -> None:
    """Rename an account with all that names it. Text that says the old name in words is listed, not changed.

    OLD is an account by its file name or any of its names, or the id of a plant, place, character, term, source or photo
    (plant:gorse where one id belongs to several). NEW is another file name or id, for an account also another scientific
    name, or one of each. Old addresses and old records still lead to an account. What stood before is kept in .guidebuild/renamed.
    """
    out = make_console()
    if undo_broken_change(folder):
        out.print("A renaming was broken off before: what stood then was put back.")
    guide = open_session(folder).guide
    renaming = plan_renaming(folder, guide, read_wish(guide, old, new))
    kept = None if only_try else make_changes(folder, renaming.changes)
    print_renaming(out, renaming, kept)
