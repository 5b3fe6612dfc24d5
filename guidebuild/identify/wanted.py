"""Which scores a table lacks most: those that would part most pairs of species, worked out from what the others show."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from heapq import heapify, heappop, heappush

from guidebuild.guide.characters import Character
from guidebuild.identify.columns import Column, Matrix, places_in, separated_sets, unseparated_sets

HELPFUL = 40
"""So many scores are named: an evening's work."""
_STEPS = 16
"""Likelihoods are counted in so many steps, so that taxa of one likelihood are counted together."""


@dataclass(frozen=True, slots=True)
class WantedScores:
    """How many scores a table lacks of all that could be scored, and those that would help most: (character, ids of accounts)."""

    missing: int
    possible: int
    helpful: tuple[tuple[Character, tuple[str, ...]], ...]

    @property
    def count(self) -> int:
        """How many scores are named."""
        return sum(len(ids) for _, ids in self.helpful)


def find_wanted(matrix: Matrix, *, most: int = HELPFUL) -> WantedScores:
    """Find the missing scores that would part most pairs.

    A score of a species parts it from another as likely as the others scored for that character are parted from that one. Pairs that
    nothing parts yet count first, each as far as the scores chosen before leave it; then pairs that something parts already, since
    a character that is scored for nearly all asks each species once.
    """
    alike = unseparated_sets(matrix)
    left = [1.0] * len(matrix.taxa)  # of a species' pairs that nothing parts, the share that the scores chosen so far leave
    weighed = [(number, *missing) for number, column in enumerate(matrix.columns) for missing in _weigh_missing(matrix, column, alike)]
    waiting = [(-new, -known, number, place, new) for number, place, new, known in weighed]
    heapify(waiting)
    chosen: dict[int, list[int]] = {number: [] for number in range(len(matrix.columns))}
    while waiting and most:
        worth, known, number, place, new = heappop(waiting)
        now = -new * left[place]
        if now > worth:  # a score chosen since does some of its work
            heappush(waiting, (now, known, number, place, new))
            continue
        most -= 1
        chosen[number].append(place)
        if new:
            left[place] *= 1 - new / alike[place].bit_count()
    return WantedScores(
        missing=sum(column.unknown.bit_count() for column in matrix.columns),
        possible=sum(len(matrix.taxa) - column.inapplicable.bit_count() for column in matrix.columns),
        helpful=tuple(
            (matrix.columns[number].character, tuple(matrix.taxa[place] for place in sorted(places)))
            for number, places in chosen.items()
            if places
        ),
    )


def _weigh_missing(matrix: Matrix, column: Column, alike: tuple[int, ...]) -> Iterator[tuple[int, float, float]]:
    """For each taxon that a column is not scored for: how many pairs its score would part, of those that nothing parts and of all."""
    scored = matrix.everything & ~column.open
    if not scored:
        return
    apart, whole = separated_sets(matrix, column), scored.bit_count()
    likely: dict[int, int] = {}  # the taxa from which so many steps of the others are parted
    for place in places_in(scored):
        step = round(_STEPS * apart[place].bit_count() / whole)
        likely[step] = likely.get(step, 0) | 1 << place
    known = sum(step * taxa.bit_count() for step, taxa in likely.items()) / _STEPS
    for place in places_in(column.unknown):
        yield place, sum(step * (taxa & alike[place]).bit_count() for step, taxa in likely.items()) / _STEPS, known
