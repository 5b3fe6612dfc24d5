"""A guide's characters as a table of bit sets: what keys, diagnoses and comparisons of many taxa are worked out on.

Bit `t` of a set stands for the taxon at place `t`. Python's own integers are the bit sets: one operation handles all
taxa at once, however many there are.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from operator import or_

from guidebuild.guide.accounts import Account
from guidebuild.guide.characters import Character, Ease, Kind, Score
from guidebuild.guide.guide import Guide
from guidebuild.identify.ranges import RangeSets
from guidebuild.identify.readings import EVERYWHERE, Reading, Scope, does_not_apply, reading_in, scores_by_character

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
        return self.character.kind is Kind.RANGE

    @property
    def ease(self) -> Ease:
        """How near one must be to see it."""
        return self.character.ease


@dataclass(frozen=True, slots=True)
class Matrix:
    """Taxa (ids, in order), how much each weighs, and the columns; `left_out` taxa are scored for no column."""

    taxa: tuple[str, ...]
    columns: tuple[Column, ...]
    weights: tuple[int, ...] = ()
    scope: Scope = EVERYWHERE
    left_out: tuple[str, ...] = ()

    @property
    def everything(self) -> int:
        """The set of all taxa."""
        return (1 << len(self.taxa)) - 1

    def ids(self, taxa: int) -> tuple[str, ...]:
        """The ids in a bit set, in order."""
        return tuple(self.taxa[place] for place in places_in(taxa))


def places_in(taxa: int) -> list[int]:
    """List the places of the bits that are set, lowest first."""
    found = []
    while taxa:
        lowest = taxa & -taxa
        found.append(lowest.bit_length() - 1)
        taxa ^= lowest
    return found


def matrix_of(guide: Guide, *, scope: Scope | None = None, accounts: Sequence[str] = ()) -> Matrix:
    """Table a guide (or some of its accounts) in one stage and sex; without one, in the stage that is best scored.

    Taxa scored for nothing in that scope are left out, for no question could ever rule them out.
    """
    chosen = [guide.accounts[a] for a in accounts] or list(guide.accounts.values())
    sheets = [scores_by_character(a) for a in chosen]
    where = best_scope(guide, chosen, sheets) if scope is None else scope
    asked = [c for c in guide.characters.values() if _can_be_asked(c, where)]
    keyed = [(a, sheet) for a, sheet in zip(chosen, sheets, strict=True) if _scored(sheet, asked, where)]
    kept = {a.id for a, _ in keyed}
    return Matrix(
        taxa=tuple(a.id for a, _ in keyed),
        columns=tuple(_column(character, [sheet for _, sheet in keyed], where) for character in asked),
        weights=tuple(commonness(a.status) for a, _ in keyed),
        scope=where,
        left_out=tuple(a.id for a in chosen if a.id not in kept),
    )


def commonness(status: str) -> int:
    """Weigh a taxon by how often it is met, from the words its status begins with."""
    words = status.casefold()
    fitting = [start for start in COMMONNESS if words.startswith(start)]
    return COMMONNESS[max(fitting, key=len)] if fitting else USUAL_WEIGHT


def best_scope(guide: Guide, accounts: Sequence[Account], sheets: Sequence[Sheet]) -> Scope:
    """Pick the life stage with most scores; of equal ones the last in the order of life (the adult)."""
    stages = list(dict.fromkeys(stage for a in accounts for stage in guide.stage_set(a).ids))
    asked = {stage: [c for c in guide.characters.values() if _can_be_asked(c, Scope(stage))] for stage in stages}
    numbers = [(sum(_scored(sheet, asked[s], Scope(s)) for sheet in sheets), place) for place, s in enumerate(stages)]
    return Scope(stages[max(numbers)[1]]) if numbers else Scope()


def _scored(sheet: Sheet, asked: Sequence[Character], scope: Scope) -> int:
    return sum(_reading(sheet, c, scope) is not None for c in asked)


def _reading(sheet: Sheet, character: Character, scope: Scope) -> Reading | None:
    return reading_in(sheet.get(character.id, ()), scope)


def _can_be_asked(character: Character, scope: Scope) -> bool:
    of_stage = not character.stages or scope.stage in character.stages
    return of_stage and (not character.sexes or scope.sex in character.sexes)


def _column(character: Character, sheets: Sequence[Sheet], scope: Scope) -> Column:
    readings = [_reading(sheet, character, scope) for sheet in sheets]
    inapplicable = _bits([does_not_apply(sheet.get(character.id, ()), scope) for sheet in sheets])
    unknown = _bits([r is None for r in readings]) & ~inapplicable
    if character.kind is Kind.RANGE:
        return Column(character, (), (), unknown, inapplicable, tuple(_bounds(character, r) for r in readings))
    possible = tuple(_bits([r is not None and s.id in r.possible for r in readings]) for s in character.states)
    usual = tuple(_bits([r is not None and s.id in r.usual for r in readings]) for s in character.states)
    return Column(character, possible, usual, unknown, inapplicable)


def _bounds(character: Character, reading: Reading | None) -> tuple[float, float] | None:
    if reading is None:
        return None
    wider = character.margin if reading.approximate else 0.0
    return (reading.low - wider, reading.high + wider)


def _bits(flags: Sequence[bool]) -> int:
    return int("".join("1" if flag else "0" for flag in reversed(flags)) or "0", 2)


def separated_sets(matrix: Matrix, column: Column) -> tuple[int, ...]:
    """Find, for each taxon, the set of taxa that this column separates it from (rare states and margin reckoned with)."""
    if column.is_range:
        return _separated_ranges(column)
    scored = matrix.everything & ~column.open
    overlaps: dict[tuple[bool, ...], int] = {}
    found = []
    for place in range(len(matrix.taxa)):
        shown = tuple(bool(states >> place & 1) for states in column.possible)
        if shown not in overlaps:
            overlaps[shown] = reduce(or_, (taxa for taxa, has in zip(column.possible, shown, strict=True) if has), 0)
        found.append(scored & ~overlaps[shown] if scored >> place & 1 else 0)
    return tuple(found)


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
