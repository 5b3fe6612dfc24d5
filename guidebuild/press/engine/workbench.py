"""Where the jobs of a whole run are done: one store, one crew, one place for problems."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from pathlib import Path
from typing import TypeVar

from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import Digester, digest_folder
from guidebuild.press.engine.jobs import AnyJob, Craft, Job, Progress, Result, begin_job, run_jobs
from guidebuild.press.engine.kept_problems import KeptProblems
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problems
from guidebuild.press.engine.store import Store
from guidebuild.press.engine.toolchain import digest_tools

P = TypeVar("P")


class Workbench:
    """Does jobs, each once: what was made before comes from the store.

    A job's key is a digest of its function, of all its payload and of the tools that the function uses. A file in a payload
    counts by its content, a folder by the contents of all its files; so nothing that a job is given can change without it being
    made again.
    """

    def __init__(self, store: Store, crew: Crew, progress: Progress, problems: Problems, kept_problems: KeptProblems) -> None:
        self.store = store
        self.progress = progress
        self.problems = problems
        self.kept_problems = kept_problems
        self._crew = crew
        self._folders: dict[Path, str] = {}
        self._digester = Digester(self._read_path)

    def job(self, craft: Craft, function: Callable[[P], Made], payload: P, *, where: str) -> Job[P]:
        """A job with its key; raises `OSError` where a file of its payload cannot be read."""
        return Job(craft, function, payload, where, self.key(function, payload))

    def key(self, by: Callable[..., object], payload: object) -> str:
        """A key for what a function or class makes of a payload."""
        return self._digester.digest(f"{by.__module__}:{by.__qualname__}", payload, digest_tools(by.__module__))

    def do(self, jobs: Iterable[AnyJob]) -> Iterator[Result]:
        """What each job gave, from the store or made now."""
        return run_jobs(jobs, self.store, self._crew, self.progress)

    def begin(self, job: AnyJob) -> Callable[[], Made]:
        """Begin a job that is kept in no store beside what this process does next; what is answered waits for it."""
        result = begin_job(job, self._crew)

        def wait() -> Made:
            made = result().made
            self.problems.tell(*made.problems)
            return made

        return wait

    def close(self) -> None:
        """Write down what the next run wants to know."""
        self.store.close()
        self.kept_problems.write()

    def _read_path(self, path: Path) -> str:
        if not path.is_dir():
            return self.store.original_digest(path)
        if path not in self._folders:
            self._folders[path] = digest_folder(path)
        return self._folders[path]
