"""A guide of a thousand accounts read, against a bare YAML load of the same facts blocks in the same run.

The risk: an author with many accounts waits at each save. Texts differ from account to account, so that nothing is
quicker here than in a real guide. Run it with `python -m tests.benchmarks.bench_reading`; it ends with 1 past the limit.
"""

from __future__ import annotations

import gc
import re
import shutil
import statistics
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import yaml

from guidebuild.reading.whole import read_guide
from tests.benchmarks.rows import Row, told

ACCOUNTS, ROUNDS, TIMES = 1000, 3, 3.0
SAMPLE = Path(__file__).parents[2] / "sample_guide"


def write(folder: Path) -> None:
    """Copies of the sample's accounts with names and numbers in their texts changed (invented data)."""
    for path in SAMPLE.glob("*.yaml"):
        shutil.copy(path, folder)
    (folder / "accounts").mkdir()
    originals = sorted(path for path in SAMPLE.glob("accounts/*.md") if path.stem.count(".") == 0)
    for number in range(ACCOUNTS):
        original = originals[number % len(originals)]
        text = re.sub(r"(\d+) mm", rf"\1.{number} mm", original.read_text("utf-8"))
        text = re.sub(r"(?<=: )June", f"{number % 30 + 1} June", text).replace("note: ", f"note: Seen {number} times. ")
        letters = "".join(chr(97 + int(digit)) for digit in str(number))
        text = re.sub(r"^(name: \w+ \w+)", rf"\g<1>{letters}", text, flags=re.MULTILINE)
        text = re.sub(r"^(vernacular: .*)", rf"\1 {number}", text, flags=re.MULTILINE)
        text = re.sub(r"^(synonyms|also called): .*\n", "", text, flags=re.MULTILINE)
        (folder / "accounts" / f"{original.stem}-{number}.md").write_text(text, encoding="utf-8")


def bare(folder: Path) -> None:
    """Only what YAML must cost: the facts blocks loaded by the C loader."""
    for path in folder.glob("accounts/*.md"):
        yaml.load(path.read_text("utf-8").split("---\n", 2)[1], Loader=yaml.CSafeLoader)


def seconds(work: Callable[[Path], object], folder: Path) -> float:
    """Processor time of the middle round."""
    taken = []
    for _ in range(ROUNDS):
        start = time.process_time()
        work(folder)
        taken.append(time.process_time() - start)
    return statistics.median(taken)


def rows() -> Iterator[Row]:
    """Measure."""
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here)
        write(folder)
        gc.disable()  # as commands do while they read
        floor, whole = seconds(bare, folder), seconds(read_guide, folder)
        gc.enable()
    yield Row(f"reading {ACCOUNTS:,} accounts, beside a bare YAML load", f"{floor:.2f} s", f"{whole:.2f} s", whole / floor, TIMES)


if __name__ == "__main__":
    sys.exit(told(rows))
