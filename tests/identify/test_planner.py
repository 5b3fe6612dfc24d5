"""A key costs its readers as little as trying every key finds. All tables are invented."""

from __future__ import annotations

import math
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


@pytest.mark.parametrize(("couplets", "asked"), [(1, [0]), (2, [0, 1]), (3, [0, 1, 2]), (4, [0, 1, 2, 3])])
def test_how_many_come_to_a_couplet_is_reckoned_over_all_the_way(couplets: int, asked: list[int], monkeypatch: pytest.MonkeyPatch) -> None:
    """Sixteen taxa: ten and six, the ten then five and five; the six come next, as five of sixteen are fewer."""
    rows = [f"a {'ab'[n >= 5]} - {'aabbb'[n] if n < 5 else '-'}" for n in range(10)] + [f"b - {'ab'[n >= 3]} -" for n in range(6)]
    monkeypatch.setattr(planner, "LONGEST", 0)
    monkeypatch.setattr(planner, "LONGEST_AT_LEAST", couplets)
    branches = plan_key(rows_of(*rows), dichotomous=True, thorough=False)
    assert sorted(b.split.column for b in branches if b.split) == asked


def test_a_question_divides_only_where_every_answer_rules_out_someone() -> None:
    split = Split(0, 1.0, (0b0110, 0b1100), (0b0110, 0b1100))
    assert planner.does_divide(split, 0b1110)
    assert not planner.does_divide(split, 0b0110)
    assert not planner.does_divide(split, 0b0100)
    assert planner.parts_of(split, 0b1110) == ((0, 0b0110), (1, 0b1100))
    assert planner.parts_of(split, 0b0010) == ((0, 0b0010),)


def begun(matrix: Matrix, *, dichotomous: bool = True) -> tuple[Planner, list[Split]]:
    """A planner that has worked out its key, and all the questions of the table."""
    made = Planner(matrix, dichotomous, thorough=True)
    made.branches()
    return made, splits_of(matrix, dichotomous=dichotomous)


def rows_of(*rows: str, status: tuple[str, ...] = ()) -> Matrix:
    """A table of characters seen at a distance, which cost one step each."""
    asked = tuple(states(f"c{n}", ease=Ease.AT_A_DISTANCE, a="a", b="b", c="c") for n in range(len(rows[0].split())))
    met = status or ("common",) * len(rows)
    made = [
        account(f"T{n}", *(shows(c, v.replace("+", " ")) for c, v in zip(asked, row.split(), strict=True)), status=Inline(word))
        for n, (row, word) in enumerate(zip(rows, met, strict=True))
    ]
    return matrix_of(guide(asked, *made))


# Reckoned by hand from the entropy of each answer (Shannon 1948): bits of the whole less those left, times the taxa, for the cost.
@pytest.mark.parametrize(
    ("masks", "usual", "wanted"),
    [
        ((0b0011, 0b1100), None, (4 * 2 - 2 * 2) / 2.0),
        ((0b0001, 0b1110), None, (4 * 2 - 3 * math.log2(3)) / 2.0),
        # Two taxa go both ways: 3 + 3 places for 4, so that the bits left count 4/6, and the gain too.
        ((0b0111, 0b1110), None, (4 * 2 - 2 * 3 * math.log2(3) * 4 / 6) * 4 / 6 / 2.0),
        # The last is seldom met along the first lead: it counts a tenth there.
        ((0b1011, 0b1100), (0b0011, 0b1100), (4 * 2 - (2.1 * math.log2(2.1) + 2) * 4 / 4.1) * 4 / 4.1 / 2.0),
        # All but one are seldom met along either: no answer gains more than it parts.
        ((0b0011, 0b1100), (0b0001, 0b0000), 4 * 2 - (1.1 * math.log2(1.1) + 0.2 * math.log2(0.2)) * 4 / 1.3),
    ],
)
def test_a_question_is_worth_the_bits_of_its_answer_for_its_cost(
    masks: tuple[int, ...], usual: tuple[int, ...] | None, wanted: float
) -> None:
    planned, _ = begun(rows_of("a a", "a b", "b a", "b b"))
    cost = 1.0 if usual == (0b0001, 0b0000) else 2.0
    split = Split(0, cost, masks, usual or masks)
    before = planned._weighted_bits(0b1111)
    assert before == 8
    assert planned._score(split, masks, 0b1111, before) == pytest.approx(wanted)


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize("letters", ["ab", "abc?"])
def test_taxa_met_equally_often_are_counted_as_they_would_be_weighed(seed: int, letters: str) -> None:
    """The short way for a table where all weigh the same gives what the long way gives."""
    matrix = invented(seed, 9, 5, letters, even=True)
    counted, splits = begun(matrix, dichotomous=False)
    weighed = Planner(matrix, False, thorough=True, _groups=[(1, matrix.everything)])
    assert counted._even
    for taxa in (matrix.everything, 0b110110110, 0b000011111):
        for split in splits:
            parts = [mask & taxa for mask in split.masks]
            by_weight = weighed._score(split, parts, taxa, weighed._weighted_bits(taxa))
            assert counted._score(split, parts, taxa, counted._weighted_bits(taxa)) == pytest.approx(by_weight)


@pytest.mark.parametrize("letters", ["ab", "abc?"])
@pytest.mark.parametrize("even", [True, False])
@pytest.mark.parametrize("dichotomous", [True, False])
def test_what_is_looked_ahead_to_is_the_cost_of_the_best_key_of_a_handful(letters: str, *, even: bool, dichotomous: bool) -> None:
    for seed in range(6):
        matrix = invented(seed, 7, 3, letters, even=even)
        planned, splits = begun(matrix, dichotomous=dichotomous)
        unit = matrix.weights[0] if even else 1
        assert planned._onward(matrix.everything, splits) * unit == pytest.approx(cheapest(matrix, dichotomous=dichotomous))
        assert planned._onward(1 << 3, splits) == 0


