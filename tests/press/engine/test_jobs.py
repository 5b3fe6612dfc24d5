"""Jobs: in order, once, in any number of processes, whatever one of them does."""

import os
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from types import SimpleNamespace

import pytest

from guidebuild.press.engine import jobs as jobs_module
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import AnyJob, Craft, Job, Progress, Result, begin_job, run_jobs
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.store import Store
from tests.press.engine import pieces_of_work

DEAR = 400.0


def job(name: str, payload: object, cost: float = DEAR, where: str = "") -> AnyJob:
    return Job(Craft("page", "pages", cost), getattr(pieces_of_work, name), payload, where or f"{name} {payload}", digest(name, payload))


class Counting:
    def __init__(self) -> None:
        self.done: Counter[str] = Counter()
        self.expected: Counter[str] = Counter()

    def foresee(self, shares: Sequence[float]) -> None:
        pass

    def begin_part(self) -> None:
        pass

    def expect(self, craft: Craft, count: int) -> None:
        self.expected[craft.plural] += count

    def advance(self, craft: Craft, count: int = 1) -> None:
        self.done[craft.plural] += count


def parts(results: list[Result]) -> list[tuple[bytes, ...]]:
    return [result.made.parts for result in results]


def done(jobs: list[AnyJob], store: Store, workers: int, progress: Progress | None = None) -> list[Result]:
    with Crew(workers) as crew:
        return list(run_jobs(jobs, store, crew, progress))


@pytest.mark.parametrize("workers", [1, 2])
def test_results_come_in_order_and_bad_jobs_stop_no_other(workers: int, tmp_path: Path) -> None:
    jobs = [job("double", number, cost=30.0) for number in range(70)]
    jobs[11] = job("fail", "good", where="accounts/toad.md")
    jobs[12] = Job(Craft("card", "cards", DEAR), pieces_of_work.fail, "better", "card toad", digest("card"))
    jobs.append(jobs[3])
    counting = Counting()
    results = done(jobs, Store(tmp_path), workers, counting)
    assert [result.job for result in results] == jobs
    assert parts(results)[:3] == [(b"00",), (b"11",), (b"22",)]
    assert parts(results)[-1] == (b"33",)
    assert [result.failed for result in results].count(True) == 2
    told = results[11].made.problems[0]
    assert (told.what, str(told)) == ("failed", "accounts/toad.md: the page could not be made (ValueError: no good)")
    assert str(results[12].made.problems[0]) == "card toad: the card could not be made (ValueError: no better)"
    assert counting.done == counting.expected == {"pages": 70, "cards": 1}


@pytest.mark.parametrize("workers", [1, 2])
def test_what_is_in_the_store_is_not_made_again_but_its_problems_are_told(workers: int, tmp_path: Path) -> None:
    log = tmp_path / "log"
    jobs = [job("note", (str(log), f"page {number}")) for number in range(8)]
    first = done(jobs, Store(tmp_path / "store"), workers)
    second = done(jobs, Store(tmp_path / "store"), workers)
    assert sorted(log.read_text().splitlines()) == [f"page {number}" for number in range(8)]
    assert [result.made for result in first] == [result.made for result in second]
    assert all(result.from_store and result.made.problems[0].what == "soft-print" for result in second)


def test_a_failed_job_is_tried_again_next_time(tmp_path: Path) -> None:
    store = Store(tmp_path)
    for _ in range(2):
        (result,) = done([job("fail", 1)], store, 1)
        assert result.failed
        assert not result.from_store


def test_a_worker_that_dies_takes_only_its_own_job_with_it(tmp_path: Path) -> None:
    jobs = [job("double", number, cost=20.0) for number in range(80)]
    jobs[30] = job("die", "now", where="photos/bomb.png", cost=20.0)
    results = done(jobs, Store(tmp_path), 2)
    assert [result.job.where for result in results if result.failed] == ["photos/bomb.png"]
    assert "ended without a word" in results[30].made.problems[0].message
    assert parts(results)[79] == (b"7979",)


def test_little_work_stays_in_this_process(tmp_path: Path) -> None:
    results = done([job("process", 1, cost=5.0)], Store(tmp_path), 2)
    assert results[0].made == Made((str(os.getpid()).encode(),))


