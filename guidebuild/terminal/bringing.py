"""What is brought into a guide, as lines for its author."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import groupby
from pathlib import PurePosixPath

from rich.console import Console
from rich.table import Table
from rich.text import Text

from guidebuild.bringing.plan import BringingPlan, Coming
from guidebuild.guide.sightings import FileCount
from guidebuild.terminal.findings import print_counts

_WORDS = {
    "photos": ("photo", "photos"),
    "accounts": ("draft account", "draft accounts"),
    "sightings": ("file of sightings", "files of sightings"),
    "takes": ("take", "takes"),
}
_MOST = 40
"""Files of a kind up to which each has its line."""


def print_bringing(console: Console, plan: BringingPlan, counts: Sequence[FileCount], *, done: bool) -> None:
    """Each new file with what it is, what became of the rows of sightings, what was not used and why, and what comes next."""
    for folder, files in groupby(plan.files, key=_folder_of):
        _print_files(console, folder, list(files))
    print_counts(console, counts)
    for title, lines in (("Not used", [str(line) for line in plan.unused]), ("To know", list(plan.advice))):
        if lines:
            console.print(Text(f"\n{title}", style="bold"))
        for line in lines:
            console.print(Text(f"  {line}"), soft_wrap=not console.is_terminal)
    changed = [*plan.added, *plan.changed]
    if changed:
        console.print(Text(f"\nGets new lines: {', '.join(changed)}"), soft_wrap=not console.is_terminal)
    console.print(Text(f"\n{_total(plan, done=done)}", style="bold"))


def _print_files(console: Console, folder: str, files: Sequence[Coming]) -> None:
    table = Table(box=None, pad_edge=False, padding=(0, 2, 0, 0), show_header=False)
    table.add_column(no_wrap=True, overflow="ellipsis", min_width=24)
    table.add_column(overflow="fold")
    table.add_column(style="dim", overflow="fold")
    for file in files[:_MOST]:
        table.add_row(Text(file.file), Text(file.told), Text(f"from {file.source.name}" if file.source else ""))
    if len(files) > _MOST:
        table.add_row(f"and {len(files) - _MOST} more", "", "")
    console.print(Text(f"\n{folder}/", style="bold"))
    console.print(table)


def _folder_of(file: Coming) -> str:
    return PurePosixPath(file.file).parts[0]


def _total(plan: BringingPlan, *, done: bool) -> str:
    if not plan.files:
        return "There is nothing to bring."
    counted = []
    for folder, files in groupby(sorted(plan.files, key=_folder_of), key=_folder_of):
        number = len(list(files))
        one, many = _WORDS.get(folder, ("file", "files"))
        counted.append(f"{number} {one if number == 1 else many}")
    listed = ", ".join(counted)
    return f"Brought: {listed}. Next: guidebuild check" if done else f"Would bring: {listed}. Nothing is written yet."
