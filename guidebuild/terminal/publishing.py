"""What a run of `make` has to say at its end."""

from __future__ import annotations

from collections.abc import Mapping

from rich.console import Console
from rich.text import Text

from guidebuild.checks.registry import Report
from guidebuild.guide.findings import Level
from guidebuild.press.problems import Problem
from guidebuild.press.publish import MILD, Published


def print_published(console: Console, published: Published, report: Report, *, titles: Mapping[str, str], place: str) -> None:
    """Problems first, then what was left out, then one line of what was done. Troubles are told even when quiet."""
    trouble = Console(stderr=True, markup=False, emoji=False)
    for leak in published.leaks:
        _line(trouble, leak, "would give a secret away", "bold red")
    for problem in published.problems:
        mild = problem.what in MILD
        if not mild or not console.quiet:
            _line(trouble, problem, "warning" if mild else "error", "yellow" if mild else "bold red")
    for account in sorted(report.blocked()):
        left_out = f"{titles.get(account, account)} is not published: it has errors (see guidebuild check)."
        trouble.print(left_out, highlight=False, soft_wrap=True)
    outcome = published.outcome
    if outcome is None:
        trouble.print("Nothing is published: what stood there before still stands.", style="bold red")
        return
    found = report.count(Level.WARNING)
    told = f"{len(outcome.written)} files written, {outcome.kept} as they were, {len(outcome.removed)} taken away"
    also = f"; {found} warnings (guidebuild check)" if found else ""
    console.print(f"{place}: {told}{also}.", highlight=False, soft_wrap=True)
    for moved in outcome.set_aside:
        console.print(f"Your own file was in the way and is now at {moved}.", highlight=False, soft_wrap=True)


def _line(console: Console, problem: Problem, kind: str, style: str) -> None:
    text = Text.assemble(f"{problem.where}: ", (f"{kind}: ", style), problem.message)
    console.print(text, soft_wrap=True)
