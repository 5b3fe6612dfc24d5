"""Commands that write files for authors."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.cli.options import IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import authoring, changes, editor_schemas, rename_wish, renaming, session
    from guidebuild.terminal import console
    from guidebuild.terminal import renaming as lines


@click.command(epilog=example("guidebuild start my_guide"))
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
def start(folder: Path) -> None:
    """Write a small guide to begin with into a new folder."""
    written = authoring.start_guide(folder)
    editor_schemas.write_schemas(folder, session.open_session(folder).guide)
    out = console.make_console()
    for file in (*written.files, f"{editor_schemas.FOLDER}/  (by these an editor completes what you type and underlines slips)"):
        out.print(f"  {folder / file}", highlight=False, soft_wrap=True)
    out.print(f"Next: guidebuild make {folder}", highlight=False, soft_wrap=True)


@click.command(epilog=example('guidebuild account "Elasmucha grisea (Linnaeus, 1758)" --vernacular "Parent Bug"'))
@click.argument("name")
@click.option("--vernacular", default="", help="What people call it; also gives the file its name.")
@IN
def account(name: str, vernacular: str, folder: Path) -> None:
    """Add a draft account with every heading and every question to answer."""
    written = authoring.add_account(folder, session.read_for_draft(folder), name, vernacular=vernacular)
    editor_schemas.refresh_schemas(folder, session.read_for_draft(folder))
    console.make_console().print(f"Written: {folder / written.files[0]}", highlight=False, soft_wrap=True)


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
    out = console.make_console()
    if changes.undo_broken_change(folder):
        out.print("A renaming was broken off before: what stood then was put back.")
    guide = session.open_session(folder).guide
    plan = renaming.plan_renaming(folder, guide, rename_wish.read_wish(guide, old, new))
    kept = None if only_try else changes.make_changes(folder, plan.changes)
    lines.print_renaming(out, plan, kept)
