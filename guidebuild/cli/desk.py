"""The command that opens the author's page."""

from __future__ import annotations

import webbrowser
from pathlib import Path

import click

from guidebuild.cli.options import GUIDE, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import resident, session
    from guidebuild.cli import helping
    from guidebuild.desk import app
    from guidebuild.desk import desk as desks
    from guidebuild.handbook import book
    from guidebuild.press.engine import own_places
    from guidebuild.press.preview import board as boards
    from guidebuild.press.preview import follow
    from guidebuild.terminal import console


@click.command(epilog=example("guidebuild desk my_guide"))
@GUIDE
@click.option("--port", type=click.IntRange(0, 65535), help="A port of this machine; without it the first that is free.")
@click.option("--no-browser", is_flag=True, help="Only write the address down; open no browser.")
def desk(folder: Path, port: int | None, *, no_browser: bool) -> None:
    """Open your page in the browser: what is to do this week, what is missing, and hands to change it. Ctrl-C ends it.

    In an empty folder the page asks what the guide shall be about, and begins it.
    """
    if not session.is_empty_folder(folder):
        session.must_be_guide(folder)
    own_places.refuse_links_out(folder)
    out = console.make_console()
    out.print("Reading the guide …")

    def announce(address: str) -> None:
        out.print(f"{address}  (for you alone; Ctrl-C ends it)", highlight=False, soft_wrap=True)
        if not no_browser:
            webbrowser.open(address)

    with resident.Resident(folder) as shown:
        on_desk = desks.Desk(folder, shown, lambda: book.make_files(helping.list_commands()))

        def make_front(shown: follow.Shown, board: boards.Board, port: int, start: str) -> follow.Front:
            return app.desk_front(on_desk, shown, board, port, start)

        follow.preview(folder, shown, announce=announce, options=follow.Options(port=port), make_front=make_front)
