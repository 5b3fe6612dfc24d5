"""Run tests against many changed modules: tests are gathered once, then each change is tried in a forked process."""

from __future__ import annotations

import ast
import contextlib
import os
import resource
import signal
import sys
import tempfile
import time
from collections import defaultdict, deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

import coverage
import hypothesis
import pytest
from _pytest.runner import runtestprotocol

from tests.mutants.elsewhere import Elsewhere, begin_anew
from tests.mutants.operators import ROOT
from tests.mutants.patching import import_anew, list_remembering, swap_functions

PLAIN = ["-q", "-s", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:cov", "-W", "ignore::pytest.PytestAssertRewriteWarning"]
LEAST_SECONDS = 3
"""A changed module that keeps a test busy for so many seconds of the processor, and ten times as long as before, is caught."""
PATIENCE = 120.0
"""So is one that does nothing for so long."""


@dataclass
class Bench:
    """A pytest plugin: gathers tests, times them, notes which lines each reaches, and then hands itself to `then`.

    `reached` are the tests by file and line; `seconds` how long each took.
    """

    files: list[str]
    longest: float
    then: Callable[[Bench], None]
    elsewhere: Elsewhere
    too_slow: tuple[str, ...] = ()
    items: dict[str, pytest.Item] = field(default_factory=dict)
    seconds: dict[str, float] = field(default_factory=dict)
    reached: dict[str, dict[int, set[str]]] = field(default_factory=dict)
    on_import: dict[str, set[int]] = field(default_factory=dict)
    """Lines that run while tests are gathered: what they give is kept in test files, so a change there wants a new import."""
    measured: coverage.Coverage | None = None

    def pytest_collection(self) -> None:
        """Begin to note lines before any test file is imported."""
        if self.files:
            included = [str(ROOT / f) for f in self.files]
            self.measured = coverage.Coverage(data_file=None, config_file=False, include=included, messages=False)
            self.measured.start()
            self.elsewhere.note_lines(self.files)

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        """In place of the usual run: a first run that must pass, then the changes."""
        quick = [item for item in session.items if not item.get_closest_marker("slow") and not any(w in item.nodeid for w in self.too_slow)]
        self.items = {item.nodeid: item for item in quick}
        self._measure()
        self.then(self)
        return True

    def _measure(self) -> None:
        reached: dict[tuple[str, int], set[str]] = defaultdict(set)
        remembering = list_remembering(self.files) if self.files else []
        with _silence():
            for name, item in self.items.items():
                if self.measured:
                    self.measured.switch_context(name)
                for function in remembering:
                    function.cache_clear()  # else only the first test that asks it would reach its lines
                started = _busy_seconds()
                reports = self._run_once(item)
                for place in self.elsewhere.take_lines():
                    reached[place].add(name)
                self.seconds[name] = _busy_seconds() - started
                _refuse_failed(name, reports)
        if self.measured is None:
            return
        self.measured.stop()
        self.elsewhere.stop_noting()
        for file in self.files:
            lines = self.measured.get_data().contexts_by_lineno(str(ROOT / file))
            self.on_import[file] = {line for line, names in lines.items() if "" in names}
            for line, names in lines.items():
                reached[file, line].update(filter(None, names))
        for (file, line), found in reached.items():
            self.reached.setdefault(file, {})[line] = {name for name in found if self.seconds[name] <= self.longest}

    def _run_once(self, item: pytest.Item) -> list[pytest.TestReport]:
        """Run a test; one that fails as other processes are looked at (it may look at lines itself) is run without that."""
        reports = runtestprotocol(item, nextitem=None, log=False)
        if any(r.failed for r in reports) and self.elsewhere.noting:
            deque(self.elsewhere.take_lines(), maxlen=0)
            with self.elsewhere.left_alone():
                reports = runtestprotocol(item, nextitem=None, log=False)
        return reports

    def refuse_unforkable(self) -> None:
        """Stop where a test fails in a forked process with nothing changed: it would catch everything."""
        tests = self.all_tests()
        limit = LEAST_SECONDS + round(5 * sum(self.seconds[t] for t in tests))
        if _fork_answer(partial(self._run, tests), limit, patience=2 * PATIENCE + 10 * limit) == _PASSED:
            return
        failing = [t for t in tests if _fork_answer(partial(self._run, [t]), LEAST_SECONDS + round(10 * self.seconds[t])) != _PASSED]
        told = "\n".join(failing) or "(only one after another)"
        pytest.exit(f"These fail in a forked process, though nothing is changed: mend them first\n{told}", returncode=3)

    def tests_for(self, file: str, lines: Iterable[int]) -> list[str]:
        """The tests that reach one of these lines, quickest first."""
        found = {test for line in lines for test in self.reached.get(file, {}).get(line, ())}
        return sorted(found, key=lambda name: self.seconds[name])

    def all_tests(self) -> list[str]:
        """All tests that are quick enough, quickest first."""
        return sorted((n for n, s in self.seconds.items() if s <= self.longest), key=lambda name: self.seconds[name])

    def is_caught(self, file: str, changed: ast.Module, tests: list[str], lines: Iterable[int] = ()) -> bool:
        """Whether a test fails with this module changed.

        Functions are swapped where they stand, which is quick. Where no test fails then, all is imported anew if more than functions
        changed or a test file has worked something out by these lines while it was imported.
        """
        self.elsewhere.put_in(file, changed)
        limit = LEAST_SECONDS + round(5 * sum(self.seconds[t] for t in tests))
        code = _fork_answer(lambda: self._run_swapped(file, changed, tests), limit)
        if code == _NOT_SWAPPED or (code == _PASSED and not self.on_import.get(file, set(lines)).isdisjoint(lines)):
            code = _fork_answer(lambda: _run_anew(file, changed, tests), limit + LEAST_SECONDS)
        if code == _BROKEN:
            raise RuntimeError(f"{file}: no test was found again after a new import")
        return code != _PASSED

    def _run_swapped(self, file: str, changed: ast.Module, tests: list[str]) -> int:
        if not swap_functions(file, changed):
            return _NOT_SWAPPED
        return self._run(tests)

    def _run(self, tests: list[str]) -> int:
        chosen = [self.items[t] for t in tests]
        for item, following in zip(chosen, [*chosen[1:], None], strict=True):
            _limit_seconds(LEAST_SECONDS + round(10 * self.seconds[item.nodeid]))
            if any(r.failed for r in runtestprotocol(item, nextitem=following, log=False)):
                return _CAUGHT
        return _PASSED


_PASSED, _CAUGHT, _NOT_SWAPPED, _BROKEN = 0, 1, 70, 71


def _refuse_failed(name: str, reports: list[pytest.TestReport]) -> None:
    if any(r.failed for r in reports):
        told = "\n".join(r.longreprtext for r in reports if r.failed)
        pytest.exit(f"{name} fails already: mend it first\n{told}", returncode=3)


def _run_anew(file: str, changed: ast.Module, tests: list[str]) -> int:
    import_anew(file, changed)
    code = pytest.main([*PLAIN, "-x", *tests])
    if code == pytest.ExitCode.NO_TESTS_COLLECTED:
        return _BROKEN
    return _PASSED if code == pytest.ExitCode.OK else _CAUGHT


def _busy_seconds() -> float:
    """Seconds of the processor that this process and what it has waited for have used: the same on a busy machine."""
    return sum(os.times()[:4])


def _limit_seconds(seconds: int) -> None:
    """Let this process be ended once it has used so many more seconds of the processor."""
    _, most = resource.getrlimit(resource.RLIMIT_CPU)
    resource.setrlimit(resource.RLIMIT_CPU, (round(time.process_time()) + seconds, most))


def _fork_answer(work: Callable[[], int], seconds: int, patience: float = PATIENCE) -> int:
    """Do the work in a process of its own; one that outlasts its time or dies is caught."""
    child = os.fork()
    if not child:
        os.setpgid(0, 0)
        _limit_seconds(seconds)
        begin_anew()
        code = _CAUGHT
        with _silence(), contextlib.suppress(BaseException):
            code = work()
        os._exit(code)
    ends = time.monotonic() + patience
    while True:
        done, status = os.waitpid(child, os.WNOHANG)
        if done:
            return os.waitstatus_to_exitcode(status)
        if time.monotonic() > ends:
            os.killpg(child, signal.SIGKILL)
            os.waitpid(child, 0)
            return _CAUGHT
        time.sleep(0.005)


@contextlib.contextmanager
def _silence() -> Iterator[None]:
    sys.stdout.flush()
    sys.stderr.flush()
    kept = [os.dup(1), os.dup(2)]
    nowhere = os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nowhere, 1)
        os.dup2(nowhere, 2)
        yield
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
        for descriptor, old in zip((1, 2), kept, strict=True):
            os.dup2(old, descriptor)
            os.close(old)
        os.close(nowhere)


def run_bench(
    files: list[str], tests: Iterable[str], then: Callable[[Bench], None], *, longest: float = 2.0, too_slow: tuple[str, ...] = ()
) -> int:
    """Gather these tests, run them once, then do what is asked with them; pytest's exit code."""
    quick = [hypothesis.Phase.explicit, hypothesis.Phase.generate]
    hypothesis.settings.register_profile("mutants", database=None, derandomize=True, phases=quick, deadline=None)
    hypothesis.settings.load_profile("mutants")
    os.chdir(ROOT)
    sys.dont_write_bytecode = True
    with tempfile.TemporaryDirectory() as folder:
        code = pytest.main([*PLAIN, *tests], plugins=[Bench(files, longest, then, Elsewhere(Path(folder)), too_slow)])
    return int(code)
