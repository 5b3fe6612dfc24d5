"""Pieces of work that can be done in any process, and doing them: quickly, in order, and whatever goes wrong in one.

A job names its function by import path, so that a fresh worker process can find it; what it makes is kept in the store
under the job's key and made only when it is not there.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Protocol

from guidebuild.press.engine.crew import Batch, Crew, do
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.store import Made, Store

# A batch is worth some tens of milliseconds: much more than sending it costs, much less than a run.
_BATCH_COST = 60.0
_BATCHES_WAITING = 3
# Milliseconds of work below which starting processes, or sending work to those that run, takes longer than it saves.
_WORTH_A_START = 1500.0
_WORTH_SENDING = 100.0


@dataclass(frozen=True, slots=True)
class Job:
    """One thing to make."""

    key: str
    """Digest of everything that the result depends on."""
    kind: str
    """What it is, for progress: `page`, `card`, `picture`."""
    function: str
    """Import path `package.module:name` of a function from the payload to `Made`."""
    payload: object
    """What the function needs; must be picklable."""
    where: str
    """What the author would call it, for problems."""
    cost: float = 5.0
    """Roughly how many milliseconds it takes; cheap jobs are sent in batches."""


@dataclass(frozen=True, slots=True)
class Result:
    """What became of a job."""

    job: Job
    made: Made
    from_store: bool = False
    failed: bool = False
    """The function raised or its process died; the one problem says so, and there are no parts."""


class Progress(Protocol):
    """Who is told that work goes on."""

    def expect(self, kind: str, count: int) -> None:
        """So many more of this kind are to be done."""

    def advance(self, kind: str, count: int = 1) -> None:
        """So many more of this kind are done."""


def run_jobs(jobs: Iterable[Job], store: Store, crew: Crew, progress: Progress | None = None) -> Iterator[Result]:
    """Results in the order of the jobs, each as soon as it and all before it are there.

    With a crew of one, or with too little to do to be worth its start, everything happens in this process.
    """
    wanted = list(jobs)
    if progress is not None:
        for kind, number in Counter(job.kind for job in wanted).items():
            progress.expect(kind, number)
    missing = [job for job in wanted if not store.has(job.key)]
    if _is_worth_it(missing, crew):
        crew.expect(job.function for job in missing)
        results = _by_crew(wanted, store, frozenset(job.key for job in missing), crew)
    else:
        results = (_stored(job, store) or _done(job) for job in wanted)
    for result in results:
        if not result.from_store and not result.failed:
            store.put(result.job.key, result.made)
        if progress is not None:
            progress.advance(result.job.kind)
        yield result


def begin(job: Job, crew: Crew) -> Callable[[], Result]:
    """Begin one job beside whatever this process does next; its result is kept in no store.

    Where no helper is at work yet it is done when the result is asked for.
    """
    if not crew.at_work:
        return lambda: _done(job)
    batch = Batch(((job.function, job.payload),), crew)
    return lambda: _result(job, batch.given()[0])


def _is_worth_it(missing: list[Job], crew: Crew) -> bool:
    least = _WORTH_SENDING if crew.at_work else _WORTH_A_START
    return crew.workers > 1 and len(missing) > 1 and sum(job.cost for job in missing) >= least


@dataclass(frozen=True, slots=True)
class _Sent:
    """Jobs and the batch they travel in."""

    jobs: tuple[Job, ...]
    batch: Batch

    def results(self) -> Iterator[Result]:
        """One result a job."""
        return (_result(job, one) for job, one in zip(self.jobs, self.batch.given(), strict=True))


def _by_crew(jobs: list[Job], store: Store, missing: frozenset[str], crew: Crew) -> Iterator[Result]:
    """Keeps the crew busy a few batches ahead of the result that is wanted next."""
    waiting: deque[_Sent | Job] = deque()
    sent = 0
    try:
        for item in _batched(jobs, missing):
            if isinstance(item, Job):
                waiting.append(item)
            else:
                waiting.append(_Sent(item, Batch(tuple((job.function, job.payload) for job in item), crew)))
                sent += 1
            while waiting and (sent > crew.workers * _BATCHES_WAITING or isinstance(waiting[0], Job)):
                first = waiting.popleft()
                sent -= isinstance(first, _Sent)
                yield from _collected(first, store)
        while waiting:
            yield from _collected(waiting.popleft(), store)
    finally:
        for rest in waiting:
            if isinstance(rest, _Sent):
                rest.batch.drop()


def _batched(jobs: list[Job], missing: frozenset[str]) -> Iterator[tuple[Job, ...] | Job]:
    """Missing jobs in batches of some cost; each job that is in the store, or asked for a second time, by itself."""
    sent: set[str] = set()
    pending: list[Job] = []
    cost = 0.0
    for job in jobs:
        to_make = job.key in missing and job.key not in sent
        if to_make:
            sent.add(job.key)
            pending.append(job)
            cost += job.cost
        if pending and (cost >= _BATCH_COST or not to_make):
            yield tuple(pending)
            pending, cost = [], 0.0
        if not to_make:
            yield job
    if pending:
        yield tuple(pending)


def _collected(item: _Sent | Job, store: Store) -> Iterator[Result]:
    if isinstance(item, Job):
        yield _stored(item, store) or _done(item)
    else:
        yield from item.results()


def _stored(job: Job, store: Store) -> Result | None:
    made = store.get(job.key)
    return None if made is None else Result(job, made, from_store=True)


def _done(job: Job) -> Result:
    return _result(job, do(((job.function, job.payload),))[0])


def _result(job: Job, given: Made | str) -> Result:
    return _failed(job, given) if isinstance(given, str) else Result(job, given)


def _failed(job: Job, reason: str) -> Result:
    return Result(job, Made((), (Problem("failed", job.where, f"the {job.kind} could not be made ({reason})"),)), failed=True)
