"""Where lines and tables are printed."""

from __future__ import annotations

from rich.console import Console

PIPED_WIDTH = 120
"""Columns of a table that goes into a file or another program, where no window says how wide it is."""


def make_console(*, quiet: bool = False) -> Console:
    """Standard output, as wide as the window."""
    # Square brackets in an author's names are text, never marks.
    found = Console(quiet=quiet, markup=False, emoji=False)
    return found if found.is_terminal else Console(quiet=quiet, width=PIPED_WIDTH, markup=False, emoji=False)


def make_progress_console(*, quiet: bool) -> Console:
    """Standard error, for the stages of a run while it goes on."""
    return Console(stderr=True, quiet=quiet)
