"""How fast scripts are timed: as a ratio to the least that any timing has to do.

    python -m tests.benchmarks.bench_speech

The risk: a guide of hundreds of accounts times every script at every make. The floor, in the same run, is cutting the same
scripts into words with a plain regular expression and looking each word up in a dict. The aim is at most 3.
"""

from __future__ import annotations

import random
import re
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

from guidebuild.speech.timing import time_script
from tests.benchmarks.rows import Row, told
from tests.speech.pieces_of_speech import script_of

SCRIPTS = 1000
TIMES = 3
_TOKEN = re.compile(r"[A-Za-z]+(?:['’-][A-Za-z]+)*|\d+(?:\.\d+)?")


def scripts() -> list[str]:
    """Invented scripts of about 400 words, each a shuffle of the test passages, with headings and marks."""
    text = (Path(__file__).parents[1] / "speech" / "passages.txt").read_text("utf-8")
    passages = [passage for passage in text.split("\n\n") if not passage.startswith("#")]
    made = []
    for seed in range(SCRIPTS):
        chosen = random.Random(seed).sample(passages, 14)
        made.append("\n\n".join(f"## Part {i}\n[show photo-{i} 4 s]\n{passage}" for i, passage in enumerate(chosen)))
    return made


def fastest(work: Callable[[], object], rounds: int = 5) -> float:
    """The least of a few runs, in seconds of this process: other work on the machine does not count."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def ratio() -> tuple[float, float]:
    """Seconds of the floor and of the timing."""
    texts = scripts()
    counts = {word.lower(): 1 for text in texts for word in _TOKEN.findall(text)}

    def floor() -> int:
        return sum(counts.get(word.lower(), 0) for text in texts for word in _TOKEN.findall(text))

    def timed() -> float:
        return sum(time_script(script_of(text)).seconds for text in texts)

    return fastest(floor), fastest(timed)


def rows() -> Iterator[Row]:
    """Measure."""
    lowest, ours = ratio()
    yield Row(f"timing {SCRIPTS:,} scripts, beside looking up their words", f"{lowest:.2f} s", f"{ours:.2f} s", ours / lowest, TIMES)


if __name__ == "__main__":
    sys.exit(told(rows))
