"""Smallest covers: what is promised where nothing can be covered, and where the search is left to the greedy way."""

from __future__ import annotations

import math

import pytest

from guidebuild.identify import covering
from guidebuild.identify.covering import Cover, find_covers


def test_where_nothing_can_be_covered_the_empty_set_is_the_smallest() -> None:
    assert find_covers(0b11, [0, 0b100], exact_columns=9) == Cover(((),), exact=True, at_least=0, factor=1.0, uncovered=0b11)
    assert find_covers(0, [0b1], exact_columns=9) == Cover(((),), exact=True, at_least=0, factor=1.0, uncovered=0)


def test_what_no_column_covers_is_told_beside_the_smallest_sets() -> None:
    assert find_covers(0b1011, [0b0001, 0b0010], exact_columns=9) == Cover(((0, 1),), exact=True, at_least=2, factor=1.0, uncovered=0b1000)


@pytest.mark.parametrize(("columns", "least"), [([0b11, 0b1100], 2), ([0b11, 0b1100, 0b10000], 3), ([0b1111], 1), ([0b111, 0b11000], 2)])
def test_a_greedy_set_says_how_small_any_set_could_be(columns: list[int], least: int) -> None:
    """As many columns as the largest of them fits into all that is wanted, rounded up."""
    wanted = 0
    for column in columns:
        wanted |= column
    found = find_covers(wanted, columns, exact_columns=0)
    most = max(column.bit_count() for column in columns)
    # A greedy set is at most 1 + ln(m) times the smallest, m the most that one column covers (Chvátal 1979, from memory).
    assert (found.at_least, found.exact, found.factor) == (least, False, pytest.approx(1 + math.log(most)))


def test_of_columns_that_cover_as_much_the_greedy_way_takes_the_first() -> None:
    assert find_covers(0b1111, [0b0110, 0b0011, 0b1001], exact_columns=0).smallest == ((0, 2),)


def test_a_search_that_takes_too_long_is_left_to_the_greedy_way(monkeypatch: pytest.MonkeyPatch) -> None:
    columns = [0b0110, 0b0011, 0b1001]
    assert find_covers(0b1111, columns, exact_columns=3).exact
    assert not find_covers(0b1111, columns, exact_columns=2).exact
    monkeypatch.setattr(covering, "STEPS", 1)
    assert not find_covers(0b1111, columns, exact_columns=3).exact


def test_no_more_ties_are_listed_than_a_reader_can_use(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(covering, "TIES", 3)
    assert len(find_covers(0b1, [0b1] * 5, exact_columns=9).smallest) == 3


def test_only_columns_that_cover_something_count_for_how_far_is_searched() -> None:
    assert find_covers(0b11, [0b01, 0b100, 0b10, 0b1000], exact_columns=2) == Cover(
        ((0, 2),), exact=True, at_least=2, factor=1.0, uncovered=0
    )


def test_the_thing_that_fewest_columns_cover_is_looked_at_first(monkeypatch: pytest.MonkeyPatch) -> None:
    """Each of twelve things has a column of its own: one step for each, and one to see that all are covered."""
    monkeypatch.setattr(covering, "STEPS", 13)
    assert find_covers((1 << 12) - 1, [1 << n for n in range(12)], exact_columns=12).exact
    # The first column covers most; but the last thing is only in the last, which with the second covers all.
    monkeypatch.setattr(covering, "STEPS", 4)
    assert find_covers(0b11111, [0b01110, 0b00011, 0b11100], exact_columns=3).smallest == ((1, 2),)
