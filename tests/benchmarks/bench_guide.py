"""Checking, making and previewing whole invented guides, beside a bare script with the same libraries in the same run.

    python -m tests.benchmarks.bench_guide            (100 and 1,000 accounts)
    GUIDEBUILD_BENCH="100 1000 5000" python -m tests.benchmarks.bench_guide

The risks: an author of a large guide waits at every save; a guide that grows tenfold takes a hundred times as long; the
machine runs out of memory. Every run is a process of its own. Times are processor seconds with those of child processes, so that
other work on the machine counts little; only the gain of a second worker is told by the clock.

Up to 1,000 accounts each has two photos of its own of one megapixel (a camera's have ten times that, and would make every share
smaller). How the cost grows is measured on guides whose accounts all share two photos, so that nothing but text and pages counts.
"""

from __future__ import annotations

import os
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import guidebuild
from tests.benchmarks.rows import Row, as_installed, told
from tests.benchmarks.synthetic import Invented

SIZES = tuple(map(int, os.environ.get("GUIDEBUILD_BENCH", "100 1000").split()))
OWN_PICTURES = 1000
"""Accounts up to which each has its own photos."""
SHARED = 2
JUDGED = 1000
"""The size whose times are held against the limits."""
CHECK, FULL, NO_CHANGE, EDIT, WORKERS, GROWTH = 3.0, 1.3, 0.03, 0.04, 1.7, 1.15
MEGABYTES, MEGABYTES_EACH = 250.0, 0.04
FLOOR = Path(__file__).with_name("floor.py")
_COMMAND = "import sys; from guidebuild.cli import run; run(sys.argv[1:])"
_PREVIEW = """
import sys, time
from pathlib import Path
from guidebuild.resident import Resident
folder, edited = Path(sys.argv[1]), Path(sys.argv[2])
page = f"accounts/{edited.stem}.html"
with Resident(folder) as resident:
    resident.follow(frozenset())
    resident.read(page)
    edited.write_text(edited.read_text("utf-8").replace("Look twice", "Look thrice"), "utf-8")
    before = time.process_time()
    resident.follow(frozenset((edited.resolve(),)))
    assert b"Look thrice" in resident.read(page)[0]
    print(time.process_time() - before)
"""


@dataclass(frozen=True)
class Spent:
    """What a process took: processor and clock seconds, and the most memory it held."""

    processor: float
    clock: float
    megabytes: float
    said: str = ""


def spent(*command: str) -> Spent:
    """Run Python with these arguments to its end. Exit code 1 is one of the tool's answers; anything above it stops the benchmark."""
    with tempfile.TemporaryFile() as out:
        start = time.perf_counter()
        into = [(os.POSIX_SPAWN_DUP2, out.fileno(), 1)]
        process = os.posix_spawn(sys.executable, [sys.executable, *command], as_installed(), file_actions=into)
        _, status, usage = os.wait4(process, 0)
        clock = time.perf_counter() - start
        out.seek(0)
        said = out.read().decode()
    if os.waitstatus_to_exitcode(status) not in (0, 1):
        raise SystemExit(f"{' '.join(command[:4])} failed:\n{said[-2000:]}")
    return Spent(usage.ru_utime + usage.ru_stime, clock, usage.ru_maxrss / 1024, said)


def ours(*arguments: str) -> Spent:
    """One command of the tool."""
    return spent("-c", _COMMAND, *arguments)


def rows() -> Iterator[Row]:
    """Every size in turn; the last rows tell how the cost of an account grows."""
    spent("-m", "compileall", "-q", str(Path(guidebuild.__file__).parent))
    for count in (size for size in SIZES if size <= OWN_PICTURES):
        with invented(count, None) as folder:
            yield from _check(folder, count)
            yield from _make(folder, count)
            if count == min(SIZES):
                yield _two_workers(folder, count)
    if len(SIZES) > 1:
        yield from _growth(min(SIZES), max(SIZES))


