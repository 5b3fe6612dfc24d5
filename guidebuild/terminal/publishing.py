"""What a run of `make` has to say at its end."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

from rich.console import Console
from rich.text import Text

from guidebuild.counting import count_of
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.unchanged import Checked
from guidebuild.press.engine.verify import Verified
from guidebuild.press.engine.web_copy import Copied
from guidebuild.press.online import Compared
from guidebuild.press.publication import MILD, Publication


def print_published(console: Console, published: Publication, checked: Checked, *, place: str, anyway: bool = False) -> None:
    """Problems first, then what was left out, then one line of what was done. Troubles are told even when quiet."""
    trouble = Console(stderr=True, markup=False, emoji=False)
    for leak in published.leaks:
        _line(trouble, leak, "would give a secret away", "bold red")
    for problem in published.problems:
        mild = problem.what in MILD
        if not mild or not console.quiet:
            _line(trouble, problem, "warning" if mild else "error", "yellow" if mild else "bold red")
    for line in checked.kept:
        trouble.print(line, highlight=False, soft_wrap=True)
    for account in checked.left_out:
        trouble.print(f"{account} is not published: it has errors (see guidebuild check).", highlight=False, soft_wrap=True)
    outcome = published.outcome
    if outcome is None:
        trouble.print("Nothing is published: what stood there before still stands.", style="bold red")
        return
    if anyway:
        for path in outcome.removed:
            console.print(f"taken away: {path}", highlight=False, soft_wrap=True)
    found = checked.warnings
    told = f"{count_of(len(outcome.written), 'file')} written, {outcome.kept} as they were, {len(outcome.removed)} taken away"
    also = f"; {count_of(found, 'warning')} (guidebuild check)" if found else ""
    console.print(f"{place}: {told}{also}.", highlight=False, soft_wrap=True)
    if not outcome.at_once:
        console.print(
            f"{place} is a disk of its own: its files were exchanged one by one, not all at once.", highlight=False, soft_wrap=True
        )
    for moved in outcome.set_aside:
        console.print(f"Your own file was in the way and is now at {moved}.", highlight=False, soft_wrap=True)


_OPENINGS = (
    ("site", "Open", ("index.html",)),
    ("cards", "Print", ("sheets-*.pdf", "deck.pdf", "leaflet-*.pdf", "*.pdf")),
    ("scripts", "Read out", ("index.html",)),
)
"""Of each output: what one does with it, and the first of its files that one looks for."""


def print_openings(console: Console, place: Path, outputs: Collection[str]) -> None:
    """What to open now: the first page, the cards, the scripts, as far as they are there, and among these outputs, if any are named."""
    for output, verb, patterns in (opening for opening in _OPENINGS if not outputs or opening[0] in outputs):
        found = next((file for pattern in patterns for file in sorted((place / output).glob(pattern))), None)
        if found is not None:
            hint = "  (at 100 %, on both sides)" if output == "cards" else ""
            console.print(f"{verb + ':':10}{found}{hint}", highlight=False, soft_wrap=True)


def print_copied(console: Console, copied: Copied, place: str) -> None:
    """What was copied for the web."""
    told = f"{count_of(len(copied.written), 'file')} copied, {copied.kept} as they were, {len(copied.removed)} taken away"
    console.print(f"{place}: {told}.", highlight=False, soft_wrap=True)


def print_compared(console: Console, compared: Compared, place: str) -> bool:
    """What is other on the web than here, then how much was looked at; whether all is the same."""
    graver = [problem for problem in compared.differing if problem.what != "online-more"]
    for problem in compared.differing:
        _line(console, problem, *(("error", "bold red") if problem in graver else ("warning", "yellow")))
    other = len({problem.where for problem in graver})
    said = "all as they were made here" if not graver else f"{count_of(other, 'place')} to mend"
    console.print(f"{place}: {count_of(compared.files, 'file')} looked at, {said}.", highlight=False, soft_wrap=True)
    return not graver


def print_verified(console: Console, verified: Verified) -> bool:
    """What differs from what was published, then how many files were read; whether all are as they were."""
    trouble = Console(stderr=True, markup=False, emoji=False)
    for problem in verified.differing:
        _line(trouble, problem, "error", "bold red")
    same = verified.files - len(verified.differing)
    if verified.files:
        console.print(f"{verified.files} files read back: {same} are as they were published.", highlight=False, soft_wrap=True)
    return not verified.differing


def _line(console: Console, problem: Problem, kind: str, style: str) -> None:
    text = Text.assemble(f"{problem.where}: ", (f"{kind}: ", style), problem.message)
    console.print(text, soft_wrap=True)
