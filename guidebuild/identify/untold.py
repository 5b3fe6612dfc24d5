"""Pairs of taxa that a key leaves together, and which character, if it were scored, would most likely tell them apart."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import islice

from guidebuild.guide.characters import Character
from guidebuild.identify.columns import Column, Matrix, places_in, separated_sets, unseparated_sets

NAMED = 3
"""So many characters are named for a pair."""


@dataclass(frozen=True, slots=True)
class UntoldPair:
    """Two ids that nothing scored tells apart in the matrix's scope, and characters not scored for both: the likeliest to tell first."""

    first: str
    second: str
    would_tell: tuple[Character, ...]


@dataclass(frozen=True, slots=True)
class Untold:
    """Some of the pairs, and how many there are."""

    pairs: tuple[UntoldPair, ...]
    count: int


def find_untold(matrix: Matrix, *, most: int) -> Untold:
    """The pairs that no column separates, `most` of them looked into."""
    alike = unseparated_sets(matrix)
    pairs = ((one, other) for one, others in enumerate(alike) for other in places_in(others >> one << one))
    shares = [_share_told(matrix, column) for column in matrix.columns]
    looked = tuple(
        UntoldPair(matrix.taxa[one], matrix.taxa[other], tuple(islice(_would_tell(matrix, shares, one, other), NAMED)))
        for one, other in islice(pairs, most)
    )
    return Untold(looked, sum(others.bit_count() for others in alike) // 2)


def _share_told(matrix: Matrix, column: Column) -> float:
    """The share of the pairs scored for a column that it tells apart: how likely it tells a further one."""
    scored = (matrix.everything & ~column.open).bit_count()
    told = sum(others.bit_count() for others in separated_sets(matrix, column))
    return told / (scored * (scored - 1)) if scored > 1 else 0.0


def _would_tell(matrix: Matrix, shares: list[float], one: int, other: int) -> Iterator[Character]:
    """Characters that either is not scored for, and that both may show; of equally likely ones the easier to see."""
    both = 1 << one | 1 << other
    wanting = [number for number, column in enumerate(matrix.columns) if column.unknown & both and not column.inapplicable & both]
    for number in sorted(wanting, key=lambda number: (-shares[number], matrix.columns[number].ease)):
        yield matrix.columns[number].character
