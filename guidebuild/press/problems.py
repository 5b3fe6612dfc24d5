"""What can go wrong while publishing, as values.

The press knows files and bytes, not accounts: it says *what* happened to *which* thing.  Whoever called it knows the
account and line, and turns a `Problem` into a finding.
"""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.errors import SaidInOneLineError


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that could not be published as it should be."""

    what: str
    """A short stable word for the kind of trouble, such as `cut-short` or `missing-sign`."""
    where: str
    """The file, page or address that it concerns, as its author would name it."""
    message: str
    """A full sentence: what is wrong and what to do."""

    def __str__(self) -> str:
        return f"{self.where}: {self.message}"


class PressError(SaidInOneLineError, OSError):
    """Nothing at all can be published (disk full, folder not ours, another run at work); the text is one line for the author."""


class NameRefusedError(PressError):
    """One file cannot be published under its name (taken, or no name below the folder); all others can."""
