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


@dataclass(frozen=True, slots=True)
class Published:
    """What a run gave. `outcome` is None where nothing was put in place, because of a leak."""

    outcome: Outcome | None
    problems: tuple[Problem, ...]
    leaks: tuple[Problem, ...] = ()


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
                make(run)
            else:
                staging.keep_below(name)
        leaks = find_leaks(run)
        outcome = None if leaks else staging.publish()
        run.close()
    hindrance = [Problem("store", WORKSHOP, store.hindrance)] if store.hindrance else []
    return Published(outcome, (*run.problems, *hindrance), leaks)


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
