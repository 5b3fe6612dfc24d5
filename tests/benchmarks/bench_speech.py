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
TIMES_TO_READ = 5  # an author writes few scripts, and each is read once
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


def measure() -> tuple[float, float, float]:
    """Seconds of the floor, of timing scripts, and of reading them from their authors' Markdown."""
    texts = scripts()
    counts = {word.lower(): 1 for text in texts for word in _TOKEN.findall(text)}

    def look_up() -> int:
        return sum(counts.get(word.lower(), 0) for text in texts for word in _TOKEN.findall(text))

    read = [script_of(text) for text in texts]
    timed = fastest(lambda: sum(time_script(script).seconds for script in read))
    return fastest(look_up), timed, fastest(lambda: [script_of(text) for text in texts])


def rows() -> Iterator[Row]:
    """Measure."""
    floor, timed, read = measure()
    yield Row(f"timing {SCRIPTS:,} scripts, beside looking up their words", f"{floor:.2f} s", f"{timed:.2f} s", timed / floor, TIMES)
    yield Row(f"reading {SCRIPTS:,} scripts of authors, beside the same", f"{floor:.2f} s", f"{read:.2f} s", read / floor, TIMES_TO_READ)


if __name__ == "__main__":
    sys.exit(told(rows))
