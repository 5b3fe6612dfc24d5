"""Plan a key: which question to ask of which taxa, so that a reader needs the fewest and easiest steps.

The aim is the least sum, over all taxa and all questions each is asked, of how common the taxon is times what the
question costs its reader. The best key of all cannot be found in reasonable time (Hyafil & Rivest 1976), so at each
couplet the question with most information for its cost is taken. On tables of ordinary size the few best questions are
followed to their ends and the one whose whole key is cheapest is taken; a handful of taxa are solved exactly.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from heapq import heappop, heappush

from guidebuild.identify.columns import Matrix, unseparated_sets
from guidebuild.identify.information import least_path, weighted_bits
from guidebuild.identify.splits import RARE, Split, splits_of
from guidebuild.later import imported_when_used

with imported_when_used():  # a check asks for no key, and does without the library for numbers
    from guidebuild.identify import weighed_questions

EXACT = 10
"""So many taxa or fewer are keyed in the best way there is."""
THOROUGH = 120
"""Up to so many taxa the few best questions are followed to their ends; beyond, the first choice is kept."""
WIDTH = 8
"""How many questions are followed."""
BUDGET = 120_000
"""Looking ahead stops after weighing so many questions (a count, not a time: the same key comes out on any machine)."""
LONGEST, LONGEST_AT_LEAST = 8, 100
"""A key stops at so many couplets a taxon, and so many more; only where most characters are not scored is it ever so long."""

EMPTY, OFTEN = 0.5, 3
"""A table with more than this share of its scores missing has no key as soon as a taxon would come out in more places than so many."""

TINY = 1e-9

Waiting = tuple[float, int, int, list[Split], int, int]
"""What still has to be grown: how seldom it is reached, its turn, its taxa, the questions left, what it hangs from."""
Parts = tuple[tuple[int, int], ...]
"""The leads that some taxon takes: lead number and the taxa along it."""


@dataclass(frozen=True, slots=True)
class Branch:
    """A point of the key: the taxa that reach it and either a question with where its leads go, or the end.

    `leads` are pairs of a lead number of the split and the place of the branch it goes to.
    """

    taxa: int
    split: Split | None = None
    leads: tuple[tuple[int, int], ...] = ()


@dataclass(slots=True)
class Planner:
    """Works out one key; remembers what it has worked out for each set of taxa."""

    matrix: Matrix
    dichotomous: bool
    thorough: bool
    _greedy: dict[int, float] = field(default_factory=dict)
    _best: dict[int, tuple[float, Split | None]] = field(default_factory=dict)
    _groups: list[tuple[int, int]] = field(default_factory=list)  # each weight with the taxa of that weight
    _even: bool = False  # all weigh the same, and are counted as 1
    _bits: list[float] = field(default_factory=list)
    _questions: weighed_questions.WeighedQuestions = field(init=False)
    _chosen: dict[int, Split | None] = field(default_factory=dict)
    _waiting: list[Waiting] = field(default_factory=list)
    _work: int = 0
    _bounded: bool = False  # every pair is separated, so that a least cost is known for any set
    _cheapest: float = 1.0
    _most_leads: int = 2

    def branches(self) -> list[Branch]:
        """Plan the key: branches in the order one reads them, each before those its leads go to."""
        by_weight: dict[int, int] = {}
        for place, weight in enumerate(self.matrix.weights):
            by_weight[weight] = by_weight.get(weight, 0) | 1 << place
        self._groups = sorted(by_weight.items())
        self._even = len(self._groups) == 1
        self._bits = [weighted_bits((n,)) for n in range(len(self.matrix.taxa) + 1)]
        splits = splits_of(self.matrix, dichotomous=self.dichotomous)
        weights = [1] * len(self.matrix.taxa) if self._even else self.matrix.weights
        self._questions = weighed_questions.WeighedQuestions(splits, weights)
        self._cheapest = min((s.cost for s in splits), default=1.0)
        self._most_leads = max((len(s.masks) for s in splits), default=2)
        self._bounded = self.thorough and not any(unseparated_sets(self.matrix))
        return self._grow(splits)

    def cost(self, branches: list[Branch]) -> float:
        """Sum up what a planned key costs its readers."""
        return sum(self._weight(b.taxa) * b.split.cost for b in branches if b.split)

    def _grow(self, splits: list[Split]) -> list[Branch]:
        """Ask on, where most readers arrive first, so that a key that must be cut short is cut where fewest come.

        Nothing is grown of a table so empty that each taxon would come out in many places.
        """
        grown: list[tuple[int, Split | None]] = []
        leads: list[list[tuple[int, int]]] = []
        waiting = self._waiting = [(-1.0, 0, self.matrix.everything, splits, -1, 0)]
        turn, couplets_left = 0, LONGEST * len(self.matrix.taxa) + LONGEST_AT_LEAST
        most, places = OFTEN * len(self.matrix.taxa) if is_empty(self.matrix) else math.inf, len(self.matrix.taxa)
        while waiting:
            seldom, _, taxa, left, parent, lead = heappop(waiting)
            if parent >= 0:
                leads[parent].append((lead, len(grown)))
            split, parts, useful = self._choose(taxa, left) if couplets_left else (None, (), [])
            couplets_left -= split is not None
            weights = [self._weight(part) for _, part in parts]
            if parts and most < math.inf:
                places += sum([part.bit_count() for _, part in parts]) - taxa.bit_count()
                if places > most:
                    return []
            total = sum(weights)
            for (number, part), weight in zip(parts, weights, strict=True):
                turn += 1
                heappush(waiting, (seldom * weight / total, turn, part, useful, len(grown), number))
            grown.append((taxa, split))
            leads.append([])
        return _in_reading_order(grown, leads)

    def _choose(self, taxa: int, splits: list[Split]) -> tuple[Split | None, Parts, list[Split]]:
        if taxa.bit_count() < 2:
            return None, (), []
        if not self.thorough or (self._work > BUDGET and taxa.bit_count() > EXACT):
            split, useful = self._first_choice(taxa), splits
        else:
            useful = self._dividing(splits, taxa)
            split = self._looking_ahead(taxa, useful)
        return (split, parts_of(split, taxa), useful) if split else (None, (), [])

    def _first_choice(self, taxa: int) -> Split | None:
        """The most informing split; for all that wait for one, it is looked for at once."""
        if taxa not in self._chosen:
            asked = [taxa, *(other for _, _, other, *_ in self._waiting if other.bit_count() > 1 and other not in self._chosen)]
            self._chosen |= self._questions.most_informing(asked)
        return self._chosen[taxa]

    def _score(self, split: Split, parts: Sequence[int], taxa: int, before: float) -> float:
        """Bits that the answer gives for its cost.

        Taxa that go along several leads are met along each of them less often, and lengthen the key: the bits left are
        averaged over the leads as often as each is taken, and the gain is lessened by how much is repeated.
        """
        if self._even and split.usual is split.masks:
            counts = [part.bit_count() for part in parts]
            left, total, whole = sum([self._bits[n] for n in counts]), sum(counts), taxa.bit_count()
            if total == whole:
                return (before - left) / split.cost
            return (before - left * whole / total) * whole / total / split.cost
        weights = [self._weight(part & usual) + RARE * self._weight(part & ~usual) for part, usual in zip(parts, split.usual, strict=True)]
        after, spread = weighted_bits(weights), self._weight(taxa) / sum(weights)
        return (before - after * spread) * min(1.0, spread) / split.cost

    def _weighted_bits(self, taxa: int) -> float:
        if self._even:
            return self._bits[taxa.bit_count()]
        return weighted_bits((self._weight(taxa),))

    def _weight(self, taxa: int) -> float:
        if self._even:
            return taxa.bit_count()
        return sum(weight * (taxa & group).bit_count() for weight, group in self._groups)

    def _looking_ahead(self, taxa: int, useful: list[Split]) -> Split | None:
        """Follow the few most informing splits to their ends and take the one whose key costs least."""
        if taxa.bit_count() <= EXACT:
            return self._exact(taxa, useful)[1]
        least, cheapest, chosen = self._least(taxa), math.inf, None
        for _, split, parts in self._ranked(taxa, useful)[:WIDTH]:
            if chosen and self._work > BUDGET:
                break
            cost = self._cost_of(split, parts, taxa, useful)
            if chosen and self._work > BUDGET:
                break  # this one was not followed to its ends, and would look cheaper than it is
            if cost < cheapest - TINY:
                cheapest, chosen = cost, split
            if cheapest <= least + TINY:
                break
        return chosen

    def _ranked(self, taxa: int, useful: list[Split]) -> list[tuple[float, Split, Parts]]:
        """Rank splits, most information for the cost first; of those that divide alike, only the cheapest."""
        self._work += len(useful)
        before = self._weighted_bits(taxa)
        alike: dict[tuple[int, ...], tuple[float, Split, Parts]] = {}
        for split in useful:
            parts = parts_of(split, taxa)
            key = tuple(sorted(part for _, part in parts))
            if key not in alike:
                alike[key] = (self._score(split, [mask & taxa for mask in split.masks], taxa, before), split, parts)
        return sorted(alike.values(), key=lambda ranked: -ranked[0])

    def _cost_of(self, split: Split, parts: Parts, taxa: int, useful: list[Split]) -> float:
        """Cost of asking this and keying each lead as far as looked ahead."""
        return self._weight(taxa) * split.cost + sum(self._onward(part, useful) for _, part in parts)

    def _onward(self, taxa: int, splits: list[Split]) -> float:
        """Cost of a key of these taxa: exact for a handful, else by always taking the most informing split; 0 where all work is done."""
        if taxa.bit_count() < 2 or self._work > BUDGET:
            return 0.0
        if taxa not in self._greedy:
            useful = self._dividing(splits, taxa)
            if taxa.bit_count() <= EXACT:
                self._greedy[taxa] = self._exact(taxa, useful)[0]
            else:
                self._work += len(useful)
                split = self._questions.most_informing([taxa])[taxa]
                self._greedy[taxa] = self._cost_of(split, parts_of(split, taxa), taxa, useful) if split else 0.0
        return self._greedy[taxa]

    def _exact(self, taxa: int, splits: list[Split]) -> tuple[float, Split | None]:
        """Find the cheapest key of a handful of taxa: every division tried, branches that cost too much dropped."""
        if taxa not in self._best:
            useful = self._dividing(splits, taxa)
            ranked = self._ranked(taxa, useful)
            best, chosen = (math.inf, None) if ranked else (0.0, None)
            least = self._least(taxa)
            for _, split, parts in ranked:
                cost = self._exact_cost(split, parts, taxa, useful, best)
                if cost < best - TINY:
                    best, chosen = cost, split
                if best <= least + TINY or (self._work > BUDGET and chosen):
                    break
            self._best[taxa] = (best, chosen)
        return self._best[taxa]

    def _exact_cost(self, split: Split, parts: Parts, taxa: int, useful: list[Split], limit: float) -> float:
        """Cost of a split with the cheapest keys below it; infinite as soon as it is sure to reach the limit."""
        cost = self._weight(taxa) * split.cost + sum(self._least(part) for _, part in parts)
        for _, part in parts:
            if cost >= limit - TINY:
                return math.inf
            if part.bit_count() > 1:
                cost += self._exact(part, useful)[0] - self._least(part)
        return cost

    def _least(self, taxa: int) -> float:
        """Cost that no key of these taxa can go below: Knuth's least path, or the entropy of their weights."""
        if not self._bounded or taxa.bit_count() < 2:
            return 0.0
        if self._even and self._most_leads == 2:
            return least_path(taxa.bit_count()) * self._cheapest
        alone = 0.0 if self._even else sum(w * math.log2(w) * (taxa & group).bit_count() for w, group in self._groups)
        return (self._weighted_bits(taxa) - alone) / math.log2(self._most_leads) * self._cheapest

    def _dividing(self, splits: list[Split], taxa: int) -> list[Split]:
        self._work += len(splits)
        return [s for s in splits if does_divide(s, taxa)]


