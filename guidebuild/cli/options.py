"""Arguments and options that several commands share, and exit codes."""

from __future__ import annotations

from pathlib import Path

import click

from guidebuild.guide.findings import Level

FINE, FOUND, UNREADABLE, STOPPED = 0, 1, 2, 130
"""Exit codes: all is well; findings at or above the asked level; the command or the guide cannot be read; stopped by Ctrl-C.

The last is what shells answer for a program that SIGINT ended (128 + 2).
"""

GUIDE = click.argument("folder", type=click.Path(path_type=Path), default=".", metavar="[DIR]")
IN = click.option("--in", "folder", type=click.Path(path_type=Path), default=".", metavar="DIR", help="The guide's folder.")
FAIL_ON = click.option(
    "--fail-on",
    type=click.Choice([level.value for level in Level]),
    default="error",
    show_default=True,
    help="Exit with 1 from this level on.",
)


def example(text: str) -> str:
    """The closing lines of a help page."""
    return f"Example:  {text}"
