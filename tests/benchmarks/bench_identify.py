"""Keys and comparisons of large guides, as ratios to fitting a decision tree on the same table in the same run.

    python -m tests.benchmarks.bench_identify

The risk: a guide of a thousand species makes an author wait minutes for its key, or for knowing that two species coincide.
The floor is scikit-learn's DecisionTreeClassifier(criterion="entropy"), compiled code that does a like job. Ends with 1 where
the key of 1,000 taxa × 60 four-state characters takes more than 3 times as long, written out couplets and all; with 30 % of its scores
unknown, no more either, and with 60 %, no more than 10 times. The tree is given the whole table: it has no way with gaps.
"""

from __future__ import annotations

import random
import sys
import time
import warnings
from collections.abc import Callable, Iterator
from dataclasses import replace

import numpy as np
from sklearn.tree import DecisionTreeClassifier

from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Character, CharacterKind, Score, State
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide, Settings
from guidebuild.guide.names import ScientificName
from guidebuild.identify.columns import COMMONNESS, matrix_of, unseparated_sets
from guidebuild.identify.key import make_key
from tests.benchmarks.rows import Row, told

SIZES = (100, 300, 1000, 3000)
STATED = 1000
CHARACTERS = 60
STATES = "abcd"
GAP = "-"
LIMIT = 3.0
UNKNOWN = {0.3: 3.0, 0.6: 10.0}
"""Shares of the scores that nobody wrote down, and how many times the tree's time a two-way key may take then."""


def rows_of(taxa: int) -> list[str]:
    """Invented rows, each state as likely as any other."""
    draw = random.Random(taxa)
    return ["".join(draw.choices(STATES, k=CHARACTERS)) for _ in range(taxa)]


def with_gaps(rows: list[str], share: float) -> list[str]:
    """The same rows with a share of their states unknown."""
    draw = random.Random(f"gaps {share}")
    return ["".join(GAP if draw.random() < share else state for state in row) for row in rows]


def guide_of(rows: list[str]) -> Guide:
    """An invented guide of these rows."""
    states = tuple(State(s, s) for s in STATES)
    characters = {f"c{n}": Character(f"c{n}", f"c{n}", CharacterKind.STATES, states) for n in range(CHARACTERS)}
    accounts = {
        f"t{n}": Account(
            f"t{n}",
            ScientificName("Inventus", "Inventus"),
            "",
            At("accounts"),
            scores=tuple(Score(f"c{c}", states=frozenset(state)) for c, state in enumerate(row) if state != GAP),
        )
        for n, row in enumerate(rows)
    }
    return Guide(Settings("Invented"), accounts=accounts, characters=characters)


def fastest(work: Callable[[], object], rounds: int = 3) -> float:
    """The least of a few runs, in seconds of the processor."""
    times = []
    for _ in range(rounds):
        start = time.process_time()
        work()
        times.append(time.process_time() - start)
    return min(times)


def fit(rows: list[str]) -> Callable[[], object]:
    """Fitting the floor's tree; it warns that every row is a class of its own, which is what a key is."""
    values = np.array([[STATES.index(s) for s in row] for row in rows], dtype=np.float32)
    classes = np.arange(len(rows))

    def work() -> object:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", UserWarning)
            return DecisionTreeClassifier(criterion="entropy").fit(values, classes)

    return work


def rows() -> Iterator[Row]:
    """Keys of guides of each size; the limit holds for one of a thousand species."""
    for taxa in SIZES:
        table = rows_of(taxa)
        matrix = matrix_of(guide_of(table))
        rounds = 3 if taxa <= STATED else 1
        floor = fastest(fit(table), rounds)
        for kind, dichotomous in (("two-way", True), ("many-way", False)):
            key = fastest(lambda d=dichotomous, m=matrix: make_key(m, dichotomous=d, thorough=False), rounds)
            what = f"{kind} key of {taxa:,} species, beside fitting a decision tree"
            yield Row(what, f"{floor:.3f} s", f"{key:.3f} s", key / floor, LIMIT if taxa == STATED else None)
        pairs = fastest(lambda m=matrix: unseparated_sets(m), rounds)
        yield Row(f"all pairs of {taxa:,} species told apart", f"{floor:.3f} s", f"{pairs:.3f} s", pairs / floor)
    table = rows_of(STATED)
    floor = fastest(fit(table))
    for share, limit in UNKNOWN.items():
        matrix = matrix_of(guide_of(with_gaps(table, share)))
        key = fastest(lambda m=matrix: make_key(m, dichotomous=True, thorough=False))
        what = f"two-way key of {STATED:,} species, {share:.0%} of their scores unknown, beside the same tree"
        said = "" if make_key(matrix, dichotomous=True, thorough=False).couplets else ", too little for a key"
        yield Row(what, f"{floor:.3f} s", f"{key:.3f} s{said}", key / floor, limit)
    yield from _unlike(table, floor)


def _unlike(table: list[str], floor: float) -> Iterator[Row]:
    """Of species that are not equally common, as a guide's are: what is met more often is keyed in fewer steps."""
    draw = random.Random("common")
    for share in (0.0, 0.3):
        matrix = matrix_of(guide_of(with_gaps(table, share)))
        unlike = replace(matrix, weights=tuple(draw.choice(sorted(set(COMMONNESS.values()))) for _ in matrix.taxa))
        key = fastest(lambda m=unlike: make_key(m, dichotomous=True, thorough=False), 1)
        what = f"the same of species that are not equally common, {share:.0%} unknown"
        yield Row(what, f"{floor:.3f} s", f"{key:.3f} s", key / floor, LIMIT)


if __name__ == "__main__":
    sys.exit(told(rows))
