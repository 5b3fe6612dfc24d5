"""Shortest diagnoses: the fewest characters that tell one taxon from the others, and all sets as short, easiest first."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from guidebuild.guide.characters import Character
from guidebuild.guide.facts import AnyGuide
from guidebuild.identify.columns import Column, Matrix, Sheet, matrix_of
from guidebuild.identify.covering import find_covers
from guidebuild.identify.ranges import RangeSets
from guidebuild.identify.readings import Scope, reading_in, scores_by_character, value_words
from guidebuild.identify.splits import COST
from guidebuild.words import words

EXACT_CHARACTERS = 40
"""Up to so many characters that separate anything, the shortest diagnosis is exact."""


@dataclass(frozen=True, slots=True)
class DiagnosticCharacter:
    """One character of a diagnosis and what the taxon shows of it."""

    character: Character
    words: str


@dataclass(frozen=True, slots=True)
class Diagnosis:
    """The shortest diagnoses of a taxon against others.

    `sets` are equally short sets of characters, the easiest to see first; all of them where `exact`, else one found
    greedily, at most `factor` times as long as the shortest, which has at least `at_least` characters. `untold` are
    taxa that nothing separates it from; `against` all it is held against.
    """

    taxon: str
    against: tuple[str, ...]
    sets: tuple[tuple[DiagnosticCharacter, ...], ...]
    exact: bool
    at_least: int
    factor: float
    untold: tuple[str, ...]
    scope: Scope


def diagnose(
    guide: AnyGuide, taxon: str, *, against: Iterable[str] | None = None, scope: Scope | None = None, matrix: Matrix | None = None
) -> Diagnosis:
    """Find the shortest diagnoses of an account (id) against others (ids), by default against the whole guide.

    For the stage that the key is for where no scope is given. `matrix` is the whole guide's, for a caller who asks
    for many. Raises KeyError for an unknown id.
    """
    sheet = scores_by_character(guide.accounts[taxon])
    others = tuple(i for i in (guide.accounts if against is None else against) if i != taxon)
    matrix = matrix or matrix_of(guide, scope=scope)
    places = {i: place for place, i in enumerate(matrix.taxa)}
    if taxon not in places:
        return Diagnosis(taxon, others, (), exact=True, at_least=0, factor=1.0, untold=others, scope=matrix.scope)
    covers = find_covers(
        sum(1 << places[i] for i in others if i in places),
        [_separated_from(column, places[taxon]) for column in matrix.columns],
        exact_columns=EXACT_CHARACTERS,
    )
    ranked = sorted(covers.smallest, key=lambda numbers: (sum(COST[matrix.columns[n].ease] for n in numbers), numbers))
    return Diagnosis(
        taxon=taxon,
        against=others,
        sets=tuple(tuple(_told(matrix, n, sheet) for n in _easiest_first(matrix, numbers)) for numbers in ranked if numbers),
        exact=covers.exact,
        at_least=covers.at_least,
        factor=covers.factor,
        untold=(*matrix.ids(covers.uncovered), *(i for i in others if i not in places)),
        scope=matrix.scope,
    )


def family_of(guide: AnyGuide, taxon: str) -> tuple[str, ...]:
    """List the other accounts of the same family."""
    family = guide.accounts[taxon].family
    return tuple(a.id for a in guide.accounts.values() if a.id != taxon and family and a.family == family)


def similar_to(guide: AnyGuide, taxon: str) -> tuple[str, ...]:
    """List the accounts it is said to be similar to, by itself or by them."""
    own = {s.account for s in guide.accounts[taxon].similar}
    return tuple(a.id for a in guide.accounts.values() if a.id != taxon and (a.id in own or any(s.account == taxon for s in a.similar)))


def _separated_from(column: Column, place: int) -> int:
    if column.is_range:
        bounds = column.bounds[place]
        return RangeSets(column.bounds).apart_from(bounds, column.character.margin) if bounds else 0
    if column.open >> place & 1:
        return 0
    scored, overlapping = 0, 0
    for taxa in column.possible:
        scored |= taxa
        overlapping |= taxa if taxa >> place & 1 else 0
    return scored & ~overlapping


def _easiest_first(matrix: Matrix, numbers: tuple[int, ...]) -> list[int]:
    return sorted(numbers, key=lambda n: (matrix.columns[n].ease, n))


def _told(matrix: Matrix, number: int, sheet: Sheet) -> DiagnosticCharacter:
    character = matrix.columns[number].character
    reading = reading_in(sheet[character.id], matrix.scope)
    return DiagnosticCharacter(character, value_words(character, reading, words(matrix.language)) if reading else "")