def _in_reading_order(grown: list[tuple[int, Split | None]], leads: list[list[tuple[int, int]]]) -> list[Branch]:
    """The branches of what was grown, so that each stands before what its first lead goes to, that before what its second goes to."""
    order: list[int] = []
    waiting = [0]
    while waiting:
        place = waiting.pop()
        order.append(place)
        leads[place].sort()
        waiting += [goes for _, goes in reversed(leads[place])]
    new = {place: number for number, place in enumerate(order)}
    return [Branch(*grown[place], tuple([(lead, new[goes]) for lead, goes in leads[place]])) for place in order]


def does_divide(split: Split, taxa: int) -> bool:
    """Whether every lead of a question rules out at least one of these taxa."""
    return all(mask & taxa != taxa for mask in split.masks)


def parts_of(split: Split, taxa: int) -> Parts:
    """Divide taxa along the leads that any of them takes."""
    return tuple([(number, part) for number, mask in enumerate(split.masks) if (part := mask & taxa)])


def is_empty(matrix: Matrix) -> bool:
    """Whether more than half of what could be scored is not."""
    unknown = sum(column.unknown.bit_count() for column in matrix.columns)
    return unknown > EMPTY * len(matrix.taxa) * len(matrix.columns)


def has_key(matrix: Matrix) -> bool:
    """Whether enough is scored for a key."""
    return not is_empty(matrix) or bool(plan_key(matrix, dichotomous=True, thorough=False))


def plan_key(matrix: Matrix, *, dichotomous: bool, thorough: bool | None = None) -> list[Branch]:
    """Plan a key of a table; `thorough` is decided by its size where not given. There is none of a table that is too empty."""
    if not matrix.taxa:
        return []
    quick = Planner(matrix, dichotomous, thorough=False)
    branches = quick.branches()
    if not branches or thorough is False or (thorough is None and len(matrix.taxa) > THOROUGH):
        return branches
    deeper = Planner(matrix, dichotomous, thorough=True).branches()
    return min(branches, deeper, key=quick.cost)