def test_much_work_is_spread(tmp_path: Path) -> None:
    results = done([job("process", number) for number in range(6)], Store(tmp_path), 2)
    assert str(os.getpid()).encode() not in {result.made.parts[0] for result in results}


def test_stopping_early_leaves_no_process_behind(tmp_path: Path) -> None:
    with Crew(2) as crew:
        results = run_jobs([job("process", number) for number in range(40)], Store(tmp_path), crew)
        worker = int(next(results).made.parts[0])
        results.close()  # type: ignore[attr-defined]
    with pytest.raises(ProcessLookupError):
        os.kill(worker, 0)


def test_one_crew_serves_several_rounds_of_jobs(tmp_path: Path) -> None:
    with Crew(2) as crew:
        rounds = [
            {
                part
                for result in run_jobs([job("process", number) for number in range(first, first + 20)], Store(tmp_path), crew)
                for part in result.made.parts
            }
            for first in (0, 20, 40)
        ]
    assert len(set().union(*rounds)) <= 2
    assert str(os.getpid()).encode() not in set().union(*rounds)


def test_one_job_is_begun_beside_this_process_where_helpers_are_at_work(tmp_path: Path) -> None:
    here = str(os.getpid()).encode()
    with Crew(2) as crew:
        assert begin_job(job("process", 0), crew)().made.parts == (here,)  # no helper is at work yet
        list(run_jobs([job("process", n) for n in range(1, 9)], Store(tmp_path), crew))
        assert begin_job(job("process", 0), crew)().made.parts[0] != here
        failed = begin_job(job("fail", "good", where="deck"), crew)()
    assert failed.failed
    assert str(failed.made.problems[0]) == "deck: the page could not be made (ValueError: no good)"


@pytest.mark.parametrize("at_work", [True, False])
def test_work_is_sent_where_there_is_enough_of_it(at_work: bool) -> None:
    """Less where the helpers are there already, as they need not be started."""
    least = jobs_module._WORTH_SENDING if at_work else jobs_module._WORTH_A_START
    assert jobs_module._WORTH_SENDING < jobs_module._WORTH_A_START

    def worth(*costs: float, workers: int = 2) -> bool:
        crew = SimpleNamespace(confined=False, at_work=at_work, workers=workers)
        return jobs_module._is_worth_it([job("double", n, cost) for n, cost in enumerate(costs)], crew)  # type: ignore[arg-type]

    assert worth(least / 2, least / 2)
    assert not worth(least / 2, least / 2 - 0.1)
    assert not worth(least)  # one alone is done here as soon
    assert not worth(least, least, workers=1)
    assert not worth()


def test_cheap_work_travels_together_and_what_is_there_by_itself() -> None:
    full = jobs_module._BATCH_COST
    third, half, whole = (job("double", n, full / part) for n, part in enumerate((3, 2, 1)))
    stored, last = job("double", "stored"), job("double", "last", 1.0)
    missing = frozenset(one.key for one in (third, half, whole, last))
    assert list(jobs_module._batched([half, third, whole, third, stored, half, last], missing)) == [
        (half, third, whole),  # less than a load until the third
        third,  # asked for a second time
        stored,
        half,
        (last,),
    ]
    assert list(jobs_module._batched([third, stored, half, half], missing)) == [(third,), stored, (half,), half]
    nearly = job("double", "nearly", full / 2 - 0.5)
    assert list(jobs_module._batched([whole, half, nearly, last], missing | {nearly.key})) == [(whole,), (half, nearly, last)]


@pytest.mark.parametrize("workers", [2, 3])
def test_the_crew_is_kept_busy_a_few_loads_ahead_and_no_further(workers: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    begun: list[object] = []
    dropped: list[object] = []

    class Load:
        def __init__(self, work: object, crew: object) -> None:
            begun.append(self)

        def given(self) -> list[Made]:
            return [Made((b"made",))]

        def drop(self) -> None:
            dropped.append(self)

    monkeypatch.setattr(jobs_module, "Batch", Load)
    with Crew(workers) as crew:
        results = run_jobs([job("double", n) for n in range(40)], Store(tmp_path), crew)
        ahead = workers * jobs_module._BATCHES_WAITING
        for taken in (1, 2, 3):
            assert next(results).made.parts == (b"made",)
            assert len(begun) == ahead + taken
        results.close()  # type: ignore[attr-defined]
    assert dropped == begun[3:]
