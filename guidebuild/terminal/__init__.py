"""What is printed on a terminal: tables that line up, colours only where they help, plain when piped."""

from __future__ import annotations

from rich.console import Console

PIPED_WIDTH = 120
"""Columns of a table that goes into a file or another program, where no window says how wide it is."""


def make_console(*, quiet: bool = False) -> Console:
    """Standard output, as wide as the window."""
    # Square brackets in an author's names are text, never marks.
    found = Console(quiet=quiet, markup=False, emoji=False)
    return found if found.is_terminal else Console(quiet=quiet, width=PIPED_WIDTH, markup=False, emoji=False)
