"""What a piece of work may take, and what a process is told that fills in templates of a guide's own."""

import os
import signal
import threading
from pathlib import Path

import pytest

from guidebuild.press.engine.bounds import OverdueError, bounded_time, explain_end, explain_error
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import AnyJob, Craft, Job, begin_job, run_jobs
from guidebuild.press.engine.store import Store
from tests.press.engine import pieces_of_work

QUICK = Craft("page", "pages", cost=5.0, seconds=1.0)
HERE = str(os.getpid()).encode()


def job(name: str, payload: object = 1, craft: Craft = QUICK) -> AnyJob:
    return Job(craft, getattr(pieces_of_work, name), payload, f"accounts/{name}", digest(name, payload))


@pytest.mark.parametrize("workers", [1, 2])
def test_a_confined_crew_does_everything_in_its_own_processes(tmp_path: Path, workers: int) -> None:
    store = Store(tmp_path)
    with Crew(workers, confined=True) as crew:
        (little,) = run_jobs([job("process")], store, crew)
        begun = begin_job(job("process"), crew)()
    assert HERE not in {little.made.parts[0], begun.made.parts[0]}


def test_what_the_store_has_lost_meanwhile_is_made_by_the_confined_crew_too(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    store = Store(tmp_path)
    monkeypatch.setattr(store, "has", lambda key: True)
    with Crew(1, confined=True) as crew:
        (made,) = run_jobs([job("process")], store, crew)
        assert made.made.parts[0] != HERE


def test_a_confined_process_is_told_nothing_of_the_machine(tmp_path: Path) -> None:
    assert "PATH" in os.environ
    with Crew(1, confined=True) as crew:
        (told,) = run_jobs([job("surroundings")], Store(tmp_path), crew)
    names = set(told.made.parts[0].decode().split())
    assert not [
        name
        for name in names
        if not name.startswith(("LANG", "LC_", "T", "FONTCONFIG_", "SOURCE_DATE_EPOCH", "PYTHONHASHSEED", "XDG_CACHE_HOME"))
    ]


@pytest.mark.parametrize("name", ["work_on", "work_in_a_library", "work_on_deaf"])
def test_what_takes_too_long_is_given_up_and_named_with_the_time(tmp_path: Path, name: str) -> None:
    with Crew(1, confined=True) as crew:
        results = list(run_jobs([job("double", 1), job(name), job("double", 2)], Store(tmp_path), crew))
    assert [str(p) for r in results for p in r.made.problems] == [f"accounts/{name}: the page could not be made (it took more than 1 s)"]
    assert [result.made.parts for result in results] == [(b"11",), (), (b"22",)]


def test_our_own_templates_have_ten_times_as_long_in_any_process(tmp_path: Path) -> None:
    craft = Craft("card", "cards", cost=5.0, seconds=0.1)
    with Crew(1) as crew:
        (told,) = run_jobs([job("work_on", craft=craft)], Store(tmp_path), crew)
    assert str(told.made.problems[0]) == "accounts/work_on: the card could not be made (it took more than 1 s)"


def test_a_confined_process_cannot_fill_the_memory(tmp_path: Path) -> None:
    pytest.importorskip("resource")
    with Crew(1, confined=True) as crew:
        (told,) = run_jobs([job("fill_memory")], Store(tmp_path), crew)
    assert str(told.made.problems[0]) == "accounts/fill_memory: the page could not be made (it needed more memory than it may have)"


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="needs timers")
@pytest.mark.parametrize("in_a_worker", [True, False])
def test_time_is_bounded_in_the_block_and_not_after_it(in_a_worker: bool) -> None:
    former = signal.getsignal(signal.SIGVTALRM)
    with pytest.raises(OverdueError, match=r"^it took more than 500 s$"), bounded_time(500.0, in_a_worker=in_a_worker):
        left, again = signal.getitimer(signal.ITIMER_VIRTUAL)
        assert (499 < left <= 500.1, again) == (True, 1.0)
        # A worker that does not hear the error ends nearly half as long afterwards, and a second.
        ends = signal.getitimer(signal.ITIMER_PROF)[0]
        assert 700 < ends <= 701.1 if in_a_worker else ends == 0
        signal.raise_signal(signal.SIGVTALRM)
    assert signal.getitimer(signal.ITIMER_VIRTUAL) == signal.getitimer(signal.ITIMER_PROF) == (0.0, 0.0)
    assert signal.getsignal(signal.SIGVTALRM) is former


def test_another_thread_is_not_bounded() -> None:
    """Signals reach the first thread only: there the error would hit something else."""
    told: list[object] = []

    def work() -> None:
        with bounded_time(500.0, in_a_worker=False):
            told.append(signal.getitimer(signal.ITIMER_VIRTUAL))

    thread = threading.Thread(target=work)
    thread.start()
    thread.join()
    assert told == [(0.0, 0.0)]


@pytest.mark.skipif(not hasattr(signal, "setitimer"), reason="needs timers")
@pytest.mark.parametrize(
    ("exit_code", "confined", "told"),
    [
        (-signal.SIGPROF, True, "it took more than 2.5 s"),
        (-signal.SIGPROF, False, "it took more than 2.5 s"),
        (-signal.SIGKILL, True, "the process that made it ended without a word, perhaps as it needed more than 4 GB of memory"),
        (None, False, "the process that made it ended without a word, perhaps for want of memory"),
    ],
)
def test_the_end_of_a_process_tells_what_it_may_have_lacked(exit_code: int | None, confined: bool, told: str) -> None:
    assert explain_end(exit_code, 2.5, confined=confined) == told


def test_what_work_raises_is_told_in_words() -> None:
    assert explain_error(OverdueError("it took more than 2 s")) == "it took more than 2 s"
    assert explain_error(MemoryError()) == "it needed more memory than it may have"
    assert explain_error(RecursionError()) == "something in it contains or calls itself without end"
    assert explain_error(ValueError("no toad")) == "ValueError: no toad"
