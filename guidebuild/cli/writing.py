"""Commands that write files for authors."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.cli.options import FINE, FOUND, IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import authoring, changes, editor_schemas, rename_wish, renaming, session, starting
    from guidebuild.bringing import doing, planning
    from guidebuild.fieldwork import published
    from guidebuild.terminal import bringing as told
    from guidebuild.terminal import console
    from guidebuild.terminal import renaming as lines

KINDS = ("amphibians", "birds", "flowers", "fungi", "insects")
"""The folders of `content/starter/`, the usual one first; named here so that a page of help reads no file."""


@click.command(epilog=example("guidebuild start my_guide --kind birds"))
@click.argument("folder", type=click.Path(path_type=Path), metavar="DIR")
@click.option("--kind", type=click.Choice(KINDS), help=f"What it is about; {KINDS[0]} where nothing is said.")
@click.option("--language", default="en", metavar="CODE", help="The language you write in, such as es; English where nothing is said.")
@click.option("--sample", "as_sample", is_flag=True, help="A copy of the sample guide, with all its pictures, to play with.")
@click.option("--with-ci", "with_workflow", is_flag=True, help="With the file by which a git host makes the site after each push.")
def start(folder: Path, kind: str | None, language: str, *, as_sample: bool, with_workflow: bool) -> None:
    """Write a small guide to begin with into a new folder, or a copy of the sample."""
    if as_sample and (kind or language != "en" or with_workflow):
        raise click.UsageError("--sample takes none of the other options: the sample is as it is.")
    written = starting.copy_sample(folder) if as_sample else starting.start_guide(folder, kind or "", language, with_workflow=with_workflow)
    editor_schemas.write_schemas(folder, session.read_unchecked(folder))
    out = console.make_console()
    listed = [file for file in written.files if not (as_sample and file.startswith(("photos/", "accounts/")))]
    for file in (*listed, f"{editor_schemas.FOLDER}/  (by these an editor completes what you type and underlines slips)"):
        out.print(f"  {folder / file}", highlight=False, soft_wrap=True)
    out.print(f"Next: guidebuild make {folder}    or: guidebuild desk {folder}", highlight=False, soft_wrap=True)


@click.command(epilog=example('guidebuild account "Elasmucha grisea (Linnaeus, 1758)" --vernacular "Parent Bug"'))
@click.argument("name")
@click.option("--vernacular", default="", help="What people call it; also gives the file its name.")
@IN
def account(name: str, vernacular: str, folder: Path) -> None:
    """Add a draft account with every heading and every question to answer."""
    written = authoring.add_account(folder, session.read_for_draft(folder), name, vernacular=vernacular)
    editor_schemas.refresh_schemas(folder, session.read_for_draft(folder))
    console.make_console().print(f"Written: {folder / written.files[0]}", highlight=False, soft_wrap=True)


@click.command(epilog=example("guidebuild bring card/DCIM friends.xlsx sightings.csv --in my_guide --try"))
@click.argument("files", nargs=-1, required=True, type=click.Path(path_type=Path, exists=True), metavar="FILE...")
@click.option("--try", "only_try", is_flag=True, help="Say what would come, and write nothing.")
@IN
def bring(files: tuple[Path, ...], only_try: bool, folder: Path) -> int:
    """Bring what you have into the guide: photos, a list of species, sightings, captions of a take. Folders too.

    Photos are copied into photos/ under speaking names, with an entry in photos.yaml for each: the day, who took it, and the
    account and stage that its name or its folder says (redshank/, Tringa totanus 2.jpg). A list of species makes a draft account
    of each row. Sightings are copied as they are. Nothing that stands is written over; what cannot be used is told and left.
    """
    out = console.make_console()
    if changes.undo_broken_change(folder):
        out.print("A change was broken off before: what stood then was put back.")
    planned = planning.plan_bringing(folder, session.read_for_draft(folder), files)
    if not only_try:
        doing.do_bringing(folder, planned.plan)
    told.print_bringing(out, planned.plan, planned.counts, done=not only_try)
    return FINE if planned.plan.files else FOUND


@click.command(epilog=example("guidebuild episode parent-bug full"))
@click.argument("account_name", metavar="ACCOUNT")
@click.argument("kind", default="")
@IN
def episode(account_name: str, kind: str, folder: Path) -> None:
    """Write the drafted script of an account into episodes/, where it is yours to change.

    ACCOUNT is its id or any of its names, KIND one of the kinds of episode in guide.yaml. Facts stand in it as slots such as {size},
    so that they stay those of the account.
    """
    guide = session.open_session(folder).publishable()
    (account_id,) = session.accounts_named(guide, [account_name])
    written = authoring.add_episode(folder, published.make_published(guide), account_id, kind)
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
    name, or one of each. Old addresses and old records still lead to an account. What stood before is kept in .guidebuild/stood-before.
    """
    out = console.make_console()
    if changes.undo_broken_change(folder):
        out.print("A change was broken off before: what stood then was put back.")
    guide = session.read_unchecked(folder)
    plan = renaming.plan_renaming(folder, guide, rename_wish.read_wish(guide, old, new))
    kept = None if only_try else changes.make_changes(folder, plan.changes)
    lines.print_renaming(out, plan, kept)
