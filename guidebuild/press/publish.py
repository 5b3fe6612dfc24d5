"""Publishing: the guide's views through the press into `published/`, all of it or nothing."""

from __future__ import annotations

import datetime as dt
import logging
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache
from importlib import import_module
from pathlib import Path

from guidebuild.errors import SaidInOneLineError
from guidebuild.fieldwork.leaks import Secrets, secrets_of
from guidebuild.guide.findings import Level
from guidebuild.guide.guide import Guide
from guidebuild.press.engine.crew import Crew, cores, import_ahead
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import Job, Progress, run_jobs
from guidebuild.press.engine.problem_codes import PROBLEM_CODES
from guidebuild.press.engine.problems import NameRefusedError, PressError, Problem, told_once
from guidebuild.press.engine.staging import WORKSHOP, Outcome, Staging
from guidebuild.press.engine.store import Made, Store
from guidebuild.press.engine.unchanged import Checked, LastRun, Told, last_run, tree_digest
from guidebuild.press.leak_scan import file_leaks
from guidebuild.press.run import Run, look_of
from guidebuild.press.theme.sandbox import ThemeError
from guidebuild.shipped import content, on_disk
from guidebuild.views.posts.codes import POST_CODES


def _module(output: str) -> str:
    return f"guidebuild.press.outputs.{output}.output"


def _when_asked(output: str) -> Callable[[Run], None]:
    """An output whose module is imported when it is made: the PDF libraries alone take a second, and are not always needed."""

    def make(run: Run) -> None:
        getattr(import_module(_module(output)), f"publish_{output}")(run)

    return make


OUTPUTS: tuple[tuple[str, Callable[[Run], None]], ...] = tuple(
    (name, _when_asked(name)) for name in ("site", "cards", "scripts", "posts", "walks", "data")
)
"""What can be published, in this order. To add one: `publish_<name>(run)` in `outputs/<name>/output.py`, and its name here."""


_LOG = logging.getLogger(__name__)
_SCAN = "guidebuild.press.publish:look_through"
_LOOKED_FOR = "secrets-looked-for"
_FEW_ACCOUNTS = 10
"""What so many take is done before helpers have begun."""

MILD = frozenset(code.code for code in (*PROBLEM_CODES, *POST_CODES) if code.level is not Level.ERROR)
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
    """How to publish: which outputs (none named: all), how many worker processes, cards for bright sun, and into which folder."""

    outputs: tuple[str, ...] = ()
    workers: int | None = None
    high_contrast: bool = False
    place: Path | None = None
    begun: int | None = None
    """When the guide began to be read, in nanoseconds since 1970; what a run that knows it made can be known again."""
    checked: Checked = field(default_factory=Checked)
    """What the checks said, for a later run that finds nothing changed."""


def expect_much(folder: Path, wishes: Wishes) -> None:
    """Where much is to be made, as nothing was published yet, begin what the helpers import while the guide is still being read."""
    helpers, fresh = (wishes.workers or cores()) > 1, not (wishes.place or folder / "published").exists()
    if helpers and fresh and sum(1 for _ in (folder / "accounts").glob("*.md")) > _FEW_ACCOUNTS:
        import_ahead(map(_module, _chosen(wishes)))


def publish(folder: Path, guide: Guide, *, today: dt.date, progress: Progress, wishes: Wishes | None = None) -> Published:
    """Publish a guide into `folder/published` (or where it is wished); what was there stays until everything new stands beside it.

    Raises `PressError`, with one line for the author, where the disk refuses or another run is at work.
    """
    asked = wishes or Wishes()
    chosen = _chosen(asked)
    store = Store(folder / WORKSHOP / "store")
    with Staging(asked.place or folder / "published") as staging, Crew(asked.workers, map(_module, chosen)) as crew:
        run = Run(folder, guide, today, staging, store, progress, crew, asked.high_contrast)
        last = _last_run(run.theme, folder, staging, today, asked)
        for name, make in OUTPUTS:
            if name in chosen:
                _made(run, name, make)
            else:
                staging.keep_below(name)
        leaks = find_leaks(run)
        outcome = None if leaks else staging.publish()
        run.close()
    # What could not be made may be at the next try: such a run is not one to stand by.
    if outcome and not any(problem.what == "failed" for problem in run.problems):
        last.remember(Told(tuple(run.problems), asked.checked))
    else:
        last.forget()
    hindrance = [Problem("store", WORKSHOP, store.hindrance)] if store.hindrance else []
    return Published(outcome, (*told_once(run.problems), *hindrance), leaks)


