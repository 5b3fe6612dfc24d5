"""Making the files of one output: what stands already is kept, the rest is made and put in place."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import TypeVar

from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import AnyJob, Craft, Job, Result
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.workbench import Workbench

P = TypeVar("P")


@dataclass(frozen=True, slots=True)
class Piece:
    """A job and where its parts are published, in the order of its parts; a part with an empty path is not published."""

    job: AnyJob
    paths: tuple[str, ...]


class Maker:
    """Has pieces made for one output."""

    def __init__(self, workbench: Workbench, files: Files) -> None:
        self._workbench = workbench
        self._files = files
        self._failed: set[str] = set()

    def job(self, craft: Craft, function: Callable[[P], Made], payload: P, *, where: str) -> Job[P]:
        """A job whose key depends on all its payload, see `Workbench`."""
        return self._workbench.job(craft, function, payload, where=where)

    def key(self, by: Callable[..., object], payload: object) -> str:
        """A key for a file that a function or class puts together here, of what other pieces gave."""
        return self._workbench.key(by, payload)

    def make(self, pieces: Iterable[Piece]) -> None:
        """Make and publish what does not stand already."""
        deque(self.make_each(pieces), maxlen=0)

    def make_each(self, pieces: Iterable[Piece]) -> Iterator[Result]:
        """The same, one by one; what is kept from the last run gives no result."""
        bench = self._workbench
        waiting: dict[str, list[tuple[str, ...]]] = {}  # two pieces may be the same job: one picture of two accounts

        def missing() -> Iterator[AnyJob]:
            for piece in pieces:
                key = piece.job.key
                if self._files.keep(filter(None, piece.paths), key):
                    bench.problems.tell(*bench.kept_problems.recall(key))
                    bench.progress.advance(piece.job.craft)
                elif key in waiting:
                    waiting[key].append(piece.paths)
                else:
                    waiting[key] = [piece.paths]
                    yield piece.job

        for result in bench.do(missing()):
            self._publish(result, waiting.pop(result.job.key))
            yield result

    def ask(self, jobs: Iterable[AnyJob]) -> Iterator[Made]:
        """What each job gave, from the store or made now."""
        for result in self._workbench.do(jobs):
            self._workbench.problems.tell(*result.made.problems)
            yield result.made

    def begin(self, job: AnyJob) -> Callable[[], Made]:
        """Begin a job beside what this process does next; what is answered waits for it."""
        return self._workbench.begin(job)

    def all_made(self, pieces: Iterable[Piece]) -> bool:
        """Whether none of these failed: a file that lacks what one should have given is no file to keep."""
        return self._failed.isdisjoint(piece.job.key for piece in pieces)

    def _publish(self, result: Result, places: Iterable[tuple[str, ...]]) -> None:
        key = result.job.key
        if result.failed:
            self._failed.add(key)
        self._workbench.problems.tell(*result.made.problems)
        self._workbench.kept_problems.remember(key, result.made.problems)
        for paths in places:
            for path, part in zip(paths, result.made.parts, strict=False):
                if path:
                    self._files.add(path, part, key=key, where=result.job.where)
