"""A guide's characters as a table of bit sets: what keys, diagnoses and comparisons of many taxa are worked out on.

Bit `t` of a set stands for the taxon at place `t`. Python's own integers are the bit sets: one operation handles all
taxa at once, however many there are.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

from guidebuild.guide.accounts import AccountFacts
from guidebuild.guide.asking import kept_by_guide
from guidebuild.guide.characters import Character, CharacterKind, Ease, Known, Score
from guidebuild.guide.facts import AnyGuide
from guidebuild.identify.ranges import RangeSets
from guidebuild.identify.readings import EVERYWHERE, Reading, Scope, does_not_apply, reading_in, scores_by_character
from guidebuild.words import WRITTEN_IN

# How often a taxon is met, from the first word of its status; a key asks fewer questions for what is met more often.
# Our own choice of numbers (common practice weights by frequency; no source gives these).
COMMONNESS: Mapping[str, int] = {
    "abundant": 8,
    "very common": 8,
    "common": 4,
    "widespread": 4,
    "frequent": 4,
    "local": 1,
    "uncommon": 1,
    "scarce": 1,
    "rare": 1,
    "very rare": 1,
}
USUAL_WEIGHT = 2
Sheet = Mapping[str, tuple[Score, ...]]
"""The scores of one account by character id."""
Cell = Reading | Known | None
"""What one taxon shows of one character: a reading, that it does not apply, or None where it is not known."""


@dataclass(frozen=True, slots=True)
class Column:
    """One character as it can be asked of a specimen of one stage and sex.

    `possible[s]` holds the taxa that may show state `s`, `usual[s]` those that usually do. `unknown` taxa are not
    scored, `inapplicable` ones cannot show the character; both are `open`: no answer rules them out. For a range,
    `bounds` has the (low, high) of each taxon, None where open, widened where only approximate.
    """

    character: Character
    possible: tuple[int, ...] = ()
    usual: tuple[int, ...] = ()
    unknown: int = 0
    inapplicable: int = 0
    bounds: tuple[tuple[float, float] | None, ...] = ()

    @property
    def open(self) -> int:
        """Taxa that no answer rules out."""
        return self.unknown | self.inapplicable

    @property
    def is_range(self) -> bool:
        """Whether it is measured or counted."""
        return self.character.kind is CharacterKind.RANGE

    @property
    def ease(self) -> Ease:
        """How near one must be to see it."""
        return self.character.ease


@dataclass(frozen=True, slots=True)
class Matrix:
    """Taxa (ids, in order), how much each weighs, and the columns; `left_out` taxa are scored for no column.

    `language` is the one that the characters' words are in.
    """

    taxa: tuple[str, ...]
    columns: tuple[Column, ...]
    weights: tuple[int, ...] = ()
    scope: Scope = EVERYWHERE
    left_out: tuple[str, ...] = ()
    language: str = WRITTEN_IN

    @property
    def everything(self) -> int:
        """The set of all taxa."""
        return (1 << len(self.taxa)) - 1

    def ids(self, taxa: int) -> tuple[str, ...]:
        """The ids in a bit set, in order."""
        return tuple(self.taxa[place] for place in places_in(taxa))


def places_in(taxa: int) -> list[int]:
    """List the places of the bits that are set, lowest first."""
    places = []
    while taxa:
        lowest = taxa & -taxa
        places.append(lowest.bit_length() - 1)
        taxa ^= lowest
    return places


def matrix_of(guide: AnyGuide, *, scope: Scope | None = None, accounts: Sequence[str] = (), own_sexes: bool = False) -> Matrix:
    """Table a guide (or some of its accounts) in one stage and sex; without one, in the stage of `best_scope`.

    Taxa scored for nothing in that scope are left out, for no question could ever rule them out. With `own_sexes`, what one
    sex alone shows (the song of the male) is asked too, and read of that sex: who answers has met it.
    """
    chosen = [guide.accounts[a] for a in accounts] or list(guide.accounts.values())
    where = best_scope(guide, chosen) if scope is None else scope
    scoped = [(c, _scope_asked(c, where, own_sexes=own_sexes)) for c in guide.characters.values()]
    asked = [(character, found) for character, found in scoped if found is not None]
    rows = [(a, _row(scores_by_character(a), asked)) for a in chosen]
    keyed = [(a, row) for a, row in rows if any(isinstance(cell, Reading) for cell in row)]
    kept = {a.id for a, _ in keyed}
    return Matrix(
        taxa=tuple(a.id for a, _ in keyed),
        columns=tuple(_column(character, [row[n] for _, row in keyed]) for n, (character, _) in enumerate(asked)),
        weights=tuple(weigh_commonness(a.status.words) for a, _ in keyed),
        scope=where,
        left_out=tuple(a.id for a in chosen if a.id not in kept),
        language=guide.settings.language,
    )


@kept_by_guide(2)
def tabulate_guide(guide: AnyGuide) -> Matrix:
    """The table of all accounts in the stage of `best_scope`, made once a guide."""
    return matrix_of(guide)


def weigh_commonness(status: str) -> int:
    """Weigh a taxon by how often it is met, from the words its status begins with."""
    words = status.casefold()
    fitting = [start for start in COMMONNESS if words.startswith(start)]
    return COMMONNESS[max(fitting, key=len)] if fitting else USUAL_WEIGHT


def best_scope(guide: AnyGuide, accounts: Sequence[AccountFacts]) -> Scope:
    """Pick the life stage that the group's author names, else the one with most scores.

    Of equal ones it is the one with most field marks, then the last in the order of life (the adult).
    """
    groups = [guide.stage_set(account) for account in accounts]
    stages = list(dict.fromkeys(stage for group in groups for stage in ((group.keyed,) if group.keyed else group.ids)))
    if not stages:
        return EVERYWHERE
    numbers = Counter(
        stage
        for account in accounts
        for score in account.scores
        if score.known is Known.SCORED and (character := guide.characters.get(score.character))
        for stage in score.stages or character.stages or stages
    )
    marked = Counter(stage for account in accounts for mark in account.diagnostics for stage in mark.stages)
    return Scope(max(stages, key=lambda stage: (numbers[stage], marked[stage], stages.index(stage))))


def _scope_asked(character: Character, scope: Scope, *, own_sexes: bool) -> Scope | None:
    """In which stage and sex a character is read, None where it cannot be asked."""
    if character.stages and scope.stage not in character.stages:
        return None
    if not character.sexes or scope.sex in character.sexes:
        return scope
    return Scope(scope.stage, min(character.sexes)) if own_sexes and not scope.sex else None


def _row(sheet: Sheet, asked: Sequence[tuple[Character, Scope]]) -> list[Cell]:
    cells: list[Cell] = []
    for character, scope in asked:
        scores = sheet.get(character.id, ())
        reading = reading_in(scores, scope) if scores else None
        cells.append(Known.NOT_APPLICABLE if scores and reading is None and does_not_apply(scores, scope) else reading)
    return cells


def _column(character: Character, cells: Sequence[Cell]) -> Column:
    holders: dict[Cell, int] = {}
    for place, cell in enumerate(cells):
        holders[cell] = holders.get(cell, 0) | 1 << place
    unknown, inapplicable = holders.pop(None, 0), holders.pop(Known.NOT_APPLICABLE, 0)
    if character.kind is CharacterKind.RANGE:
        bounds = tuple(_bounds(character, cell) if isinstance(cell, Reading) else None for cell in cells)
        return Column(character, (), (), unknown, inapplicable, bounds)
    shown = [(cell, taxa) for cell, taxa in holders.items() if isinstance(cell, Reading)]
    possible = tuple(reduce(or_, (taxa for r, taxa in shown if s.id in r.possible), 0) for s in character.states)
    usual = tuple(reduce(or_, (taxa for r, taxa in shown if s.id in r.usual), 0) for s in character.states)
    return Column(character, possible, usual, unknown, inapplicable)


def _bounds(character: Character, reading: Reading) -> tuple[float, float]:
    wider = character.margin if reading.approximate else 0.0
    return (reading.low - wider, reading.high + wider)


def separated_sets(matrix: Matrix, column: Column) -> tuple[int, ...]:
    """Find, for each taxon, the set of taxa that this column separates it from (rare states and margin reckoned with)."""
    if column.is_range:
        return _separated_ranges(column)
    scored = matrix.everything & ~column.open
    groups = [(scored, 0)]  # taxa that show the same states, and all taxa that show any of these
    for taxa in column.possible:
        groups = [part for alike, any_of in groups for part in ((alike & taxa, any_of | taxa), (alike & ~taxa, any_of)) if part[0]]
    sets = [0] * len(matrix.taxa)
    for alike, any_of in groups:
        for place in places_in(alike):
            sets[place] = scored & ~any_of
    return tuple(sets)


def _separated_ranges(column: Column) -> tuple[int, ...]:
    ranges = RangeSets(column.bounds)
    margin = column.character.margin
    return tuple(0 if b is None else ranges.apart_from(b, margin) for b in column.bounds)


def unseparated_sets(matrix: Matrix) -> tuple[int, ...]:
    """Find, for each taxon, the other taxa that no column separates it from."""
    alike = [matrix.everything & ~(1 << place) for place in range(len(matrix.taxa))]
    for column in matrix.columns:
        for place, others in enumerate(separated_sets(matrix, column)):
            alike[place] &= ~others
    return tuple(alike)


def scored_columns(matrix: Matrix) -> tuple[int, ...]:
    """Find, for each taxon, the set of columns (a bit each) that it is scored for."""
    scored = [0] * len(matrix.taxa)
    for number, column in enumerate(matrix.columns):
        for place in places_in(matrix.everything & ~column.open):
            scored[place] |= 1 << number
    return tuple(scored)