def as_it_stands(folder: Path, *, today: dt.date, wishes: Wishes) -> tuple[Published, Checked] | None:
    """What the last run published and told, where nothing that it depended on has changed since; else None.

    Nothing of the guide is read for it. Raises `PressError` as `publish` does.
    """
    with Staging(wishes.place or folder / "published") as staging:
        told = _last_run(look_of(folder), folder, staging, today, wishes).told() if staging.is_intact() else None
        if told is None:
            return None
        for name, _ in OUTPUTS:
            staging.keep_below(name)
        return Published(staging.publish(), told.problems), told.checked


def _last_run(look: str, folder: Path, staging: Staging, today: dt.date, wishes: Wishes) -> LastRun:
    return last_run(folder, staging.place, wishes.begun, look, _shipped_digest(), today, _chosen(wishes), wishes.high_contrast)


def _chosen(wishes: Wishes) -> tuple[str, ...]:
    return wishes.outputs or tuple(name for name, _ in OUTPUTS)


@cache
def _shipped_digest() -> str:
    """Digest of the shipped lists and words, by size and time."""
    return tree_digest(on_disk(content()))


def _made(run: Run, name: str, make: Callable[[Run], None]) -> None:
    """One output; whatever goes wrong in it loses that output, not the others. A disk that refuses stops the run."""
    try:
        make(run)
    except ThemeError as error:
        run.problems.append(Problem("theme", name, str(error)))
    except SaidInOneLineError as error:
        if isinstance(error, PressError) and not isinstance(error, NameRefusedError):
            raise
        run.problems.append(Problem("failed", name, str(error)))
    except Exception as error:  # the others go on
        _LOG.debug("%s", name, exc_info=True)
        run.problems.append(Problem("failed", name, f"{name} could not be made ({type(error).__name__}: {error})"))


def find_leaks(run: Run) -> tuple[Problem, ...]:
    """What must stay secret and yet stands in a file that is about to be published.

    Files kept from the last run were looked through then; they are again only where what is secret has changed since.
    """
    secrets = secrets_of(run.guide)
    state = run.folder / WORKSHOP / f"{run.staging.place.name}-{_LOOKED_FOR}"
    kept_back = [(a.id, a.sensitivity, a.places) for a in run.guide.accounts.values() if a.sensitivity]
    now = digest("secrets", list(run.guide.places.values()), kept_back, run.theme)
    staging = run.staging
    files = [(path, staging.built / path) for path in staging.added_paths()]
    if not _same(state, now):
        files += [(path, staging.place / path) for path in staging.kept_paths()]
    jobs = (Job(digest("leak", path, now), "leak", _SCAN, (path, file, secrets), path, cost=3.0) for path, file in files)
    leaks = tuple(p for result in run_jobs(jobs, _Forgetful(), run.crew, run.progress) for p in result.made.problems)
    if not leaks:
        with suppress(OSError):  # without it the next run looks through everything
            state.write_text(now, encoding="utf-8")
    return leaks


class _Forgetful(Store):
    """Keeps nothing: a file that was looked through once is not made again, only looked through."""

    def __init__(self) -> None:
        super().__init__(Path(), 0)

    def get(self, key: str) -> Made | None:
        """Nothing."""
        return None

    def put(self, key: str, made: Made) -> None:
        """Forget it."""


def look_through(work: tuple[str, Path, Secrets]) -> Made:
    """The leaks of one file, as a job."""
    name, file, secrets = work
    return Made((), tuple(file_leaks(name, file.read_bytes(), secrets)))


def _same(state: Path, now: str) -> bool:
    try:
        return state.read_text(encoding="utf-8") == now
    except OSError:
        return False
