"""The crew's processes: how they are started, what they are told, when they end; and Ctrl-C meanwhile."""

from __future__ import annotations

import gc
import multiprocessing
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from threading import Thread

import pytest

from guidebuild.press.engine import crew as crew_module
from guidebuild.press.engine.crew import Crew, Task, do_work
from tests.press.engine.pieces_of_work import double, habits, note_slowly

ROOT = Path(__file__).parents[3]


@pytest.fixture
def other_threshold() -> Iterator[tuple[int, int, int]]:
    before = gc.get_threshold()
    gc.set_threshold(50_001, 21, 13)
    yield gc.get_threshold()
    gc.set_threshold(*before)


def test_a_worker_seldom_looks_for_cycles_and_leaves_ctrl_c_to_its_parent(other_threshold: tuple[int, int, int]) -> None:
    with Crew(1) as crew:
        (made,) = crew.submit((Task(habits, None, 60.0),)).result()
    assert not isinstance(made, str)
    # Ten times its 60 s, and nearly half as long again, until it ends where it has not heard of it.
    assert made.parts[0].decode() == f"{other_threshold} True True 841"


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="needs timers")
def test_work_in_this_process_never_ends_it() -> None:
    (made,) = do_work((Task(habits, None, 60.0),))
    assert not isinstance(made, str)
    assert made.parts[0].decode().endswith(" 0")


def test_what_waits_when_the_crew_is_stopped_is_not_begun(tmp_path: Path) -> None:
    noted = tmp_path / "noted"
    with Crew(1) as crew:
        crew.submit((Task(double, None, 60.0),)).result()
        sent = [crew.submit((Task(note_slowly, (str(noted), "one"), 60.0),)) for _ in range(30)]
        sent[0].result()
    assert 1 <= noted.read_text().count("one") < 15


@pytest.mark.skipif("forkserver" not in multiprocessing.get_all_start_methods(), reason="no server of processes here")
def test_workers_come_from_a_server_of_processes_where_there_is_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Never by a fork of this process, whose threads would leave their locks held."""
    assert Crew(1)._context().get_start_method() == "forkserver"
    monkeypatch.setattr(crew_module, "_FORKSERVER", False)
    assert Crew(1)._context().get_start_method() == "spawn"


_ORPHANS = """
import os, sys
from guidebuild.press.engine.crew import Crew, Task
from tests.press.engine.pieces_of_work import process
if __name__ == "__main__":
    with Crew(1) as crew:
        print(crew.submit((Task(process, None, 60.0),)).result()[0].parts[0].decode(), flush=True)
        os.kill(os.getpid(), 9)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills need signals")
def test_workers_of_a_killed_run_end_too() -> None:
    ran = subprocess.run([sys.executable, "-c", _ORPHANS], cwd=ROOT, stdout=subprocess.PIPE, text=True, timeout=120, check=False)
    worker, ends = int(ran.stdout), time.monotonic() + 60
    assert ran.returncode == -signal.SIGKILL
    while _is_running(worker) and time.monotonic() < ends:
        time.sleep(0.05)
    assert not _is_running(worker)


def _is_running(process: int) -> bool:
    """Whether it is there and has not ended (one that no parent has asked after is still listed)."""
    try:
        return Path(f"/proc/{process}/stat").read_text().rsplit(")", 1)[1].split()[0] != "Z"
    except OSError:
        return False


def test_ctrl_c_counts_once_the_process_is_started() -> None:
    # A run in the background may hear no Ctrl-C at all: here it does.
    before, done = signal.signal(signal.SIGINT, signal.default_int_handler), []
    try:
        with pytest.raises(KeyboardInterrupt), crew_module._ctrl_c_later():
            signal.raise_signal(signal.SIGINT)
            done.append("started")
        assert done == ["started"]
        with crew_module._ctrl_c_later():
            done.append("not stopped")
        assert signal.getsignal(signal.SIGINT) is signal.default_int_handler
    finally:
        signal.signal(signal.SIGINT, before)


def test_what_is_started_does_not_hear_ctrl_c() -> None:
    former = signal.getsignal(signal.SIGINT)
    with crew_module._deaf_to_ctrl_c():
        signal.raise_signal(signal.SIGINT)
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    assert signal.getsignal(signal.SIGINT) is former


def test_where_ctrl_c_is_not_heard_at_all_that_stays_so() -> None:
    former = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        with crew_module._ctrl_c_later():
            assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
        assert signal.getsignal(signal.SIGINT) is signal.SIG_IGN
    finally:
        signal.signal(signal.SIGINT, former)


def test_another_thread_says_nothing_about_signals() -> None:
    """Only the first thread may; a preview makes from another, and workers are started there too."""
    told: list[object] = []

    def ask() -> None:
        try:
            with crew_module._ctrl_c_later(), crew_module._deaf_to_ctrl_c():
                told.append(signal.getsignal(signal.SIGINT))
        except ValueError as error:
            told.append(error)

    thread = Thread(target=ask)
    thread.start()
    thread.join()
    assert told == [signal.getsignal(signal.SIGINT)]


def test_modules_of_the_work_are_imported_ahead_and_only_our_own(monkeypatch: pytest.MonkeyPatch) -> None:
    ahead: list[list[str]] = []
    monkeypatch.setattr(multiprocessing.get_context("forkserver"), "set_forkserver_preload", ahead.append)
    monkeypatch.setattr(crew_module.forkserver, "ensure_running", lambda: None)
    crew = Crew(1, ["guidebuild.press.photos.copying", "guidebuild.press.engine.store"])
    crew.expect([double])
    crew._context()
    assert ahead == [["guidebuild.press.engine.store", "guidebuild.press.photos.copying"]]


_READY_AHEAD = """
import sys, time
from pathlib import Path
from guidebuild.press.engine.crew import Crew, Task
from tests.press.engine.pieces_of_work import process
if __name__ == "__main__":
    noted, ends = Path(sys.argv[1]), time.monotonic() + 60
    with Crew(2, warmed=["tests.press.engine.warming", "tests.press.engine.nowhere"]) as crew:
        crew.begin()
        while len(noted.read_text().split()) < 2 and time.monotonic() < ends:
            time.sleep(0.02)
        print(noted.read_text())
        print(crew.submit((Task(process, None, 60.0),)).result()[0].parts[0].decode())
"""


def test_a_crew_gets_ready_before_there_is_work(tmp_path: Path) -> None:
    """Each process as it starts; what fails then is left to the work, and is no reason to lose a process."""
    noted, script = tmp_path / "noted", tmp_path / "ready_ahead.py"
    noted.touch()
    script.write_text(_READY_AHEAD)
    told = {**os.environ, "PYTHONPATH": str(ROOT), "NOTED_IN": str(noted)}
    run = subprocess.run([sys.executable, script, noted], env=told, stdout=subprocess.PIPE, text=True, check=True, timeout=120)
    *ready, at_work = run.stdout.split()
    assert len(set(ready)) == 2
    assert at_work in ready


def test_a_crew_that_is_stopped_while_it_starts_is_at_its_end() -> None:
    with Crew(2) as crew:
        crew.begin()
    assert not crew.at_work
    assert not multiprocessing.active_children()


def test_a_broken_crew_is_dropped_once_for_each_time_it_broke() -> None:
    with Crew(1) as crew:
        crew.submit((Task(double, "a", 60.0),)).result()
        assert crew.at_work
        crew.renew(1)  # told of by work that was sent before it was renewed
        assert (crew.at_work, crew.times_broken) == (True, 0)
        crew.renew(0)
        assert (crew.at_work, crew.times_broken) == (False, 1)