@contextmanager
def invented(count: int, pictures: int | None) -> Iterator[Path]:
    """An invented guide of so many accounts."""
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here) / "guide"
        Invented(count).write(folder, pictures=pictures)
        yield folder


def _growth(small: int, large: int) -> Iterator[Row]:
    """What an account costs in a large guide beside a small one, without pictures of its own."""
    each: dict[int, float] = {}
    for count in (small, large):
        with invented(count, SHARED) as folder:
            full = ours("make", str(folder), "site", "--workers", "1", "--quiet")
        each[count] = 1000 * full.processor / count
    yield Row(
        f"make, milliseconds an account: {large:,} beside {small:,}",
        f"{each[small]:.0f}",
        f"{each[large]:.0f}",
        each[large] / each[small],
        GROWTH,
    )
    yield _memory(large, full)


def _memory(count: int, full: Spent) -> Row:
    room = MEGABYTES + MEGABYTES_EACH * count
    return Row(
        f"most memory of a make, {count:,} accounts", f"{room:.0f} MB allowed", f"{full.megabytes:.0f} MB", full.megabytes / room, 1.0
    )


def _check(folder: Path, count: int) -> Iterator[Row]:
    floor, check = spent(str(FLOOR), "yaml", str(folder)), ours("check", str(folder))
    yield _timed(f"check, {count:,} accounts, beside a bare YAML load", floor, check, CHECK if count == JUDGED else None)
    again = ours("check", str(folder))  # what stayed as it was is not read again
    yield _timed(f"the same a second time, {count:,} accounts", floor, again, None)


def _make(folder: Path, count: int) -> Iterator[Row]:
    floor = spent(str(FLOOR), "site", str(folder), str(folder.parent / "floor"))
    arguments = ("make", str(folder), "site", "--workers", "1", "--quiet")
    shutil.rmtree(folder / ".guidebuild", ignore_errors=True)  # what the check has kept
    full = ours(*arguments)
    yield _timed(f"full make of the site, {count:,} accounts, one worker", floor, full, FULL)
    yield _memory(count, full)
    time.sleep(2.1)  # files changed within two seconds of a run are not trusted to be as they were
    ours(*arguments)
    yield _share(f"make without a change, {count:,} accounts, beside a full one", full, ours(*arguments).processor, count, NO_CHANGE)
    edited = sorted((folder / "accounts").glob("*.md"))[count // 2]
    edited.write_text(edited.read_text("utf-8").replace("Look twice", "Look again"), encoding="utf-8")
    yield _share(f"make after one account was edited, {count:,} accounts", full, ours(*arguments).processor, count, EDIT)
    preview = float(spent("-c", _PREVIEW, str(folder), str(sorted((folder / "accounts").glob("*.md"))[0])).said.split()[-1])
    yield _share(f"preview, from an edit to its page, {count:,} accounts", full, preview, count, None)


def _two_workers(folder: Path, count: int) -> Row:
    taken = []
    for workers in ("1", "2"):
        shutil.rmtree(folder / "published")
        shutil.rmtree(folder / ".guidebuild")
        taken.append(ours("make", str(folder), "site", "--workers", workers, "--quiet").clock)
    what = f"full make, {count:,} accounts: one worker beside two, by the clock"
    return Row(what, f"{taken[0]:.1f} s", f"{taken[1]:.1f} s", taken[0] / taken[1], WORKERS, least=True)


def _timed(what: str, floor: Spent, made: Spent, limit: float | None) -> Row:
    return Row(what, f"{floor.processor:.2f} s", f"{made.processor:.2f} s", made.processor / floor.processor, limit)


def _share(what: str, full: Spent, seconds: float, count: int, limit: float | None) -> Row:
    return Row(what, f"{full.processor:.2f} s", f"{seconds:.2f} s", seconds / full.processor, limit if count == JUDGED else None)


if __name__ == "__main__":
    sys.exit(told(rows))
