"""How long a key is: the best there is where that can be reckoned, between its bounds elsewhere. All tables are invented."""

from __future__ import annotations

import math
import random
from functools import cache

import pytest

from guidebuild.identify.columns import Matrix, matrix_of
from guidebuild.identify.information import least_path
from guidebuild.identify.key import make_key
from guidebuild.identify.planner import EXACT, plan_key
from guidebuild.identify.splits import splits_of
from tests.identify.invented import account, guide, shows, states, table


def of_rows(rows):
    return table({f"T{n}": row for n, row in enumerate(rows)})


def optimum(matrix: Matrix, *, dichotomous: bool) -> float:
    """Cost of the best key by trying everything: another way to the same number as the planner's."""
    splits = splits_of(matrix, dichotomous=dichotomous)

    @cache
    def best(taxa: int) -> float:
        costs = [
            taxa.bit_count() * split.cost + sum(best(p) for p in {mask & taxa for mask in split.masks} if p)
            for split in splits
            if all(mask & taxa != taxa for mask in split.masks)
        ]
        return min(costs, default=0.0)

    return best(matrix.everything)


def cost(matrix: Matrix, branches) -> float:
    return sum(b.taxa.bit_count() * b.split.cost for b in branches if b.split)


@pytest.mark.parametrize("dichotomous", [True, False])
@pytest.mark.parametrize("seed", range(40))
def test_small_keys_are_the_best_there_are(dichotomous: bool, seed: int) -> None:
    draw = random.Random(seed)
    taxa, width = draw.randint(3, 7), draw.randint(2, 4)
    matrix = matrix_of(of_rows(["".join(draw.choice("abc") for _ in range(width)) for _ in range(taxa)]))
    matrix = Matrix(matrix.taxa, matrix.columns, (1,) * taxa)
    assert taxa <= EXACT
    assert cost(matrix, plan_key(matrix, dichotomous=dichotomous)) == pytest.approx(optimum(matrix, dichotomous=dichotomous))


@pytest.mark.parametrize("seed", range(6))
def test_looking_ahead_is_never_worse_and_keeps_between_the_bounds(seed: int) -> None:
    draw = random.Random(seed)
    matrix = matrix_of(of_rows(sorted({"".join(draw.choice("ab") for _ in range(7)) for _ in range(24)})))
    quick, deep = (make_key(matrix, thorough=thorough).statistics for thorough in (False, True))
    assert deep.total <= quick.total
    comb = sum(range(deep.outcomes)) + deep.outcomes - 1  # one taxon runs out at each couplet
    assert least_path(deep.outcomes) <= deep.total <= comb
    assert deep.mean >= deep.bound
    assert deep.couplets == deep.outcomes - 1  # two ways at every couplet: N − 1 of them


def test_even_division_reaches_the_bound() -> None:
    rows = {f"T{n}": f"{n:03b}".replace("0", "a").replace("1", "b") for n in range(8)}
    found = make_key(table(rows)).statistics
    assert (found.mean, found.bound, found.greatest, found.couplets) == (3.0, 3.0, 3, 7)


@pytest.mark.parametrize("seed", range(40))
def test_the_bound_is_given_only_where_no_key_can_be_shorter(seed: int) -> None:
    """Shannon (1948): a way that tells one of n equally likely taxa takes log₂ n answers of two on average.

    Tables with gaps (such taxa go along both leads), taxa that nothing parts, and couplets of three leads.
    """
    draw = random.Random(seed)
    cells = ("a", "b", "c", "a", "b", "") if seed % 2 else ("a", "b")
    rows = {f"T{n}": "".join(draw.choice(cells) or "?" for _ in range(draw.randint(2, 5))) for n in range(draw.randint(2, 9))}
    width = min(len(row) for row in rows.values())
    key = make_key(table({name: row[:width] for name, row in rows.items()}), dichotomous=bool(seed % 3))
    told = key.statistics
    assert (told.bound is None) == bool(key.groups)
    if told.bound is not None:
        assert told.mean >= told.bound - 1e-9


def test_a_key_that_leaves_taxa_together_has_no_bound() -> None:
    """Seven alike and one apart: a name, or a group, takes one step, and log₂ of anything else would be false."""
    told = make_key(table({f"T{n}": "a" for n in range(7)} | {"Odd": "b"})).statistics
    assert (told.mean, told.outcomes, told.bound) == (1, 2, None)
    many = make_key(table({"T1": "aaaa", "T2": "aaaa", "T3": "abaa", "T4": "baaa"})).statistics
    assert many.bound is None


@pytest.mark.parametrize("taxa", [1, 2, 3, 8, 10, 20, 59])
def test_the_bounds_of_paths_agree_with_building_the_tree(taxa: int) -> None:
    depths = [0]
    while len(depths) < taxa:  # the shallowest end is split each time: the best tree
        shallowest = depths.pop(depths.index(min(depths)))
        depths += [shallowest + 1] * 2
    assert least_path(taxa) == sum(depths)
    assert taxa < 2 or least_path(taxa) / taxa >= math.log2(taxa)


def shortest_mean(matrix: Matrix, *, dichotomous: bool) -> float:
    """The least mean number of questions of any key that names each taxon, by trying all; infinite where there is none.

    A taxon that may take several leads takes each of them alike often, as one that usually shows either does.
    """
    splits = splits_of(matrix, dichotomous=dichotomous)

    @cache
    def steps(shares: tuple[tuple[int, float], ...], asked: frozenset[int]) -> float:
        if len({taxon for taxon, _ in shares}) < 2:
            return 0.0
        best = math.inf
        for number, split in enumerate(splits):
            if number in asked:
                continue
            onward: list[list[tuple[int, float]]] = [[] for _ in split.masks]
            for taxon, share in shares:
                ways = [lead for lead, mask in enumerate(split.masks) if mask >> taxon & 1]
                for lead in ways:
                    onward[lead].append((taxon, share / len(ways)))
            if sum(bool(part) for part in onward) > 1:
                here = sum(share for _, share in shares)
                best = min(best, here + sum(steps(tuple(part), asked | {number}) for part in onward if part))
        return best

    taxa = len(matrix.taxa)
    return steps(tuple((taxon, 1.0) for taxon in range(taxa)), frozenset()) / taxa


@pytest.mark.parametrize("seed", range(60))
def test_no_key_at_all_is_shorter_than_the_bound_that_is_claimed(seed: int) -> None:
    """Every key of small tables is tried: with gaps, with taxa that vary, with couplets of two and of more leads."""
    draw = random.Random(seed)
    cells = ("a", "b", "c", "?", "a b", "b c") if seed % 3 else ("a", "b", "c")
    characters = [states(f"c{n}", a="a", b="b", c="c") for n in range(draw.randint(2, 4))]
    taxa = [account(f"T{n}", *(shows(c, draw.choice(cells)) for c in characters)) for n in range(draw.randint(2, 5))]
    matrix = matrix_of(guide(tuple(characters), *taxa))
    two_way = bool(seed % 2)
    told = make_key(matrix, dichotomous=two_way).statistics
    shortest = shortest_mean(matrix, dichotomous=two_way)
    if told.bound is None:
        return
    assert told.taxa < 2 or shortest < math.inf
    assert shortest >= told.bound - 1e-9
    assert told.mean >= shortest - 1e-9
