"""Worker processes for a whole run: started when there is enough to do, replaced when one of them dies, stopped at the end."""

from __future__ import annotations

import gc
import logging
import multiprocessing
import os
import signal
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import CancelledError, Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager, suppress
from importlib import import_module
from multiprocessing.context import BaseContext
from multiprocessing.process import BaseProcess
from threading import Thread, current_thread, main_thread
from types import FrameType, TracebackType
from typing import Any, NamedTuple, TypeAlias

from guidebuild.press.engine.bounds import OWN_THEME_PATIENCE, PATIENCE, bounded_time, confine_process, explain_end, explain_error
from guidebuild.press.engine.made import Made

_FORKSERVER = "forkserver" in multiprocessing.get_all_start_methods()
if _FORKSERVER:  # elsewhere the module need not even be one that can be imported
    from multiprocessing import forkserver

_LOG = logging.getLogger(__name__)
Function: TypeAlias = "Callable[[Any], Made]"
"""A function of a module; it travels by its name."""


class Task(NamedTuple):
    """A piece of work: a function, what it is given, and the seconds of the processor it may take by its craft."""

    function: Function
    payload: object
    seconds: float


Work: TypeAlias = tuple[Task, ...]
Given: TypeAlias = "list[Made | str]"
"""What each piece gave, or the reason why not."""


def count_cores() -> int:
    """Cores that this process may use, at least one."""
    return len(os.sched_getaffinity(0)) if hasattr(os, "sched_getaffinity") else os.cpu_count() or 1


def do_work(work: Work, patience: float = PATIENCE, *, in_a_worker: bool = False) -> Given:
    """Do pieces of work one after another; job keys and names stay behind to keep messages between processes small."""
    results: Given = []
    for function, payload, seconds in work:
        try:
            with bounded_time(seconds * patience, in_a_worker=in_a_worker):
                results.append(function(payload))
        except Exception as error:  # whatever one job raises, the others go on
            _LOG.debug("%s", function.__qualname__, exc_info=True)
            results.append(explain_error(error))
    return results


def _do_work_here(work: Work, patience: float) -> Given:
    return do_work(work, patience, in_a_worker=True)


class Crew:
    """So many processes, the same ones for all jobs of a run; use as a context."""

    def __init__(
        self, workers: int | None = None, modules: Iterable[str] = (), *, warmed: Iterable[str] = (), confined: bool = False
    ) -> None:
        """`modules` are imported once for all workers; only our own count: the path of others may not be the workers'.

        Of those in `warmed` each worker calls `warm_up()` as it starts: what it keeps of its first work can come of no copy.

        A confined crew works for templates that are not ours: all its work is done in its own processes, never in the one that
        asks for it, and they are told nothing of the machine.
        """
        self.workers = workers or count_cores()
        self.confined = confined
        self.patience = OWN_THEME_PATIENCE if confined else PATIENCE
        self.times_broken = 0
        self._modules = set(modules)
        self.warmed = tuple(warmed)
        self._executor: ProcessPoolExecutor | None = None
        self._starting: Thread | None = None

    def __enter__(self) -> Crew:
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.stop()

    @property
    def at_work(self) -> bool:
        """Whether the processes have been started already."""
        return self._executor is not None

    def expect(self, functions: Iterable[Function]) -> None:
        """Have the modules of these functions imported before the first process is started."""
        self._modules |= {function.__module__ for function in functions}

    def begin(self) -> None:
        """Have all processes start and get ready while this one goes on, before there is work: it is certain to come."""
        self._starting = Thread(target=self._start_all, args=(self._opened(),), daemon=True)
        self._starting.start()

    def _start_all(self, executor: ProcessPoolExecutor) -> None:
        # A thread, as each start waits until the server of processes has imported everything.
        with suppress(BrokenProcessPool, RuntimeError, OSError):  # the first work that is sent meets the same, and tells
            for _ in range(self.workers):
                executor.submit(_do_work_here, (), self.patience)

    def submit(self, work: Work) -> Future[Given]:
        """Send pieces of work off."""
        executor = self._opened()
        try:
            with _ctrl_c_later():  # a process half started could not be stopped
                return executor.submit(_do_work_here, work, self.patience)
        except BrokenProcessPool as error:
            failed: Future[Given] = Future()
            failed.set_exception(error)
            return failed

    def renew(self, times_broken: int) -> None:
        """Drop a broken pool, once for each time it broke."""
        if times_broken == self.times_broken:
            self.stop()
            self.times_broken += 1

    def stop(self) -> None:
        """End all processes; what waits is not begun."""
        if self._executor is not None:
            self._executor.shutdown(wait=True, cancel_futures=True)
            self._executor = None
        if self._starting is not None:
            self._starting.join()
            self._starting = None

    def _opened(self) -> ProcessPoolExecutor:
        if self._executor is None:
            prepared_by = (gc.get_threshold(), self.confined, self.warmed)
            self._executor = ProcessPoolExecutor(
                self.workers, mp_context=self._context(), initializer=_prepare_worker, initargs=prepared_by
            )
        return self._executor

    def _context(self) -> BaseContext:
        # Never `fork`: threads of this process (progress, preview) would leave their locks held in the copies.
        if not _FORKSERVER:
            return multiprocessing.get_context("spawn")
        import_ahead(self._modules)
        return multiprocessing.get_context("forkserver")


