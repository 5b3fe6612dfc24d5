"""Identification keys: couplets and leads, numbered, with where each was come from and how many steps it takes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import reduce
from itertools import combinations
from operator import or_

from guidebuild.guide.characters import Ease
from guidebuild.guide.facts import AnyGuide
from guidebuild.identify.columns import Column, Matrix, matrix_of, places_in
from guidebuild.identify.key_words import lead_states, lead_words, say_lead
from guidebuild.identify.planner import THOROUGH, Branch, plan_key
from guidebuild.identify.readings import Scope
from guidebuild.identify.separation import Separation, find_separations
from guidebuild.identify.splits import RARE, Split, splits_of
from guidebuild.identify.wanted import WantedScores, find_wanted
from guidebuild.words import words

ALSO = 2
"""So many further characters at most stand beside a lead to confirm it."""
GROUPS = 100
"""With more groups than this (most characters not scored) what tells each apart is not worked out."""
PAIRS = 45
"""A group of more pairs than this (ten taxa) says no more than that its taxa are not parted."""


@dataclass(frozen=True, slots=True)
class Lead:
    """One answer of a couplet. Either `to` is the couplet that follows, or `taxa` are the ids one has come to.

    `also` are further characters that divide the same taxa in the same way: (label, words). `states` are the ids of its states.
    """

    words: str
    to: int | None = None
    taxa: tuple[str, ...] = ()
    also: tuple[tuple[str, str], ...] = ()
    states: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Couplet:
    """One question with its leads; `came_from` is the couplet and lead (counted from 0) that led here."""

    number: int
    character: str
    label: str
    question: str
    ease: Ease
    leads: tuple[Lead, ...]
    came_from: tuple[int, int] | None = None


@dataclass(frozen=True, slots=True)
class Overlap:
    """Two taxa whose ranges meet from `low` to `high`, or lie nearer than the margin (then `low` is above `high`)."""

    character: str
    label: str
    unit: str
    first: str
    second: str
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class UnpartedTaxa:
    """Taxa that one end of the key leaves together: where their measurements overlap, and what tells them apart elsewhere.

    `told_apart` are separations outside the key's scope, or within one sex: (first id, second id, separation).
    """

    taxa: tuple[str, ...]
    overlaps: tuple[Overlap, ...] = ()
    told_apart: tuple[tuple[str, str, Separation], ...] = ()


@dataclass(frozen=True, slots=True)
class Statistics:
    """How long a key is for its reader.

    `mean` counts each taxon once, over the ways it may take; `expected` weighs taxa by how common they are.
    `bound` is the least mean that any key with as many leads as this one's widest couplet can have (Rypka: log G / log V). It holds
    where each taxon counts the same and each end names one taxon, so that the way tells the taxon: a key that leaves some
    together asks less. Elsewhere it is None. A taxon that varies, and comes out in several places, only makes a key longer.
    """

    taxa: int
    outcomes: int
    couplets: int
    ends: int
    total: int
    mean: float
    expected: float
    greatest: int
    bound: float | None
    is_two_way: bool


@dataclass(frozen=True, slots=True)
class Key:
    """A whole key. `alone` are the taxa where no couplet is needed or possible; `left_out` ids are scored for nothing.

    Where too little is scored for a key there is none, and `wanted` says which scores would help most.
    """

    couplets: tuple[Couplet, ...]
    groups: tuple[UnpartedTaxa, ...]
    statistics: Statistics
    scope: Scope
    dichotomous: bool
    alone: tuple[str, ...] = ()
    left_out: tuple[str, ...] = ()
    wanted: WantedScores | None = None


def make_key(
    source: AnyGuide | Matrix,
    *,
    dichotomous: bool = True,
    scope: Scope | None = None,
    accounts: Sequence[str] = (),
    thorough: bool | None = None,
) -> Key:
    """Write the key of a guide (or of some accounts of it, or of a table).

    Without `scope` it is for the stage of `best_scope`, either sex. `thorough` looks further ahead; where not
    given, it does so for tables of ordinary size. The same guide always gives the same key.
    """
    matrix = source if isinstance(source, Matrix) else matrix_of(source, scope=scope, accounts=accounts)
    branches = plan_key(matrix, dichotomous=dichotomous, thorough=thorough)
    ends = dict.fromkeys(b.taxa for b in branches if b.split is None)
    together = [taxa for taxa in ends if taxa.bit_count() > 1]
    guide = None if isinstance(source, Matrix) or len(together) > GROUPS else source
    return Key(
        couplets=tuple(_couplets(matrix, branches, dichotomous=dichotomous)),
        groups=tuple(_group(matrix, guide, taxa) for taxa in together),
        statistics=_statistics(matrix, branches, len(ends)),
        scope=matrix.scope,
        dichotomous=dichotomous,
        alone=matrix.ids(branches[0].taxa) if branches and branches[0].split is None else (),
        left_out=matrix.left_out,
        wanted=find_wanted(matrix) if matrix.taxa and not branches else None,
    )


def _couplets(matrix: Matrix, branches: list[Branch], *, dichotomous: bool) -> Iterator[Couplet]:
    asked = [place for place, branch in enumerate(branches) if branch.split]
    numbers = {place: number for number, place in enumerate(asked, 1)}
    came_from = {place: (numbers[parent], lead) for parent in asked for lead, (_, place) in enumerate(branches[parent].leads)}
    others = splits_of(matrix, dichotomous=dichotomous) if len(matrix.taxa) <= THOROUGH else []
    say = words(matrix.language)
    for place, branch in enumerate(branches):
        split = branch.split
        if split is None:
            continue
        column = matrix.columns[split.column]
        character = column.character
        also = _also(matrix, branch, split, others)
        leads = []
        for lead, goes in branch.leads:
            shown = lead_states(column, split, lead, branch.taxa)
            ends = () if branches[goes].split else matrix.ids(branches[goes].taxa)
            leads.append(Lead(say_lead(column, split, lead, shown, say), numbers.get(goes), ends, also.get(lead, ()), shown))
        yield Couplet(
            numbers[place],
            character.id,
            character.label,
            character.question,
            character.ease,
            tuple(leads),
            came_from.get(place),
        )


def _also(matrix: Matrix, branch: Branch, split: Split, others: list[Split]) -> dict[int, tuple[tuple[str, str], ...]]:
    """Further characters, easiest first, that send the same taxa along the same leads and none along two."""
    if not others:
        return {}
    parts = {split.masks[lead] & branch.taxa: lead for lead, _ in branch.leads}
    if sum(part.bit_count() for part in parts) != branch.taxa.bit_count():
        return {}
    added: dict[int, tuple[tuple[str, str], ...]] = dict.fromkeys(parts.values(), ())
    seen = {split.column}
    for other in others:
        theirs = {mask & branch.taxa: lead for lead, mask in enumerate(other.masks) if mask & branch.taxa}
        if other.column in seen or theirs.keys() != parts.keys() or len(seen) > ALSO:
            continue
        seen.add(other.column)
        column = matrix.columns[other.column]
        for part, lead in theirs.items():
            told = lead_words(column, other, lead, branch.taxa, words(matrix.language))
            added[parts[part]] = (*added[parts[part]], (column.character.label, told))
    return added


def _group(matrix: Matrix, guide: AnyGuide | None, taxa: int) -> UnpartedTaxa:
    pairs = list(combinations(places_in(taxa), 2))
    overlaps = [o for column in matrix.columns for a, b in pairs if (o := _overlap(matrix, column, a, b))]
    if guide is None or len(pairs) > PAIRS:
        return UnpartedTaxa(matrix.ids(taxa), tuple(overlaps[:PAIRS]))
    ids = [(matrix.taxa[a], matrix.taxa[b]) for a, b in pairs]
    told = tuple((a, b, s) for a, b in ids for s in find_separations(guide, a, b))
    return UnpartedTaxa(matrix.ids(taxa), tuple(overlaps), told)


def _overlap(matrix: Matrix, column: Column, one: int, other: int) -> Overlap | None:
    if not column.is_range:
        return None
    a, b = column.bounds[one], column.bounds[other]
    if a is None or b is None or a == b:
        return None
    c = column.character
    return Overlap(c.id, c.label, c.unit, matrix.taxa[one], matrix.taxa[other], max(a[0], b[0]), min(a[1], b[1]))


def _statistics(matrix: Matrix, branches: list[Branch], outcomes: int) -> Statistics:
    depths = _depths(branches)
    ends = [depth for depth, branch in zip(depths, branches, strict=True) if branch.split is None]
    steps = _mean_steps(matrix, branches)
    total_weight = sum(matrix.weights)
    widest = max(2, *(len(branch.leads) for branch in branches)) if branches else 2
    names_each = all(branch.taxa.bit_count() == 1 for branch in branches if branch.split is None)
    return Statistics(
        taxa=len(matrix.taxa),
        outcomes=outcomes,
        couplets=len(branches) - len(ends),
        ends=len(ends),
        total=sum(ends),
        mean=sum(steps) / len(steps) if steps else 0.0,
        expected=sum(w * s for w, s in zip(matrix.weights, steps, strict=True)) / total_weight if total_weight else 0.0,
        greatest=max(ends, default=0),
        bound=math.log2(max(1, len(matrix.taxa))) / math.log2(widest) if names_each else None,
        is_two_way=widest == 2,
    )


def _depths(branches: list[Branch]) -> list[int]:
    depths = [0] * len(branches)
    for place, branch in enumerate(branches):
        for _, goes in branch.leads:
            depths[goes] = depths[place] + 1
    return depths


def _mean_steps(matrix: Matrix, branches: list[Branch]) -> list[float]:
    """Mean number of couplets for each taxon, over the leads it may take; a rare state is taken seldom."""
    shares: dict[int, dict[int, float]] = {0: dict.fromkeys(range(len(matrix.taxa)), 1.0)}
    steps = [0.0] * len(matrix.taxa)
    bits = [1 << taxon for taxon in range(len(matrix.taxa))]
    for place, branch in enumerate(branches):
        arriving = shares.pop(place)
        if branch.split is None:
            continue
        leads = [(shares.setdefault(goes, {}), branch.split.masks[lead], branch.split.usual[lead]) for lead, goes in branch.leads]
        first = leads[0][0]
        elsewhere = reduce(or_, (taxa for _, taxa, _ in leads[1:]))
        for taxon, share in arriving.items():
            steps[taxon] += share
            bit = bits[taxon]
            if not elsewhere & bit:  # the commonest case, and the quickest told
                first[taxon] = share
                continue
            odds = [(onward, 1.0 if usual & bit else RARE) for onward, taxa, usual in leads if taxa & bit]
            if len(odds) == 1:
                odds[0][0][taxon] = share
                continue
            total = sum(odd for _, odd in odds)
            for onward, odd in odds:
                onward[taxon] = share * odd / total
    return steps
