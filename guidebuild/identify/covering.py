"""Smallest sets of columns that together cover everything wanted: exact by branch and bound, greedy beyond a size."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field

STEPS = 200_000
"""Branches looked at before the exact search gives up (a count, not a time: the same answer on any machine)."""
TIES = 100
"""So many equally small sets are listed at most."""


@dataclass(frozen=True, slots=True)
class Cover:
    """Sets of column numbers that cover all that can be covered.

    `smallest` are all the smallest ones where `exact`, else the one found greedily; no set is smaller than
    `at_least`, and where not exact a greedy set is at most `factor` times the smallest (1 + ln of the most that one
    column covers; Chvátal 1979, from memory). `uncovered` is what no column covers.
    """

    smallest: tuple[tuple[int, ...], ...]
    exact: bool
    at_least: int
    factor: float
    uncovered: int


def find_covers(wanted: int, columns: Sequence[int], *, exact_columns: int) -> Cover:
    """Cover the set bits of `wanted`; exact where at most `exact_columns` columns cover anything."""
    reachable = 0
    for column in columns:
        reachable |= column & wanted
    useful = [(number, column & wanted) for number, column in enumerate(columns) if column & wanted]
    if not reachable:
        return Cover(((),), exact=True, at_least=0, factor=1.0, uncovered=wanted)
    greedy = _greedy(reachable, useful)
    most = max(taxa.bit_count() for _, taxa in useful)
    at_least = max(1, -(-reachable.bit_count() // most))
    if len(useful) <= exact_columns:
        search = _Search(useful, len(greedy))
        search.run(reachable)
        if not search.gave_up:
            found = tuple(sorted(search.found))
            return Cover(found, exact=True, at_least=len(found[0]), factor=1.0, uncovered=wanted & ~reachable)
    return Cover((tuple(sorted(greedy)),), exact=False, at_least=at_least, factor=1 + math.log(most), uncovered=wanted & ~reachable)


def _greedy(wanted: int, useful: Sequence[tuple[int, int]]) -> list[int]:
    chosen = []
    while wanted:
        number, taxa = max(useful, key=lambda column: ((column[1] & wanted).bit_count(), -column[0]))
        chosen.append(number)
        wanted &= ~taxa
    return chosen


@dataclass(slots=True)
class _Search:
    """Branches on the thing that fewest columns cover; bounded by how much one column can still cover."""

    useful: Sequence[tuple[int, int]]
    best: int
    found: set[tuple[int, ...]] = field(default_factory=set)
    steps: int = 0
    _order: list[tuple[int, list[tuple[int, int]]]] = field(default_factory=list)

    @property
    def gave_up(self) -> bool:
        return self.steps > STEPS

    def run(self, wanted: int) -> None:
        """Find all smallest sets. What is sure to be covered along with something else need not be looked at."""
        self._order = _needed(wanted, self.useful)
        self._branch(sum(bit for bit, _ in self._order), (), 0)

    def _branch(self, wanted: int, chosen: tuple[int, ...], barred: int) -> None:
        self.steps += 1
        if self.gave_up:
            return
        if not wanted:
            self._keep(chosen)
            return
        most = max(((taxa & wanted).bit_count() for number, taxa in self.useful if not barred >> number & 1), default=0)
        if not most or len(chosen) + -(-wanted.bit_count() // most) > self.best:
            return
        covering = next(columns for bit, columns in self._order if bit & wanted)
        for number, taxa in covering:
            if not barred >> number & 1:
                self._branch(wanted & ~taxa, (*chosen, number), barred)
                barred |= 1 << number  # sets with this column have all been seen

    def _keep(self, chosen: tuple[int, ...]) -> None:
        if len(chosen) < self.best:
            self.best = len(chosen)
            self.found.clear()
        if len(self.found) < TIES:
            self.found.add(tuple(sorted(chosen)))


def _needed(wanted: int, useful: Sequence[tuple[int, int]]) -> list[tuple[int, list[tuple[int, int]]]]:
    """Each thing wanted with the columns that cover it, fewest first, without those that another thing implies."""
    covering: dict[int, int] = {}  # set of columns -> one thing that just these cover
    while wanted:
        bit = wanted & -wanted
        wanted ^= bit
        covering.setdefault(sum(1 << number for number, taxa in useful if taxa & bit), bit)
    least: list[int] = []
    for columns in sorted(covering, key=lambda c: (c.bit_count(), c)):
        if not any(fewer & columns == fewer for fewer in least):
            least.append(columns)
    return [(covering[columns], [(n, taxa) for n, taxa in useful if columns >> n & 1]) for columns in least]
