"""Commands that write files for authors."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.authoring import add_account, start_guide
from guidebuild.cli.options import IN, example
from guidebuild.session import open_session
from guidebuild.terminal import make_console


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
