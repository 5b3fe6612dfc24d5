"""What a renaming changes, as lines for its author."""

from __future__ import annotations

from itertools import groupby
from pathlib import Path

from rich.console import Console

from guidebuild.guide.findings import At
from guidebuild.renaming import Renaming

_MOST_LINES = 20


def print_renaming(console: Console, renaming: Renaming, kept: Path | None) -> None:
    """Files that get another name, the lines that change, what still says the old name, and where the former files are kept."""
    for old, new in renaming.changes.moves:
        _print(console, f"{old} -> {new}")
    for file, places in groupby(renaming.places, lambda at: at.file):
        lines = list(dict.fromkeys(at.line for at in places))
        shown = ", ".join(map(str, lines[:_MOST_LINES])) + (f" and {len(lines) - _MOST_LINES} more" if len(lines) > _MOST_LINES else "")
        _print(console, f"{file}: line{'s' if len(lines) > 1 else ''} {shown}")
    for words in renaming.advice:
        _print(console, words)
    if renaming.still_said:
        _print(console, "The old name still stands in words here; change it where it should:")
    for at, line in dict.fromkeys((At(at.file, at.line), line) for at, line in renaming.still_said):
        _print(console, f"  {at}: {line}")
    _print(console, "Nothing is written yet." if kept is None else f"Done. What stood before is kept in {kept}.")


def _print(console: Console, words: str) -> None:
    console.print(words, highlight=False, soft_wrap=True)
