"""A key costs its readers as little as trying every key finds. All tables are invented."""

from __future__ import annotations

import random
from functools import cache

import pytest

from guidebuild.guide.characters import Character, Ease
from guidebuild.guide.text.inline import Inline
from guidebuild.identify import planner
from guidebuild.identify.columns import COMMONNESS, Matrix, matrix_of
from guidebuild.identify.planner import Planner, plan_key
from guidebuild.identify.splits import Split, splits_of
from tests.identify.invented import account, guide, shows, states

EASES = list(Ease)


def invented(seed: int, taxa: int, width: int, letters: str = "abc?", *, even: bool = False) -> Matrix:
    """A random table whose characters differ in ease, and whose taxa differ in how often they are met unless `even`."""
    draw = random.Random(seed)
    asked: list[Character] = [states(f"c{n}", ease=EASES[draw.randrange(4)], **{x: x for x in "abc"}) for n in range(width)]
    status = ["common"] if even else [*COMMONNESS, ""]
    made = [account(f"T{n}", *(shows(c, draw.choice(letters)) for c in asked), status=Inline(draw.choice(status))) for n in range(taxa)]
    return matrix_of(guide(tuple(asked), *made))


def cheapest(matrix: Matrix, *, dichotomous: bool) -> float:
    """The least that any key costs, found by trying them all: each taxon weighs what it weighs at every question it is asked."""
    splits = splits_of(matrix, dichotomous=dichotomous)

    @cache
    def least(taxa: int) -> float:
        ways = [s for s in splits if all(mask & taxa != taxa for mask in s.masks)]
        return min((weight(taxa) * s.cost + sum(least(m & taxa) for m in s.masks) for s in ways), default=0.0)

    def weight(taxa: int) -> int:
        return sum(w for place, w in enumerate(matrix.weights) if taxa >> place & 1)

    return least(matrix.everything)


def cost_of(matrix: Matrix, branches: list[planner.Branch], *, dichotomous: bool) -> float:
    """What a planned key costs, reckoned here from the weights of the taxa at each couplet."""
    del dichotomous
    weights = [sum(w for place, w in enumerate(matrix.weights) if branch.taxa >> place & 1) for branch in branches]
    return sum(weight * branch.split.cost for weight, branch in zip(weights, branches, strict=True) if branch.split)


@pytest.mark.parametrize("seed", range(24))
@pytest.mark.parametrize("dichotomous", [True, False])
def test_a_handful_of_taxa_is_keyed_as_cheaply_as_can_be(seed: int, *, dichotomous: bool) -> None:
    matrix = invented(seed, 4 + seed % 4, 3 + seed % 3, "abc?" if seed % 2 else "abc", even=seed % 3 == 0)
    branches = plan_key(matrix, dichotomous=dichotomous)
    assert cost_of(matrix, branches, dichotomous=dichotomous) == pytest.approx(cheapest(matrix, dichotomous=dichotomous))


@pytest.mark.parametrize("seed", range(6))
@pytest.mark.parametrize("even", [True, False])
def test_larger_tables_come_near_the_best_and_looking_ahead_is_never_worse(seed: int, *, even: bool) -> None:
    matrix = invented(seed, 13, 5, "ab", even=even)
    best = cheapest(matrix, dichotomous=True)
    quick = cost_of(matrix, plan_key(matrix, dichotomous=True, thorough=False), dichotomous=True)
    deep = cost_of(matrix, plan_key(matrix, dichotomous=True, thorough=True), dichotomous=True)
    assert best - 1e-9 <= deep <= quick + 1e-9
    assert deep <= best * 1.02
    assert quick <= best * 1.2


@pytest.mark.parametrize("seed", range(8))
def test_a_branch_holds_the_taxa_that_take_its_lead_and_stands_before_them(seed: int) -> None:
    matrix = invented(seed, 9, 4)
    branches = plan_key(matrix, dichotomous=bool(seed % 2))
    assert branches[0].taxa == matrix.everything
    order = [0]
    for place, branch in enumerate(branches):
        if branch.split is None:
            assert branch.leads == ()
            # It ends only where one taxon is left or no question divides the rest.
            assert (
                not [s for s in splits_of(matrix, dichotomous=bool(seed % 2)) if planner.does_divide(s, branch.taxa)]
                or branch.taxa.bit_count() == 1
            )
            continue
        for lead, goes in branch.leads:
            assert goes > place
            assert branches[goes].taxa == branch.split.masks[lead] & branch.taxa
        assert [lead for lead, _ in branch.leads] == [n for n, mask in enumerate(branch.split.masks) if mask & branch.taxa]
        order += [goes for _, goes in branch.leads]
    assert sorted(order) == list(range(len(branches)))

    def reading_order(place: int) -> list[int]:
        return [place, *(p for _, goes in branches[place].leads for p in reading_order(goes))]

    assert reading_order(0) == list(range(len(branches)))


