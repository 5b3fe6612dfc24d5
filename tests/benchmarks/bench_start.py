"""What one waits for before anything is seen: the page of help, and the first page of a preview.

    python -m tests.benchmarks start

The risks: every command imports what only a few need; the preview makes a whole guide before it shows one page. Each run is a process
of its own; times are processor seconds, the least of a few.
"""

from __future__ import annotations

import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.bench_guide import FLOOR, SHARED, Spent, spent
from tests.benchmarks.rows import Row, told
from tests.benchmarks.synthetic import Invented

ROUNDS = 5
HELP = 3.0
SIZES = (20, 1000)
_CLICK = "import click; click.Command('bare', help='Words.')(['--help'], standalone_mode=False)"
_HELP = "import sys; from guidebuild.cli import run; run(['--help'])"
_FIRST = """
import sys
from pathlib import Path
from guidebuild.resident import Resident
folder = Path(sys.argv[1])
with Resident(folder) as resident:
    resident.follow(frozenset())
    page, _ = resident.read(f"accounts/{sorted(folder.glob('accounts/*.md'))[0].stem}.html")
assert b"<h1" in page
"""


def least(*command: str, rounds: int = ROUNDS) -> float:
    """The least processor seconds of a few runs."""
    runs: list[Spent] = [spent(*command) for _ in range(rounds)]
    return min(run.processor for run in runs)


def rows() -> Iterator[Row]:
    """The page of help, then the first page of guides of two sizes."""
    least("-c", _HELP, rounds=1)  # Python keeps what it compiles now
    bare, ours = least("-c", _CLICK), least("-c", _HELP)
    yield Row("guidebuild --help, beside a command of click alone", f"{bare:.3f} s", f"{ours:.3f} s", ours / bare, HELP)
    for count in SIZES:
        with tempfile.TemporaryDirectory() as here:
            folder = Path(here) / "guide"
            Invented(count).write(folder, pictures=SHARED)
            load, first = least(str(FLOOR), "yaml", str(folder), rounds=2), least("-c", _FIRST, str(folder), rounds=2)
        what = f"preview, first page of {count:,} accounts with nothing made, beside a bare YAML load"
        yield Row(what, f"{load:.2f} s", f"{first:.2f} s", first / load)


if __name__ == "__main__":
    sys.exit(told(rows))
