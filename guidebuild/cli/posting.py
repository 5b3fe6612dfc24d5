"""The command that notes what a post said, on the day it goes out."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Sequence
from pathlib import Path

import click

from guidebuild.cli.options import FINE, IN, example
from guidebuild.later import imported_when_used

with imported_when_used():  # a page of help tells options and runs nothing
    from guidebuild import authoring, clock, counting, session
    from guidebuild.desk.editing import wanted, writer
    from guidebuild.fieldwork import public_records, published
    from guidebuild.guide import guide as guides
    from guidebuild.guide import posted as records
    from guidebuild.terminal import console
    from guidebuild.views.posts import noting, posted_facts, week_plan


@click.command(epilog=example("guidebuild posted parent-bug --on 2026-06-03"))
@click.argument("accounts", nargs=-1, metavar="[ACCOUNT]...")
@click.option(
    "--on", "day", type=click.DateTime(["%Y-%m-%d"]), default=None, metavar="DATE", help="The day it was posted; today if not given."
)
@click.option("--text", "texts", multiple=True, metavar="NAME", help="Which text was posted, such as short; all of them if not given.")
@click.option("--correction", is_flag=True, help="What was posted is the correction, or none was needed.")
@IN
def posted(accounts: tuple[str, ...], day: dt.datetime | None, texts: tuple[str, ...], folder: Path, *, correction: bool) -> int:
    """Note that a species was posted and what the post said, so that `check` can tell when it is no longer so.

    It writes the day as `posted:` into the account, and the facts of its texts as they are today into posts/ACCOUNT.said.yaml.
    Without a name: all accounts whose `posted:` has come and of which nothing is noted yet.
    """
    guide = session.read_unchecked(folder, with_sightings=False)
    today = clock.find_today()
    on = day.date() if day else today
    if on > today:
        raise click.UsageError(f"{on.isoformat()} is still to come. Note a post once it is out.")
    shown = published.make_published(guide)
    for ident, of_day in _choose(guide, accounts, on, correction=correction):
        account = shown.accounts[ident]
        says = _find_said(shown, account, texts, correction=correction)
        if correction and not says:
            console.make_console().print(f"All that was posted of {ident} still stands: there is nothing to correct.", highlight=False)
            continue
        post = records.NotedPost(of_day, correction, says)
        name = account.vernacular or account.name.plain
        noted = authoring.note_post(folder, name, guide.posted.get(ident) or records.PostNotes(ident), post)
        if not correction and guide.accounts[ident].posted != of_day:
            _write_day(folder, guide, ident, of_day)
        _print_noted(noted.files[0], says)
    return FINE


def _choose(guide: guides.Guide, named: Sequence[str], day: dt.date, *, correction: bool) -> Iterator[tuple[str, dt.date]]:
    """The accounts that are named, on the day; else those that have a day and no note, each on its own."""
    if named or correction:
        if not named:
            raise click.UsageError("Name the account whose correction was posted.")
        yield from ((ident, day) for ident in session.accounts_named(guide, named))
        return
    noted = {ident: notes.is_noted for ident, notes in guide.posted.items()}
    days = ((a.id, a.posted) for a in guide.accounts.values() if a.posted and a.posted <= day)
    waiting = [(ident, of_day) for ident, of_day in days if not (ident in noted and noted[ident](of_day))]
    if not waiting:
        console.make_console().print(
            "Of every post that has a day it is noted what it said; name an account to note another.", highlight=False
        )
    yield from waiting


def _find_said(
    shown: published.Published, account: public_records.PublicAccount, texts: Sequence[str], *, correction: bool
) -> tuple[records.PostedFact, ...]:
    if correction:
        return posted_facts.list_corrected(posted_facts.find_changed_facts(shown, account))
    known = noting.list_text_names(shown, account) if texts else ()
    if unknown := next((name for name in texts if name not in known), ""):
        raise click.UsageError(f"There is no text “{unknown}”. The texts are: {', '.join(known)}.")
    return noting.find_facts_posted(shown, account, texts)


def _write_day(folder: Path, guide: guides.Guide, account: str, day: dt.date) -> None:
    """Set the day in the account's file, all else to the byte; `guidebuild mend --undo` takes it back."""
    file, to_post, desk = guide.accounts[account].at.file, guide.accounts[account].to_post, writer.Writer(folder)
    changes = [wanted.SetValue(("posted",), day.isoformat())]
    if to_post and week_plan.find_monday(to_post) <= day:  # the week that it was put into: it is done
        changes.append(wanted.SetValue(("to post",), None))
    desk.change(file, desk.read(file).digest, changes, guide)


def _print_noted(file: str, says: Sequence[records.PostedFact]) -> None:
    out = console.make_console()
    out.print(f"{file}: {counting.count_of(len(says), 'fact')} that the post said.", highlight=False, soft_wrap=True)
    for fact in says:
        out.print(f"  {fact.slot}: {fact.words or 'no longer said'}", highlight=False, soft_wrap=True, markup=False)
