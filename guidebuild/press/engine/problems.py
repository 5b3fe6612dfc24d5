"""What can go wrong while publishing, as values.

The press knows files and bytes, not accounts: it says *what* happened to *which* thing.  Whoever called it knows the
account and line, and turns a `Problem` into a finding.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import Any

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

    def as_list(self) -> list[str]:
        """The problem as JSON holds it, for `read_problem`."""
        return [self.what, self.where, self.message]


def read_problem(written: Any) -> Problem:
    """The problem that `Problem.as_list` wrote down; raises `ValueError` or `TypeError` for anything else."""
    what, where, message = written
    return Problem(str(what), str(where), str(message))


class Problems:
    """Where everything that works for a run tells what went wrong; each problem is kept once."""

    def __init__(self) -> None:
        self._told: dict[Problem, None] = {}

    def tell(self, *problems: Problem) -> None:
        """Take note of problems."""
        self._told.update(dict.fromkeys(problems))

    def forget(self) -> None:
        """Begin anew, as what was told may be mended."""
        self._told.clear()

    @property
    def all(self) -> tuple[Problem, ...]:
        """Every problem, in the order in which they were told."""
        return tuple(self._told)


_NAMED = 3
"""So many things with the same trouble are named one by one."""


def gather_failures(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """What failed for one reason as one problem that says how many it concerns: a mistake in a template fails all its pages.

    All else stays as it is, since each may want a mend of its own.
    """
    gathered: dict[object, list[Problem]] = {}
    for problem in problems:
        gathered.setdefault((problem.what, problem.message) if problem.what == "failed" else problem, []).append(problem)
    return tuple(replace(same[0], where=_where(list(dict.fromkeys(one.where for one in same)))) for same in gathered.values())


def _where(places: list[str]) -> str:
    return ", ".join(places) if len(places) <= _NAMED else f"{places[0]} and {len(places) - 1} more"


class PressError(SaidInOneLineError, OSError):
    """Nothing at all can be published (disk full, folder not ours, another run at work); the text is one line for the author."""


class NameRefusedError(PressError):
    """One file cannot be published under its name (taken, or no name below the folder); all others can."""