@pytest.mark.parametrize("even", [True, False])
def test_what_no_key_can_go_below_is_never_above_the_best(monkeypatch: pytest.MonkeyPatch, *, even: bool) -> None:
    """Were it too high, the search would stop before the best key: so the search without it finds the same cost."""
    for seed in range(12):
        matrix = invented(seed, 8, 5, "ab", even=even)
        with_bound = cost_of(matrix, plan_key(matrix, dichotomous=True), dichotomous=True)
        with monkeypatch.context() as patched:
            patched.setattr(Planner, "_least", lambda self, taxa: 0.0)
            assert cost_of(matrix, plan_key(matrix, dichotomous=True), dichotomous=True) == pytest.approx(with_bound)


def test_the_size_of_the_table_decides_how_far_is_looked_ahead(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[bool] = []
    true_branches = Planner.branches

    def noted(self: Planner) -> list[planner.Branch]:
        asked.append(self.thorough)
        return true_branches(self)

    monkeypatch.setattr(Planner, "branches", noted)
    monkeypatch.setattr(planner, "THOROUGH", 6)
    for taxa, thorough, wanted in [(6, None, [False, True]), (7, None, [False]), (7, True, [False, True]), (6, False, [False])]:
        asked.clear()
        plan_key(invented(1, taxa, 4, "abc"), dichotomous=True, thorough=thorough)
        assert asked == wanted
    assert plan_key(Matrix((), ()), dichotomous=True) == []


def test_without_time_to_look_ahead_the_key_is_still_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    matrix = invented(3, 14, 6, "ab", even=True)
    whole = {b.taxa for b in plan_key(matrix, dichotomous=True) if b.split is None}
    monkeypatch.setattr(planner, "BUDGET", 0)
    hurried = plan_key(matrix, dichotomous=True, thorough=True)
    assert {b.taxa for b in hurried if b.split is None} == whole
    assert cost_of(matrix, hurried, dichotomous=True) <= cost_of(
        matrix, plan_key(matrix, dichotomous=True, thorough=False), dichotomous=True
    )


def test_a_key_that_must_be_cut_short_is_cut_where_fewest_come(monkeypatch: pytest.MonkeyPatch) -> None:
    """Eight taxa in a comb, the first the commonest: with three couplets, those that most readers need stand."""
    asked = tuple(states(f"c{n}", yes="yes", no="no") for n in range(7))
    rows = [["no"] * n + ["yes"] + ["no"] * (6 - n) for n in range(7)] + [["no"] * 7]
    made = [
        account(f"T{n}", *(shows(c, v) for c, v in zip(asked, row, strict=True)), status=Inline("abundant" if n < 3 else "rare"))
        for n, row in enumerate(rows)
    ]
    matrix = matrix_of(guide(asked, *made))
    monkeypatch.setattr(planner, "LONGEST", 0)
    monkeypatch.setattr(planner, "LONGEST_AT_LEAST", 3)
    branches = plan_key(matrix, dichotomous=True)
    assert sum(b.split is not None for b in branches) == 3
    alone = [matrix.ids(b.taxa) for b in branches if b.split is None and b.taxa.bit_count() == 1]
    assert sorted(alone) == [("t0",), ("t1",), ("t2",)]


def test_a_question_divides_only_where_every_answer_rules_out_someone() -> None:
    split = Split(0, 1.0, (0b0110, 0b1100), (0b0110, 0b1100))
    assert planner.does_divide(split, 0b1110)
    assert not planner.does_divide(split, 0b0110)
    assert not planner.does_divide(split, 0b0100)
    assert planner.parts_of(split, 0b1110) == ((0, 0b0110), (1, 0b1100))
    assert planner.parts_of(split, 0b0010) == ((0, 0b0010),)
