"""Pieces of work that can be done in any process, and doing them: quickly, in order, and whatever goes wrong in one.

A job's function is one of a module's own, so that a worker process can find it; what it makes is kept in the store under the
job's key and made only when it is not there.
"""

from __future__ import annotations

from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Generic, Protocol, TypeAlias, TypeVar

from guidebuild.press.engine.crew import Batch, Crew, Task, do_work
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.store import Store

# A batch is worth some tens of milliseconds: much more than sending it costs, much less than a run.
_BATCH_COST = 60.0
_BATCHES_WAITING = 3
# Milliseconds of work below which starting processes, or sending work to those that run, takes longer than it saves.
_WORTH_A_START = 1500.0
_WORTH_SENDING = 100.0


P = TypeVar("P")


@dataclass(frozen=True, slots=True)
class Craft:
    """A kind of work, declared beside the output that asks for it."""

    name: str
    """What one piece of it gives, for problems: `page`, `card`, `picture`."""
    plural: str
    """What several give, for progress."""
    cost: float = 5.0
    """Roughly how many milliseconds a piece takes; cheap ones travel to the workers in batches."""
    seconds: float = 60.0
    """What a piece may take of the processor's time where a guide has templates of its own; with ours ten times as much."""


@dataclass(frozen=True, slots=True)
class Job(Generic[P]):
    """One thing to make."""

    craft: Craft
    function: Callable[[P], Made]
    """Makes it; a function of a module, which a worker process imports by its name."""
    payload: P
    """All that the function needs; must be picklable."""
    where: str
    """What the author would call it, for problems."""
    key: str
    """Digest of everything that the result depends on."""


AnyJob: TypeAlias = "Job[Any]"
"""A job of whatever payload."""


@dataclass(frozen=True, slots=True)
class Result:
    """What became of a job."""

    job: AnyJob
    made: Made
    from_store: bool = False
    failed: bool = False
    """The function raised or its process died; the one problem says so, and there are no parts."""


class Progress(Protocol):
    """Who is told that work goes on."""

    def foresee(self, shares: Sequence[float]) -> None:
        """What the parts of the run that come take, compared with each other."""

    def begin_part(self) -> None:
        """The next of these parts begins; the one before it has ended."""

    def expect(self, craft: Craft, count: int) -> None:
        """So many more pieces of this craft are to be done."""

    def advance(self, craft: Craft, count: int = 1) -> None:
        """So many more pieces of this craft are done."""


def run_jobs(jobs: Iterable[AnyJob], store: Store, crew: Crew, progress: Progress | None = None) -> Iterator[Result]:
    """Results in the order of the jobs, each as soon as it and all before it are there.

    With a crew of one, or with too little to do to be worth its start, everything happens in this process, unless the crew is
    confined.
    """
    wanted = list(jobs)
    if progress is not None:
        for craft, number in Counter(job.craft for job in wanted).items():
            progress.expect(craft, number)
    missing = [job for job in wanted if not store.has(job.key)]
    if _is_worth_it(missing, crew):
        crew.expect(job.function for job in missing)
        results = _by_crew(wanted, store, frozenset(job.key for job in missing), crew)
    else:
        results = (_stored(job, store) or _done(job, crew) for job in wanted)
    for result in results:
        if not result.from_store and not result.failed:
            store.put(result.job.key, result.made)
        if progress is not None:
            progress.advance(result.job.craft)
        yield result


def begin_job(job: AnyJob, crew: Crew) -> Callable[[], Result]:
    """Begin one job beside whatever this process does next; its result is kept in no store.

    Where no helper is at work yet it is done when the result is asked for.
    """
    if not (crew.at_work or crew.confined):
        return lambda: _done(job, crew)
    batch = Batch((_task(job),), crew)
    return lambda: _result(job, batch.given()[0])


def _is_worth_it(missing: list[AnyJob], crew: Crew) -> bool:
    if crew.confined:
        return bool(missing)
    least = _WORTH_SENDING if crew.at_work else _WORTH_A_START
    return crew.workers > 1 and len(missing) > 1 and sum(job.craft.cost for job in missing) >= least


@dataclass(frozen=True, slots=True)
class _Sent:
    """Jobs and the batch they travel in."""

    jobs: tuple[AnyJob, ...]
    batch: Batch

    def results(self) -> Iterator[Result]:
        """One result a job."""
        return (_result(job, one) for job, one in zip(self.jobs, self.batch.given(), strict=True))


def _by_crew(jobs: list[AnyJob], store: Store, missing: frozenset[str], crew: Crew) -> Iterator[Result]:
    """Keeps the crew busy a few batches ahead of the result that is wanted next."""
    waiting: deque[_Sent | AnyJob] = deque()
    sent = 0
    try:
        for item in _batched(jobs, missing):
            if isinstance(item, Job):
                waiting.append(item)
            else:
                waiting.append(_Sent(item, Batch(tuple(map(_task, item)), crew)))
                sent += 1
            while waiting and (sent > crew.workers * _BATCHES_WAITING or isinstance(waiting[0], Job)):
                first = waiting.popleft()
                sent -= isinstance(first, _Sent)
                yield from _collected(first, store, crew)
        while waiting:
            yield from _collected(waiting.popleft(), store, crew)
    finally:
        for rest in waiting:
            if isinstance(rest, _Sent):
                rest.batch.drop()


def _batched(jobs: list[AnyJob], missing: frozenset[str]) -> Iterator[tuple[AnyJob, ...] | AnyJob]:
    """Missing jobs in batches of some cost; each job that is in the store, or asked for a second time, by itself."""
    sent: set[str] = set()
    pending: list[AnyJob] = []
    cost = 0.0
    for job in jobs:
        to_make = job.key in missing and job.key not in sent
        if to_make:
            sent.add(job.key)
            pending.append(job)
            cost += job.craft.cost
        if pending and (cost >= _BATCH_COST or not to_make):
            yield tuple(pending)
            pending, cost = [], 0.0
        if not to_make:
            yield job
    if pending:
        yield tuple(pending)


def _collected(item: _Sent | AnyJob, store: Store, crew: Crew) -> Iterator[Result]:
    if isinstance(item, Job):
        yield _stored(item, store) or _done(item, crew)
    else:
        yield from item.results()


def _stored(job: AnyJob, store: Store) -> Result | None:
    made = store.get(job.key)
    return None if made is None else Result(job, made, from_store=True)


def _done(job: AnyJob, crew: Crew) -> Result:
    """Done at once: in this process, or by a confined crew where that is so."""
    work = (_task(job),)
    return _result(job, (Batch(work, crew).given() if crew.confined else do_work(work))[0])


def _task(job: AnyJob) -> Task:
    return Task(job.function, job.payload, job.craft.seconds)


def _result(job: AnyJob, given: Made | str) -> Result:
    return _failed(job, given) if isinstance(given, str) else Result(job, given)


def _failed(job: AnyJob, reason: str) -> Result:
    return Result(job, Made((), (Problem("failed", job.where, f"the {job.craft.name} could not be made ({reason})"),)), failed=True)
