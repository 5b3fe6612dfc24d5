"""The most informing question of all weighed at once, beside weighing one after another."""

from __future__ import annotations

import math
import random
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.identify.columns import Matrix, matrix_of
from guidebuild.identify.planner import plan_key
from guidebuild.identify.splits import COST, RARE, Split, splits_of
from guidebuild.identify.weighed_questions import WeighedQuestions
from tests.identify.invented import account, guide, shows, states

TAXA = 9
EVERY = (1 << TAXA) - 1
SETS = st.integers(0, EVERY)


@st.composite
def _splits(draw: st.DrawFn) -> Split:
    """A question of two to four leads; every taxon takes at least one, some also another, and some take one but rarely."""
    first = draw(st.lists(st.integers(0, draw(st.integers(1, 3))), min_size=TAXA, max_size=TAXA))
    masks = [sum(1 << place for place, lead in enumerate(first) if lead == one) for one in range(max(first) + 2)]
    masks = [mask | draw(SETS) & draw(SETS) for mask in masks]
    usual = tuple(mask & ~draw(SETS) for mask in masks)
    return Split(0, draw(st.sampled_from(sorted(COST.values()))), tuple(masks), usual)


def _plain(split: Split) -> Split:
    return replace(split, usual=split.masks)


def _score(split: Split, taxa: int, weights: list[int]) -> float:
    """Bits for the cost as the planner's text says: averaged over the leads, and lessened by how much is repeated."""
    if any(taxa & mask == taxa for mask in split.masks):
        return -math.inf

    def weigh(held: int) -> float:
        return sum(weight for place, weight in enumerate(weights) if held >> place & 1)

    def bits(weight: float) -> float:
        return weight * math.log2(weight) if weight else 0.0

    along = [weigh(m & taxa & u) + RARE * weigh(m & taxa & ~u) for m, u in zip(split.masks, split.usual, strict=True)]
    whole = weigh(taxa)
    spread = whole / sum(along)
    return (bits(whole) - sum(map(bits, along)) * spread) * min(1.0, spread) / split.cost


@given(
    st.lists(_splits(), min_size=1, max_size=30),
    st.lists(st.integers(1, EVERY), min_size=1, max_size=12),
    st.lists(st.sampled_from([1, 2, 4, 8]), min_size=TAXA, max_size=TAXA),
    st.booleans(),
)
def test_it_is_the_first_of_the_most_informing_of_all_weighed_singly(
    splits: list[Split], sets: list[int], weights: list[int], plain: bool
) -> None:
    splits = [_plain(split) for split in splits] if plain else splits
    chosen = WeighedQuestions(splits, weights).most_informing(sets)
    assert set(chosen) == set(sets)
    for taxa, found in chosen.items():
        scores = [_score(split, taxa, weights) for split in splits]
        if max(scores) == -math.inf:
            assert found is None
            continue
        assert found is not None
        place = next(n for n, split in enumerate(splits) if split is found)
        assert scores[place] == pytest.approx(max(scores), abs=1e-9)
        assert not any(score > scores[place] - 1e-12 and splits[n].masks == found.masks for n, score in enumerate(scores[:place]))


def test_the_question_that_halves_says_most_and_as_many_bits_as_shannon_has() -> None:
    """Of eight, three answers each even: 8·log₂ 8 less twice 4·log₂ 4 is 8 bits (Shannon 1948); any other way says less."""
    lopsided = [Split(0, 1.0, (mask, 0xFF & ~mask), (mask, 0xFF & ~mask)) for mask in (0b1, 0b111, 0b11111)]
    halves = Split(1, 1.0, (0x0F, 0xF0), (0x0F, 0xF0))
    assert _score(halves, 0xFF, [1] * 8) == 8
    assert WeighedQuestions([*lopsided, halves], [1] * 8).most_informing([0xFF])[0xFF] is halves
    assert WeighedQuestions([*lopsided, halves], [1] * 8).most_informing([0b111])[0b111] is lopsided[0]


def test_without_a_question_none_is_chosen() -> None:
    assert WeighedQuestions([], [1, 2]).most_informing([3, 1]) == {3: None, 1: None}


@pytest.mark.parametrize("share", [0.0, 0.3])
@pytest.mark.parametrize("even", [True, False])
def test_each_couplet_of_a_large_key_asks_what_informs_most(share: float, *, even: bool) -> None:
    matrix = _large(share, even=even)
    branches = [branch for branch in plan_key(matrix, dichotomous=True, thorough=False) if branch.split]
    assert len(branches) >= 199
    splits = splits_of(matrix, dichotomous=True)
    weights = list(matrix.weights)
    for branch in branches[:: 1 + len(branches) // 60]:
        assert branch.split
        best = max(_score(split, branch.taxa, weights) for split in splits)
        assert _score(branch.split, branch.taxa, weights) == pytest.approx(best, abs=1e-9)


def _large(share: float, *, even: bool) -> Matrix:
    draw, asked = random.Random(200), [states(f"c{n}", a="a", b="b", c="c", d="d") for n in range(40)]
    rows = ([shows(c, draw.choice("abcd")) for c in asked if draw.random() >= share] for _ in range(200))
    matrix = matrix_of(guide(tuple(asked), *(account(f"T{n}", *row) for n, row in enumerate(rows))))
    return matrix if even else replace(matrix, weights=tuple(draw.choice((1, 2, 4, 8)) for _ in matrix.taxa))


def test_many_sets_are_weighed_some_at_a_time(monkeypatch: pytest.MonkeyPatch) -> None:
    table = _large(0.3, even=False)
    questions = WeighedQuestions(splits_of(table, dichotomous=True), table.weights)
    sets = [0b111 << place for place in range(150)]
    at_once = questions.most_informing(sets)
    monkeypatch.setattr("guidebuild.identify.weighed_questions._AT_ONCE", 5 * 6 * len(splits_of(table, dichotomous=True)))
    assert questions.most_informing(sets) == at_once