def import_ahead(modules: Iterable[str]) -> None:
    """Begin, in a process of its own, what all workers need to have imported; where that has begun already, nothing more happens."""
    if _FORKSERVER:
        multiprocessing.get_context("forkserver").set_forkserver_preload(sorted(m for m in modules if m.startswith("guidebuild.")))
        with _deaf_to_ctrl_c():
            forkserver.ensure_running()


@contextmanager
def _deaf_to_ctrl_c() -> Iterator[None]:
    """What is started meanwhile never hears Ctrl-C: the server of processes would die of it while it imports, and leave us waiting."""
    if current_thread() is not main_thread():
        yield  # only the main thread may say what signals do
        return
    former = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, former)


@contextmanager
def _ctrl_c_later() -> Iterator[None]:
    """Ctrl-C counts when the block is done."""
    former = signal.getsignal(signal.SIGINT)
    if current_thread() is not main_thread() or not callable(former):
        yield
        return
    heard: list[tuple[int, FrameType | None]] = []
    signal.signal(signal.SIGINT, lambda number, frame: heard.append((number, frame)))
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, former)
        if heard:
            former(*heard[0])


def _prepare_worker(values_before_cycles: tuple[int, int, int], confined: bool, warmed: tuple[str, ...]) -> None:
    # Ctrl-C reaches the whole group; only the parent answers it.
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    # Cycles are looked for as seldom as in the parent, and never among the modules.
    gc.set_threshold(*values_before_cycles)
    gc.freeze()
    Thread(target=_end_with_the_parent, daemon=True).start()
    if confined:
        confine_process()
    for module in warmed:
        try:
            import_module(module).warm_up()
        except Exception:  # the work itself will meet it, and tell of what
            _LOG.debug("%s", module, exc_info=True)


def _end_with_the_parent() -> None:
    """A worker waits for work for ever: it holds both ends of its queue, so nothing tells it that a killed parent sends no more."""
    parent = multiprocessing.parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)


class Batch:
    """Pieces of work on their way through a crew."""

    def __init__(self, work: Work, crew: Crew) -> None:
        self._work = work
        self._crew = crew
        self._times_broken = crew.times_broken
        self._future = crew.submit(work)

    def drop(self) -> None:
        """Do not begin it, if it is not begun yet."""
        self._future.cancel()

    def given(self) -> Given:
        """What each piece gave; when a worker died meanwhile, all are tried alone, and then one by one, to find what did it."""
        given = _given(self._future)
        if given is None:
            self._crew.renew(self._times_broken)
            given = _do_alone(self._work, self._crew) if len(self._work) > 1 else None
        if given is None:
            given = [_do_one(task, self._crew) for task in self._work]
        return given


def _given(future: Future[Given]) -> Given | None:
    try:
        return future.result()
    except (BrokenProcessPool, CancelledError):
        return None


def _do_alone(work: Work, crew: Crew) -> Given | None:
    """What pieces of work give in a process of their own; None where it died."""
    with Crew(1, confined=crew.confined) as alone:
        alone.expect(task.function for task in work)
        return _given(alone.submit(work))


def _do_one(task: Task, crew: Crew) -> Made | str:
    """What one piece of work gives in a process of its own, or why that died."""
    others = set(multiprocessing.active_children())
    own: set[BaseProcess] = set()
    with Crew(1, confined=crew.confined) as alone:
        alone.expect([task.function])
        future = alone.submit((task,))
        own = set(multiprocessing.active_children()) - others
        given = _given(future)
    if given is not None:
        return given[0]
    code = next((process.exitcode for process in own), None)
    return explain_end(code, task.seconds * crew.patience, confined=crew.confined)