def test_what_is_looked_ahead_to_is_the_cost_of_the_plain_way_where_there_are_more(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(planner, "EXACT", 1)
    for seed in range(6):
        matrix = invented(seed, 12, 5, "ab?")
        plain = plan_key(matrix, dichotomous=True, thorough=False)
        planned, splits = begun(matrix)
        assert planned._onward(matrix.everything, splits) == pytest.approx(cost_of(matrix, plain, dichotomous=True))


def test_taxa_that_nothing_divides_cost_nothing_more() -> None:
    planned, splits = begun(rows_of("a a", "a a", "b ?"))
    assert planned._exact(0b011, splits) == (0.0, None)
    assert planned._least(0b111) == 0.0  # where some pair is not parted, nothing is sure


def test_no_key_is_cheaper_than_the_shortest_tree() -> None:
    """Knuth's least external paths (TAOCP 3 §6.2.1: 2, 5, 8, 12 for two to five), times the cheapest question."""
    eight = [" ".join("ab"[n >> bit & 1] for bit in range(3)) for n in range(8)]
    planned, _ = begun(rows_of(*eight))
    assert [planned._least(taxa) for taxa in (0b1, 0b11, 0b111, 0b1111, 0b11111, 0b11111111)] == [0.0, 2.0, 5.0, 8.0, 12.0, 24.0]
    assert planned._least(0b1010) == 2.0


def test_no_key_is_cheaper_than_the_entropy_of_what_is_met() -> None:
    """Shannon's bound: W·log W less the sum of w·log w, in leads as many as the widest question has."""
    two = rows_of("a a", "a b", "b a", status=("common", "rare", "rare"))
    planned, _ = begun(two)
    assert planned._least(0b111) == pytest.approx(6 * math.log2(6) - 4 * 2)
    assert planned._least(0b110) == pytest.approx(2)
    three, _ = begun(rows_of("a", "b", "c"), dichotomous=False)
    assert three._least(0b111) == pytest.approx(3)


@pytest.mark.parametrize("even", [True, False])
@pytest.mark.parametrize("dichotomous", [True, False])
def test_what_is_weighed_at_once_is_what_scores_best_one_by_one(*, even: bool, dichotomous: bool) -> None:
    for seed in range(6):
        planned, splits = begun(invented(seed, 14, 5, "abc?", even=even), dichotomous=dichotomous)
        for taxa in (0b11111111111111, 0b10110011100101, 0b111):
            scores = {
                number: planned._score(split, [mask & taxa for mask in split.masks], taxa, planned._weighted_bits(taxa))
                for number, split in enumerate(splits)
                if planner.does_divide(split, taxa)
            }
            chosen = planned._questions.most_informing([taxa])[taxa]
            assert (chosen is None) == (not scores)
            if chosen:
                assert scores[splits.index(chosen)] == pytest.approx(max(scores.values()))


def test_every_question_weighed_is_counted() -> None:
    planned, splits = begun(invented(3, 8, 4, "ab"))
    for weigh in (lambda: planned._dividing(splits, 0b1011), lambda: planned._ranked(0b1011, splits)):
        before = planned._work
        weigh()
        assert planned._work == before + len(splits) > before


def test_once_no_key_can_be_cheaper_no_other_question_is_followed(monkeypatch: pytest.MonkeyPatch) -> None:
    sixteen = [" ".join("ab"[n >> bit & 1] for bit in range(4)) for n in range(16)]
    assert count_followed(rows_of(*sixteen), monkeypatch) == [16]


def test_when_the_time_is_up_the_question_followed_is_taken_and_only_handfuls_are_looked_at(monkeypatch: pytest.MonkeyPatch) -> None:
    matrix = invented(5, 30, 5, "abc?")
    assert len(count_followed(matrix, monkeypatch)) > 2
    monkeypatch.setattr(planner, "BUDGET", 0)
    assert count_followed(matrix, monkeypatch) == [30]
    looked_at: list[int] = []
    ahead = Planner._looking_ahead

    def noted(self: Planner, taxa: int, useful: list[Split]) -> Split | None:
        looked_at.append(taxa.bit_count())
        return ahead(self, taxa, useful)

    monkeypatch.setattr(Planner, "_looking_ahead", noted)
    Planner(matrix, dichotomous=True, thorough=True).branches()
    assert looked_at[0] == 30
    assert set(looked_at[1:]) <= set(range(2, planner.EXACT + 1))
    assert len(looked_at) > 1


def count_followed(matrix: Matrix, monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Plan a key, looking ahead; how many taxa each question was followed for while a couplet was chosen for more than a handful."""
    followed: list[int] = []
    ahead, cost = Planner._looking_ahead, Planner._cost_of

    def cost_noted(self: Planner, split: Split, parts: planner.Parts, taxa: int, useful: list[Split]) -> float:
        if taxa in choosing:
            followed.append(taxa.bit_count())
        return cost(self, split, parts, taxa, useful)

    def noted(self: Planner, taxa: int, useful: list[Split]) -> Split | None:
        choosing.add(taxa)
        return ahead(self, taxa, useful)

    choosing: set[int] = set()
    with monkeypatch.context() as patched:
        patched.setattr(Planner, "_looking_ahead", noted)
        patched.setattr(Planner, "_cost_of", cost_noted)
        Planner(matrix, dichotomous=True, thorough=True).branches()
    return followed
