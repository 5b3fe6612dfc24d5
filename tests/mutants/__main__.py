"""`make mutants`: change the rooms that promise something in small ways and count how often a test notices.

Nothing is written into the project: each change lives in the memory of a forked process.
"""

from __future__ import annotations

import argparse
import random
import sys
import time
from collections import Counter
from dataclasses import dataclass, field

import yaml
from rich.console import Console
from rich.table import Table

from tests.mutants.operators import ROOT, Mutant, list_mutants
from tests.mutants.rooms import ROOMS
from tests.mutants.runner import Bench, run_bench

WANTED = 0.9
EQUIVALENT = ROOT / "tests/mutants/equivalent.yaml"
"""Changes that no test can notice, since what comes out is the same; each says why."""
Known = dict[tuple[str, str, str], str]


@dataclass
class Outcome:
    """What became of the mutants of a room."""

    possible: int = 0
    tried: int = 0
    caught: int = 0
    equivalent: int = 0
    survived: list[Mutant] = field(default_factory=list)
    seconds: float = 0.0

    @property
    def share(self) -> float:
        """The part that was caught."""
        return self.caught / self.tried if self.tried else 1.0


def read_equivalent() -> Known:
    """Mutants that change nothing, by file, function and change: why."""
    rows = yaml.safe_load(EQUIVALENT.read_text(encoding="utf-8")) or []
    return {(row["file"], row["within"], row["change"]): row["why"] for row in rows}


def try_room(room: str, *, sample: int, seed: int, only: str, console: Console) -> Outcome:
    """Try the mutants of a room, or a sample of them."""
    files = [f for f in ROOMS[room].list_files() if only in f]
    mutants = [m for f in files for m in list_mutants(f)]
    chosen = random.Random(seed).sample(mutants, min(sample, len(mutants))) if sample else mutants
    outcome, known = Outcome(possible=len(mutants)), read_equivalent()

    def try_all(bench: Bench) -> None:
        console.print(f"{room}: {len(bench.items)} tests run in {sum(bench.seconds.values()):.0f} s")
        bench.refuse_unforkable()
        for mutant in sorted(chosen, key=lambda m: (m.file, m.line)):
            if (mutant.file, mutant.within, mutant.change) in known:
                outcome.equivalent += 1
                continue
            outcome.tried += 1
            tests = bench.tests_for(mutant.file, mutant.lines) if mutant.lines else bench.all_tests()
            if tests and bench.is_caught(mutant.file, mutant.build(), tests, mutant.lines):
                outcome.caught += 1
                continue
            outcome.survived.append(mutant)
            reached = f"{len(tests)} tests reach it" if tests else "no test reaches it"
            console.print(f"{mutant.file}:{mutant.line} {mutant.within}: {mutant.change} ({reached})", markup=False, highlight=False)

    started = time.perf_counter()
    if run_bench(files, ROOMS[room].tests, try_all, longest=ROOMS[room].longest, too_slow=ROOMS[room].too_slow):
        raise SystemExit(2)
    outcome.seconds = time.perf_counter() - started
    return outcome


def tell_outcomes(outcomes: dict[str, Outcome], seed: int, console: Console) -> None:
    """Print the table, a line a room."""
    table = Table(title=f"Mutants (seed {seed})")
    for column in ("room", "possible", "tried", "caught", "survived", "change nothing", "share", "seconds"):
        table.add_column(column, justify="left" if column == "room" else "right")
    for room, o in outcomes.items():
        cells = (o.possible, o.tried, o.caught, len(o.survived), o.equivalent, f"{o.share:.1%}", f"{o.seconds:.0f}")
        table.add_row(room, *map(str, cells))
    console.print(table)
    by_file = Counter(m.file for o in outcomes.values() for m in o.survived)
    for file, number in by_file.most_common():
        console.print(f"{number:4} survived in {file}", markup=False, highlight=False)


def main(arguments: list[str]) -> int:
    """Read the options, try the rooms, print; 1 where a room has under nine in ten caught."""
    parser = argparse.ArgumentParser(prog="python -m tests.mutants", description=__doc__)
    parser.add_argument("--room", choices=ROOMS, action="append", help="this room only; may be given again")
    parser.add_argument("--sample", type=int, default=0, help="so many mutants a room, drawn by the seed; without it all")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--file", default="", help="only files that have this in their path")
    asked = parser.parse_args(arguments)
    console = Console(width=200)
    outcomes = {
        room: try_room(room, sample=asked.sample, seed=asked.seed, only=asked.file, console=console) for room in asked.room or ROOMS
    }
    tell_outcomes(outcomes, asked.seed, console)
    return int(any(o.share < WANTED for o in outcomes.values()))


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
