"""Looking through everything that is about to be published, by all helpers at once."""

from __future__ import annotations

from contextlib import suppress
from pathlib import Path

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import Craft, Job, Progress, run_jobs
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.staging import WORKSHOP, Staging
from guidebuild.press.engine.store import NoStore

with imported_when_used():  # opens PDFs, with libraries that a run which changes nothing has no use for
    from guidebuild.press import leak_scan

LOOK = Craft("file looked through", "files looked through", cost=3.0)
_LOOKED_FOR = "secrets-looked-for"


def find_leaks(  # noqa: PLR0913, PLR0917 - what is looked through, for what, and by whom
    guide: Guide, folder: Path, look: str, staging: Staging, crew: Crew, progress: Progress
) -> tuple[Problem, ...]:
    """What must stay secret and yet stands in a file that is about to be published.

    Files kept from the last run were looked through then; they are again only where what is secret, or the tool, has changed.
    `look` is the digest of tool and theme.
    """
    secrets = secrets_of(guide)
    state = folder / WORKSHOP / f"{staging.place.name}-{_LOOKED_FOR}"
    kept_back = [(a.id, a.sensitivity, a.places) for a in guide.accounts.values() if a.sensitivity]
    now = digest("secrets", list(guide.places.values()), kept_back, look)
    paths = [*staging.added_paths(), *(() if _is_same(state, now) else staging.kept_paths())]
    jobs = (Job(LOOK, leak_scan.look_through, leak_scan.LeakWork(path, staging.standing(path), secrets), path, path) for path in paths)
    leaks = tuple(problem for result in run_jobs(jobs, NoStore(), crew, progress) for problem in result.made.problems)
    if not leaks:
        with suppress(OSError):  # without it the next run looks through everything
            state.write_text(now, encoding="utf-8")
    return leaks


def _is_same(state: Path, now: str) -> bool:
    try:
        return state.read_text(encoding="utf-8") == now
    except OSError:
        return False
