"""Pieces of work that can be done in any process, and doing them: quickly, in order, and whatever goes wrong in one.

A job names its function by import path, so that a fresh worker process can find it; what it makes is kept in the store
under the job's key and made only when it is not there.
"""

from __future__ import annotations

import logging
import multiprocessing
import os
import signal
from collections import Counter, deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass
from functools import cache
from importlib import import_module
from multiprocessing.context import BaseContext
from threading import Thread
from typing import Protocol

from guidebuild.errors import SaidInOneLineError
from guidebuild.press.problems import Problem
from guidebuild.press.store import Made, Store

_LOG = logging.getLogger(__name__)
# A batch is worth some tens of milliseconds: much more than sending it costs, much less than a run.
_BATCH_COST = 60.0
_BATCHES_WAITING = 3
# Milliseconds of work below which starting processes takes longer than it saves.
_WORTH_A_POOL = 1500.0


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


def run_jobs(jobs: Iterable[Job], store: Store, *, workers: int | None = None, progress: Progress | None = None) -> Iterator[Result]:
    """Results in the order of the jobs, each as soon as it and all before it are there.

    Without `workers`, one process for each core this process may use; with one, or with too little to do to be worth the
    start of processes, everything happens in this process.
    """
    wanted = list(jobs)
    if progress is not None:
        for kind, number in Counter(job.kind for job in wanted).items():
            progress.expect(kind, number)
    missing = [job for job in wanted if not store.has(job.key)]
    count = workers or cores()
    if count > 1 and sum(job.cost for job in missing) >= _WORTH_A_POOL:
        results = _in_pool(wanted, store, frozenset(job.key for job in missing), _Pool(count, missing))
    else:
        results = (_stored(job, store) or _done(job) for job in wanted)
    for result in results:
        if not result.from_store and not result.failed:
            store.put(result.job.key, result.made)
        if progress is not None:
            progress.advance(result.job.kind)
        yield result


def cores() -> int:
    """Cores that this process may use, at least one."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def _in_pool(jobs: list[Job], store: Store, missing: frozenset[str], pool: _Pool) -> Iterator[Result]:
    """Keeps the pool busy a few batches ahead of the result that is wanted next."""
    waiting: deque[_Batch | Job] = deque()
    batches_out = 0
    try:
        for item in _batched(jobs, missing):
            batches_out += isinstance(item, tuple)
            waiting.append(_Batch(item, pool) if isinstance(item, tuple) else item)
            while batches_out > pool.workers * _BATCHES_WAITING or isinstance(waiting[0], Job):
                first = waiting.popleft()
                batches_out -= isinstance(first, _Batch)
                yield from _collected(first, store)
                if not waiting:
                    break
        for rest in waiting:
            yield from _collected(rest, store)
    finally:
        pool.stop()


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


def _collected(item: _Batch | Job, store: Store) -> Sequence[Result]:
    return (_stored(item, store) or _done(item),) if isinstance(item, Job) else item.results()


def _stored(job: Job, store: Store) -> Result | None:
    made = store.get(job.key)
    return None if made is None else Result(job, made, from_store=True)


def _done(job: Job) -> Result:
    return _result(job, _work(((job.function, job.payload),))[0])


def _result(job: Job, given: Made | str) -> Result:
    return _failed(job, given) if isinstance(given, str) else Result(job, given)


def _failed(job: Job, reason: str) -> Result:
    return Result(job, Made((), (Problem("failed", job.where, f"the {job.kind} could not be made ({reason})"),)), failed=True)


@cache
def _function(path: str) -> Callable[[object], Made]:
    module, _, name = path.partition(":")
    found: Callable[[object], Made] = getattr(import_module(module), name)
    return found


# What worker processes run.


def _prepare_worker() -> None:
    # Ctrl-C reaches the whole group; only the parent answers it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_the_parent, daemon=True).start()


def _end_with_the_parent() -> None:
    """A worker waits for work for ever: it holds both ends of its queue, so nothing tells it that a killed parent sends no more."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


def _work(work: tuple[tuple[str, object], ...]) -> list[Made | str]:
    """What each piece gave, or the reason why not; job keys and names stay behind to keep messages small."""
    results: list[Made | str] = []
    for function, payload in work:
        try:
            results.append(_function(function)(payload))
        except Exception as error:  # whatever one job raises, the others go on
            _LOG.debug("%s", function, exc_info=True)
            results.append(str(error) if isinstance(error, SaidInOneLineError) else f"{type(error).__name__}: {error}")
    return results


class _Pool:
    """Worker processes that are replaced when one of them dies."""

    def __init__(self, workers: int, jobs: Iterable[Job]) -> None:
        self.workers = workers
        self.broken_before = 0
        self._executor: ProcessPoolExecutor | None = None
        modules = {job.function.partition(":")[0] for job in jobs}
        # Imported once for all workers.  Only our own: the server's path is not this process's, others might be the wrong ones.
        self._modules = sorted(name for name in modules if name.startswith("guidebuild."))

    def submit(self, jobs: Iterable[Job]) -> Future[list[Made | str]]:
        if self._executor is None:
            self._executor = ProcessPoolExecutor(self.workers, mp_context=self._context(), initializer=_prepare_worker)
        try:
            return self._executor.submit(_work, tuple((job.function, job.payload) for job in jobs))
        except BrokenProcessPool as error:
            failed: Future[list[Made | str]] = Future()
            failed.set_exception(error)
            return failed

    def renew(self, broken_before: int) -> None:
        """Drop a broken pool, once for each time it broke."""
        if broken_before == self.broken_before:
            self.stop()
            self.broken_before += 1

    def stop(self) -> None:
        if self._executor is not None:
            self._executor.shutdown(wait=True, cancel_futures=True)
            self._executor = None

    def _context(self) -> BaseContext:
        # Never `fork`: threads of this process (progress, preview) would leave their locks held in the copies.
        if "forkserver" not in multiprocessing.get_all_start_methods():
            return multiprocessing.get_context("spawn")
        context = multiprocessing.get_context("forkserver")
        context.set_forkserver_preload(self._modules)
        return context


class _Batch:
    """Jobs on their way through a pool."""

    def __init__(self, jobs: tuple[Job, ...], pool: _Pool) -> None:
        self._jobs = jobs
        self._pool = pool
        self._broken_before = pool.broken_before
        self._future = pool.submit(jobs)

    def results(self) -> list[Result]:
        """One result a job; when a worker died meanwhile, the batch is tried alone, and then job by job, to find what did it."""
        given = _given(self._future)
        if given is None:
            self._pool.renew(self._broken_before)
            given = _alone(self._jobs)
        if given is None:
            dead = "the process that made it ended without a word, perhaps for want of memory"
            given = [one for job in self._jobs for one in _alone((job,)) or [dead]]
        return [_result(job, one) for job, one in zip(self._jobs, given, strict=True)]


def _given(future: Future[list[Made | str]]) -> list[Made | str] | None:
    try:
        return future.result()
    except (BrokenProcessPool, CancelledError):
        return None


def _alone(jobs: tuple[Job, ...]) -> list[Made | str] | None:
    pool = _Pool(1, jobs)
    try:
        return _given(pool.submit(jobs))
    finally:
        pool.stop()
