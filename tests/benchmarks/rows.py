"""The one shape of all benchmarks: a module `bench_<topic>.py` has `rows()`, which yields what it measured as it goes.

Run alone, `python -m tests.benchmarks.bench_<topic>`, it prints its own rows; `python -m tests.benchmarks` runs them all and
prints one table.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass


@dataclass(frozen=True)
class Row:
    """One thing measured beside its floor in the same run; `limit` is the most (with `least`, the least) that the ratio may be."""

    what: str
    floor: str
    ours: str
    ratio: float | None = None
    limit: float | None = None
    least: bool = False

    @property
    def passed(self) -> bool:
        """Whether the limit is kept; True where there is none."""
        if self.ratio is None or self.limit is None:
            return True
        return self.ratio >= self.limit if self.least else self.ratio <= self.limit

    @property
    def cells(self) -> tuple[str, str, str, str, str]:
        """As it stands in the table."""
        ratio = "" if self.ratio is None else f"{self.ratio:.3g}"
        sign = "≥" if self.least else "≤"
        limit = "" if self.limit is None else f"{sign} {self.limit:g}{'' if self.passed else ' (missed)'}"
        return self.what, self.floor, self.ours, ratio, limit


HEAD = ("measured", "floor", "guidebuild", "ratio", "limit")


def as_markdown(rows: Iterable[Row]) -> str:
    """The table as it stands in the README."""
    lines = [HEAD, ("---", "---", "---", "--:", "--:"), *(row.cells for row in rows)]
    return "\n".join(f"| {' | '.join(cells)} |" for cells in lines)


def as_installed() -> dict[str, str]:
    """The environment of who installed the tool: Python keeps what it has compiled, as it does of the floor's libraries."""
    return {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}


def told(rows: Callable[[], Iterator[Row]]) -> int:
    """Print the rows of one benchmark as they come; 1 where a limit is missed."""
    missed = 0
    for row in rows():
        print("  ".join(cell for cell in row.cells if cell), flush=True)
        missed |= not row.passed
    return missed
