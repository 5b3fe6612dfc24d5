"""The questions a key may ask: every way to divide the taxa by one character."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import reduce
from itertools import combinations
from operator import or_

from guidebuild.guide.characters import CharacterKind, Ease
from guidebuild.identify.columns import Column, Matrix, places_in
from guidebuild.identify.ranges import RangeSets

COST: dict[Ease, float] = {
    Ease.AT_A_DISTANCE: 1.0,
    Ease.CLOSE_UP: 1.1,
    Ease.IN_THE_HAND: 1.5,
    Ease.UNDER_A_LENS: 2.2,
}
"""What a question costs the reader by ease, in steps at a distance. Our own figures (no source gives any)."""

MORE_STATES = 0.015
"""A lead that joins several states is harder to read: so much more cost for each state beyond one a lead. Our own figure."""

RARE = 0.1
"""A state seen rarely weighs so much of a usual one."""

FEW_STATES = 4
"""Up to so many states, a two-way question may set any of them against the rest."""


@dataclass(frozen=True, slots=True)
class Split:
    """One question: the taxa that may go along each lead, and those that usually do.

    `states` are the state numbers of each lead; a range has a `cut` instead (lead 0: under it, lead 1: it or more).
    Taxa whose value is not known go along every lead.
    """

    column: int
    cost: float
    masks: tuple[int, ...]
    usual: tuple[int, ...]
    states: tuple[tuple[int, ...], ...] = ()
    cut: float = math.nan


def splits_of(matrix: Matrix, *, dichotomous: bool) -> list[Split]:
    """All questions on a table, cheapest first, then in the order of the columns."""
    found = [s for number, column in enumerate(matrix.columns) for s in _splits(number, column, dichotomous=dichotomous)]
    return sorted(found, key=lambda s: s.cost)


def _splits(number: int, column: Column, *, dichotomous: bool) -> Iterator[Split]:
    if column.is_range:
        yield from _cuts(number, column)
        return
    states = [s for s, taxa in enumerate(column.possible) if taxa]
    if len(states) < 2:
        return
    ways = _two_way(column, states) if dichotomous and len(states) > 2 else [tuple((s,) for s in states)]
    for leads in ways:
        masks = tuple(column.open | reduce(or_, (column.possible[s] for s in lead)) for lead in leads)
        usual = tuple(column.open | reduce(or_, (column.usual[s] for s in lead)) for lead in leads)
        cost = COST[column.ease] * (1 + MORE_STATES * (sum(map(len, leads)) - len(leads)))
        yield Split(number, cost, masks, masks if usual == masks else usual, leads)


def _two_way(column: Column, states: list[int]) -> list[tuple[tuple[int, ...], ...]]:
    """One state against the rest, ordered states cut between neighbours, pairs of few, and what varying taxa show."""
    chosen: dict[tuple[int, ...], None] = {(s,): None for s in states}
    if column.character.kind is CharacterKind.ORDERED:
        chosen |= {tuple(states[:cut]): None for cut in range(1, len(states))}
    elif len(states) == FEW_STATES:
        chosen |= {pair: None for pair in combinations(states, 2) if states[0] in pair}
    chosen |= dict.fromkeys(_varying(column, states))
    ways: dict[frozenset[tuple[int, ...]], tuple[tuple[int, ...], ...]] = {}
    for lead in chosen:
        rest = tuple(s for s in states if s not in lead)
        ways.setdefault(frozenset((lead, rest)), (lead, rest))
    return list(ways.values())


def _varying(column: Column, states: list[int]) -> list[tuple[int, ...]]:
    """Sets of several states that one taxon may show: only together can they be set against another taxon's."""
    several = reduce(or_, (column.possible[a] & column.possible[b] for a, b in combinations(states, 2)), 0)
    shown = {tuple(s for s in states if column.possible[s] >> place & 1) for place in places_in(several)}
    return sorted(lead for lead in shown if len(lead) < len(states))


def _cuts(number: int, column: Column) -> Iterator[Split]:
    """Cut a range wherever a gap, at least the margin, parts some taxa; those that span the cut go both ways."""
    ranges, margin = RangeSets(column.bounds), column.character.margin
    done: set[tuple[int, int]] = set()
    for end, start in ranges.gaps(margin):
        cut = find_roundest(end + margin / 2, start - margin / 2)
        masks = (column.open | ranges.under(cut, margin), column.open | ranges.reaching(cut, margin))
        if masks not in done:
            done.add(masks)
            yield Split(number, COST[column.ease], masks, masks, cut=cut)


def find_roundest(low: float, high: float) -> float:
    """Pick the number with fewest digits from `low` to `high`, the middle-most of such, so that it is easily read off."""
    middle = (low + high) / 2
    for digits in range(-2, 12):
        scaled = middle * 10.0**digits
        for whole in (round(scaled), math.ceil(scaled)):
            found = round(whole / 10.0**digits, max(digits, 0))
            if low < found <= high:
                return found
    return high
