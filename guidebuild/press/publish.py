"""Publishing: the guide's views through the press into `published/`, all of it or nothing."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

from guidebuild.guide.guide import Guide
from guidebuild.press.jobs import Progress
from guidebuild.press.leak_scan import scan
from guidebuild.press.out_cards import publish_cards
from guidebuild.press.out_data import publish_data
from guidebuild.press.out_posts import publish_posts
from guidebuild.press.out_scripts import publish_scripts
from guidebuild.press.out_site import publish_site
from guidebuild.press.problems import Problem
from guidebuild.press.run import Run
from guidebuild.press.sandbox import ThemeError
from guidebuild.press.staging import WORKSHOP, Outcome, Staging
from guidebuild.press.store import Store

OUTPUTS: tuple[tuple[str, Callable[[Run], None]], ...] = (
    ("site", publish_site),
    ("cards", publish_cards),
    ("scripts", publish_scripts),
    ("posts", publish_posts),
    ("data", publish_data),
)
"""What can be published, in this order. To add one: a module `out_<name>.py` with one function of a Run, and a line here."""


MILD = frozenset(
    {"crop", "soft-print", "left-out", "store", "photo-not-cut", "episode-over-slot", "episode-under-slot", "no-address"}
)
"""Problems that are told but do not fail a run: everything asked for was made."""


@dataclass(frozen=True, slots=True)
class Published:
    """What a run gave. `outcome` is None where nothing was put in place, because of a leak."""

    outcome: Outcome | None
    problems: tuple[Problem, ...]
    leaks: tuple[Problem, ...] = ()

    @property
    def failed(self) -> bool:
        """Whether anything asked for could not be made, or would have given a secret away."""
        return bool(self.leaks) or any(problem.what not in MILD for problem in self.problems)


@dataclass(frozen=True, slots=True)
class Wishes:
    """How to publish: which outputs (none named: all), how many worker processes, and cards for bright sun."""

    outputs: tuple[str, ...] = ()
    workers: int | None = None
    high_contrast: bool = False


def publish(folder: Path, guide: Guide, *, today: dt.date, progress: Progress, wishes: Wishes | None = None) -> Published:
    """Publish a guide into `folder/published`; what was there stays until everything new stands beside it.

    Raises `PressError`, with one line for the author, where the disk refuses or another run is at work.
    """
    asked = wishes or Wishes()
    chosen = asked.outputs or tuple(name for name, _ in OUTPUTS)
    store = Store(folder / WORKSHOP / "store")
    with Staging(folder / "published") as staging:
        run = Run(folder, guide, today, staging, store, progress, asked.workers, asked.high_contrast)
        for name, make in OUTPUTS:
            if name in chosen:
                _made(run, name, make)
            else:
                staging.keep_below(name)
        leaks = find_leaks(run)
        outcome = None if leaks else staging.publish()
        run.close()
    hindrance = [Problem("store", WORKSHOP, store.hindrance)] if store.hindrance else []
    return Published(outcome, (*run.problems, *hindrance), leaks)


def _made(run: Run, name: str, make: Callable[[Run], None]) -> None:
    """One output; a template that cannot be filled in loses that output, not the others."""
    try:
        make(run)
    except ThemeError as error:
        run.problems.append(Problem("theme", name, str(error)))


def find_leaks(run: Run) -> tuple[Problem, ...]:
    """What must stay secret and yet stands in a file that is about to be published."""
    staging = run.staging
    files = [(path, staging.built / path) for path in staging.added_paths()]
    files += [(path, staging.place / path) for path in staging.kept_paths()]
    return tuple(scan(run.guide, files))


def output_names(asked: Sequence[str]) -> tuple[str, ...]:
    """Known outputs among the asked; raises ValueError naming the first that is not known."""
    known = [name for name, _ in OUTPUTS]
    for name in asked:
        if name not in known:
            raise ValueError(f"There is no output “{name}”. Known: {', '.join(known)}.")
    return tuple(name for name in known if name in asked)
