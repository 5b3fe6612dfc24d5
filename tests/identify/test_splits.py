"""The questions a key may ask: which ways of dividing there are, and what each costs. All tables are invented."""

from __future__ import annotations

import pytest

from guidebuild.guide.characters import Character, Ease
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.key import make_key
from guidebuild.identify.separation import find_separations
from guidebuild.identify.splits import COST, Split, splits_of
from tests.identify.invented import account, guide, length, measure, shows, states


def splits(character: Character, *values: object, dichotomous: bool = True) -> list[Split]:
    made = guide((character,), *(account(f"T{n}", shows(character, value)) for n, value in enumerate(values)))
    return splits_of(matrix_of(made), dichotomous=dichotomous)


def leads(character: Character, *values: object, dichotomous: bool = True) -> set[frozenset[tuple[int, ...]]]:
    return {frozenset(split.states) for split in splits(character, *values, dichotomous=dichotomous)}


def of(count: int, *, ordered: bool = False, ease: Ease = Ease.CLOSE_UP) -> Character:
    return states("colour", ordered=ordered, ease=ease, **{letter: letter for letter in "abcdefg"[:count]})


def test_a_state_that_all_share_asks_nothing() -> None:
    assert splits(of(3), "a", "a") == []
    assert splits(of(3), "a", "?") == []


def test_each_state_is_set_against_the_rest_and_of_four_any_two_against_two() -> None:
    assert leads(of(3), *"abc") == {frozenset({(0,), (1, 2)}), frozenset({(1,), (0, 2)}), frozenset({(2,), (0, 1)})}
    four = leads(of(4), *"abcd")
    assert len(four) == 7
    assert frozenset({(0, 1), (2, 3)}) in four
    assert len(leads(of(5), *"abcde")) == 5


def test_states_in_order_are_cut_between_neighbours() -> None:
    found = leads(of(5, ordered=True), *"abcde")
    assert frozenset({(0, 1), (2, 3, 4)}) in found
    assert frozenset({(0, 1, 2), (3, 4)}) in found
    assert frozenset({(0, 2), (1, 3, 4)}) not in found
    assert len(found) == 7  # four cuts, and three states in between against the rest


def test_what_one_taxon_may_show_is_set_against_the_rest_together() -> None:
    assert frozenset({(0, 3), (1, 2, 4)}) in leads(of(5), "a d", *"bce")


def test_the_lead_with_the_first_state_stands_first() -> None:
    pairs = {split.states for split in splits(of(4), *"abcd") if len(split.states[0]) == 2}
    assert pairs == {((0, 1), (2, 3)), ((0, 2), (1, 3)), ((0, 3), (1, 2))}
    assert ((0, 1), (2, 3, 4)) in {split.states for split in splits(of(5), "a b", "c d e")}


def test_a_taxon_that_may_show_every_state_is_set_against_nothing() -> None:
    assert leads(of(3), "a b c", *"ab") == {frozenset({(0,), (1, 2)}), frozenset({(1,), (0, 2)}), frozenset({(2,), (0, 1)})}
    assert leads(of(4, ordered=True), "a b c d", *"ad") == leads(of(4, ordered=True), *"abcd")


def test_a_key_of_several_ways_has_a_lead_for_each_state() -> None:
    assert leads(of(5), *"abcde", dichotomous=False) == {frozenset({(0,), (1,), (2,), (3,), (4,)})}


@pytest.mark.parametrize("ease", list(Ease))
def test_a_question_costs_by_its_ease_and_a_little_more_for_each_further_state(ease: Ease) -> None:
    by_size = {max(len(lead) for lead in split.states): split.cost for split in splits(of(5, ease=ease), *"abcde")}
    (two,) = splits(of(2, ease=ease), *"ab")
    assert two.cost == COST[ease]
    assert COST[ease] < by_size[4] < COST[ease] * 1.1
    assert splits(of(4, ease=ease), *"abcd")[0].cost == pytest.approx(COST[ease] * 1.03)  # two states more than leads


def test_the_cheapest_question_comes_first() -> None:
    made = guide(
        (of(2, ease=Ease.UNDER_A_LENS), states("band", ease=Ease.AT_A_DISTANCE, a="a", b="b")),
        *(account(f"T{n}", shows(of(2), v), shows(states("band", a="a", b="b"), v)) for n, v in enumerate("ab")),
    )
    assert [s.column for s in splits_of(matrix_of(made), dichotomous=True)] == [1, 0]


def test_rare_states_are_possible_but_not_usual() -> None:
    (split,) = splits(of(2), "a (b)", "b", "?")
    assert (split.masks, split.usual) == ((0b101, 0b111), (0b101, 0b110)) or (split.masks, split.usual) == ((0b01, 0b11), (0b01, 0b10))


def test_a_measurement_is_cut_in_its_gaps_away_from_both_ends_by_half_the_margin() -> None:
    sized = length(margin=2.0)
    (split,) = splits(sized, measure(6, 9), measure(14, 18), measure(7, 16))
    assert 10 < split.cut <= 13
    assert split.masks == (0b101, 0b110)
    assert splits(sized, measure(6, 9), measure(10, 12)) == []
    (wide,) = splits(sized, measure(6, 9), measure(13, 18))
    assert wide.cut == 11  # from 10 to 12 it may lie
    near = splits(length(margin=1.0), measure(6, 9), measure(10, 12))
    assert [(s.cut, s.masks) for s in near] == [(9.5, (0b01, 0b10))]


def test_further_characters_that_divide_the_taxa_left_confirm_a_lead() -> None:
    band, shape = states("band", ease=Ease.AT_A_DISTANCE, a="a", b="b"), states("shape", a="round", b="long")
    colour = states("colour", ease=Ease.UNDER_A_LENS, red="red", brown="brown", grey="grey")
    rows = {"One": ("a", "?", "grey"), "Two": ("b", "a", "red"), "Three": ("b", "b", "brown")}
    made = guide((band, shape, colour), *(account(n, shows(band, x), shows(shape, y), shows(colour, z)) for n, (x, y, z) in rows.items()))
    key = make_key(made, dichotomous=False)
    assert [c.character for c in key.couplets] == ["band", "shape"]
    assert [lead.also for lead in key.couplets[1].leads] == [(("colour", "red"),), (("colour", "brown"),)]


def test_the_clearest_of_ordered_states_are_those_with_most_steps_between() -> None:
    near, far = (states(name, ordered=True, a="a", b="b", c="c", d="d") for name in ("near", "far"))
    one = account("One", shows(near, "a"), shows(far, "a b"))
    made = guide((near, far), one, account("Two", shows(near, "b"), shows(far, "d")))
    found = find_separations(made, "one", "two")
    assert [(s.character.id, s.clarity) for s in found] == [("far", pytest.approx(2 / 3)), ("near", pytest.approx(1 / 3))]


def test_the_clearness_of_a_range_is_its_gap_beside_the_middle() -> None:
    size = length()
    made = guide((size,), account("One", shows(size, measure(6, 9))), account("Two", shows(size, measure(12, 13))), account("Big"))
    assert find_separations(made, "one", "two")[0].clarity == pytest.approx(3 / 10)  # a gap of 3 beside a mean end of 10
    upward = guide((size,), account("One", shows(size, measure(None, 9))), account("Two", shows(size, measure(12, None))))
    assert find_separations(upward, "one", "two")[0].clarity == pytest.approx(3 / 10.5)
