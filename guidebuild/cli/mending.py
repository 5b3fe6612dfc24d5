"""The command that gives keys of an older guide their names of today."""

from __future__ import annotations

import sys
from pathlib import Path

import click

from guidebuild.cli.options import FINE, FOUND, GUIDE, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import mending, session
    from guidebuild.desk.editing import writer
    from guidebuild.terminal import console
    from guidebuild.terminal import mending as lines


@click.command(epilog=example("guidebuild mend my_guide"))
@GUIDE
@click.option("--yes", is_flag=True, help="Write without asking.")
@click.option("--undo", is_flag=True, help="Put back what stood before the last change that this command or the desk has made.")
def mend(folder: Path, *, yes: bool, undo: bool) -> int:
    """Give keys that have another name since an earlier version their names of today.

    Keys that are typed otherwise than they are written (Host_Plants) too. Every line that would change is shown first, then you
    are asked. Nothing but the keys changes: remarks, order and values stay. A key about secrecy is never touched.
    """
    session.must_be_guide(folder)
    out = console.make_console()
    if undo:
        back = writer.Writer(folder).undo()
        out.print(f"Put back: {back.file}{_and_more(back.files)}." if back else "There is no change to take back.", highlight=False)
        return FINE if back else FOUND
    planned = mending.plan_mending(folder)
    lines.print_mending(out, planned)
    if not planned.files:
        return FOUND if planned.refused else FINE
    if not (yes or (sys.stdin.isatty() and click.confirm("Write this?"))):
        out.print("Nothing is written." if sys.stdin.isatty() else "Nothing is written yet: guidebuild mend --yes writes it.")
        return FOUND
    writer.Writer(folder).put_texts([(one.file, one.before, one.after) for one in planned.files])
    out.print("Written. guidebuild mend --undo puts back what stood before.", highlight=False)
    return FOUND if planned.refused else FINE


def _and_more(files: int) -> str:
    return f" and {files - 1} more" if files > 1 else ""
