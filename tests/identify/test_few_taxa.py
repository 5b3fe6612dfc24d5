"""Choosing a question for a few taxa by counting all questions at once, beside weighing one after another."""

import math
import random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.identify import planner
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.few_taxa import FewTaxa, turned
from guidebuild.identify.key import make_key
from guidebuild.identify.splits import COST, Split
from tests.identify.invented import account, guide, shows, states

TAXA = 9
BITS = [n * math.log2(n) if n else 0.0 for n in range(TAXA + 1)]
EVERY = (1 << TAXA) - 1
SPLITS = st.builds(
    lambda one, both, cost: Split(0, cost, (one | both, ~one & EVERY | both), (one | both, ~one & EVERY | both)),
    st.integers(0, EVERY),
    st.integers(0, EVERY),
    st.sampled_from(sorted(COST.values())),
)


def _score(split: Split, taxa: int) -> float:
    """Bits for the cost as the planner's text says: averaged over the leads, and lessened by how much is repeated."""
    whole, parts = taxa.bit_count(), [(mask & taxa).bit_count() for mask in split.masks]
    if whole in parts:
        return -math.inf
    spread = whole / sum(parts)
    return (BITS[whole] - sum(BITS[part] for part in parts) * spread) * spread / split.cost


@given(st.lists(SPLITS, min_size=1, max_size=40), st.integers(1, EVERY))
def test_it_is_the_first_of_the_most_informing_of_all_weighed_singly(splits: list[Split], taxa: int) -> None:
    scores = [_score(split, taxa) for split in splits]
    chosen = FewTaxa(splits, BITS).most_informing(taxa)
    if max(scores) == -math.inf:
        assert chosen is None
        return
    first = next(n for n, score in enumerate(scores) if score >= max(scores) - 1e-9)
    assert chosen is not None
    assert chosen is splits[first] or scores[splits.index(chosen)] == pytest.approx(max(scores), abs=1e-12)


@given(st.lists(st.integers(0, 127), min_size=1, max_size=20))
def test_a_table_turned_round_has_the_same_marks(sets: list[int]) -> None:
    rows = turned(sets, 7)
    assert [[held >> taxon & 1 for held in sets] for taxon in range(7)] == [[row >> n & 1 for n in range(len(sets))] for row in rows]


@pytest.mark.parametrize("share", [0.0, 0.15, 0.3])
def test_a_large_key_is_the_same_as_without_it(share: float, monkeypatch: pytest.MonkeyPatch) -> None:
    draw, asked = random.Random(200), [states(f"c{n}", a="a", b="b", c="c", d="d") for n in range(40)]
    rows = ([shows(c, draw.choice("abcd")) for c in asked if draw.random() >= share] for _ in range(200))
    matrix = matrix_of(guide(tuple(asked), *(account(f"T{n}", *row) for n, row in enumerate(rows))))
    counted = make_key(matrix, thorough=False)
    monkeypatch.setattr(planner, "FEW", 0)
    assert make_key(matrix, thorough=False) == counted
    assert len(counted.couplets) >= 199
