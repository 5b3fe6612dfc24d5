"""The words of a key: what each lead says, its letter, and its numbers. All tables are invented."""

from __future__ import annotations

import pytest

from guidebuild.guide.characters import Ease
from guidebuild.guide.text.inline import Inline
from guidebuild.identify.columns import Matrix
from guidebuild.identify.information import least_path, weighted_bits
from guidebuild.identify.key import make_key
from guidebuild.identify.key_words import cut_words, letter_lead
from guidebuild.words import words
from tests.identify.invented import account, guide, length, measure, shows, states

BAND = states("band", ease=Ease.AT_A_DISTANCE, banded="banded", plain="plain")
COLOUR = states("colour", red="red", brown="brown", grey="grey")
SIZE = length()


def test_a_lead_names_only_states_that_someone_left_may_show() -> None:
    rows = {"One": ("banded", "grey"), "Two": ("plain", "red"), "Three": ("plain", "brown")}
    key = make_key(guide((BAND, COLOUR), *(account(n, shows(BAND, b), shows(COLOUR, c)) for n, (b, c) in rows.items())))
    assert [[lead.words for lead in couplet.leads] for couplet in key.couplets] == [["banded", "plain"], ["red", "brown"]]


@pytest.mark.parametrize(
    ("cut", "unit", "under", "or_more"),
    [(10, "mm", "under 10 mm", "10 mm or more"), (4, "count", "fewer than 4", "4 or more"), (2.5, "", "fewer than 2.5", "2.5 or more")],
)
def test_every_measurement_has_one_answer(cut: float, unit: str, under: str, or_more: str) -> None:
    english = words("en")
    assert cut_words(cut, unit, english, under=True).replace("\N{NO-BREAK SPACE}", " ") == under
    assert cut_words(cut, unit, english, under=False).replace("\N{NO-BREAK SPACE}", " ") == or_more


def test_leads_are_lettered_as_the_alphabet_goes_on() -> None:
    assert [letter_lead(n) for n in (0, 1, 25, 26, 27, 51, 52)] == ["a", "b", "z", "aa", "ab", "az", "ba"]
    assert len({letter_lead(n) for n in range(26 * 27)}) == 26 * 27


def test_lengths_of_a_key_are_counted_for_its_reader() -> None:
    """A comb of four: two taxa lie three couplets deep, the commonest at the first."""
    rows = {"One": "abundant", "Two": "rare", "Three": "rare", "Four": "rare"}
    asked = tuple(states(f"c{n}", yes="yes", no="no") for n in range(3))
    made = [
        account(name, *(shows(c, "yes" if place == n else "no") for place, c in enumerate(asked)), status=Inline(status))
        for n, (name, status) in enumerate(rows.items())
    ]
    told = make_key(guide(asked, *made)).statistics
    assert (told.taxa, told.outcomes, told.couplets, told.ends, told.total, told.greatest) == (4, 4, 3, 4, 9, 3)
    assert told.mean == 9 / 4
    assert told.expected == pytest.approx((8 * 1 + 2 + 3 + 3) / 11)  # abundant weighs 8, rare 1
    assert (told.bound, told.is_two_way) == (2, True)  # log₂ 4; Rypka (1971) divides by the log of the leads of a couplet: log 4 / log 2


def test_a_couplet_of_three_leads_lowers_the_bound() -> None:
    made = guide((COLOUR,), *(account(c.title(), shows(COLOUR, c)) for c in ("red", "brown", "grey")))
    told = make_key(made, dichotomous=False).statistics
    assert (told.bound, told.is_two_way) == (pytest.approx(1), False)
    assert (told.total, told.mean, told.greatest) == (3, 1, 1)


def test_no_taxa_and_one_taxon_need_no_steps() -> None:
    none = make_key(Matrix((), ()))
    assert none.statistics == none.statistics.__class__(0, 0, 0, 0, 0, 0.0, 0.0, 0, 0.0, is_two_way=True)
    assert (none.couplets, none.groups, none.alone) == ((), (), ())
    one = make_key(guide((BAND,), account("One", shows(BAND, "banded")), account("Two")))
    assert (one.alone, one.left_out, one.couplets) == (("one",), ("two",), ())
    assert (one.statistics.mean, one.statistics.outcomes, one.statistics.bound) == (0, 1, 0)


def test_a_rare_state_is_met_seldom_and_lengthens_the_way_a_little() -> None:
    """One may be banded, a tenth as often as plain: of its ways one is of a single couplet, the other of two."""
    rows = {"One": ("plain (banded)", "red"), "Two": ("plain", "brown"), "Three": ("banded", "grey")}
    made = guide((BAND, COLOUR), *(account(n, shows(BAND, b), shows(COLOUR, c)) for n, (b, c) in rows.items()))
    key = make_key(made)
    assert key.statistics.mean <= 2
    assert {t for c in key.couplets for lead in c.leads for t in lead.taxa} == {"one", "two", "three"}


def test_taxa_left_together_are_told_where_their_sizes_meet() -> None:
    sizes = {"One": (6, 9), "Two": (8, 11), "Three": (6, 9)}
    key = make_key(guide((SIZE,), *(account(n, shows(SIZE, measure(*s))) for n, s in sizes.items())))
    (group,) = key.groups
    assert group.taxa == ("one", "two", "three")
    assert [(o.first, o.second, o.low, o.high, o.unit) for o in group.overlaps] == [
        ("one", "two", 8, 9, "mm"),
        ("two", "three", 8, 9, "mm"),
    ]
    assert group.told_apart == ()


def test_taxa_left_together_are_told_apart_in_another_stage() -> None:
    nymphs = states("stripe", stages="nymph", striped="striped", bare="bare")
    made = guide(
        (BAND, COLOUR, nymphs),
        account("One", shows(BAND, "plain"), shows(COLOUR, "red"), shows(nymphs, "striped")),
        account("Two", shows(BAND, "plain"), shows(COLOUR, "red"), shows(nymphs, "bare")),
        account("Three", shows(BAND, "banded"), shows(COLOUR, "grey"), shows(nymphs, "bare")),
    )
    key = make_key(made, accounts=["one", "two", "three"])
    assert key.scope.stage == "nymph" or [(a, b, s.character.id) for g in key.groups for a, b, s in g.told_apart] == [
        ("one", "two", "stripe")
    ]


def test_a_lead_is_confirmed_by_characters_that_divide_alike() -> None:
    rows = {"One": ("banded", "red"), "Two": ("plain", "grey")}
    key = make_key(guide((BAND, COLOUR), *(account(n, shows(BAND, b), shows(COLOUR, c)) for n, (b, c) in rows.items())))
    assert [lead.also for lead in key.couplets[0].leads] == [(("colour", "red"),), (("colour", "grey"),)]


def test_three_that_confirm_are_two_too_many_beside_a_lead() -> None:
    more = tuple(states(f"also {n}", yes="yes", no="no") for n in range(4))
    made = [
        account(name, shows(BAND, band), *(shows(c, "yes" if band == "banded" else "no") for c in more))
        for name, band in (("One", "banded"), ("Two", "plain"))
    ]
    assert [len(lead.also) for lead in make_key(guide((BAND, *more), *made)).couplets[0].leads] == [2, 2]


# Knuth, The Art of Computer Programming 3, §6.2.1: the least external path of a binary tree with N leaves, N(⌊lg N⌋ + 2) − 2^(⌊lg N⌋+1)
# (from memory); counted by hand for few: 2 leaves 2, 3 leaves 5, 4 leaves 8, 5 leaves 12.
def test_the_least_path_of_a_two_way_key() -> None:
    assert [least_path(n) for n in range(9)] == [0, 0, 2, 5, 8, 12, 16, 20, 24]


def test_bits_are_those_of_shannon() -> None:
    """Eight alike are worth 8 · 3 bits; divided into fours, 4 · 2 twice: the answer gives one bit each."""
    assert weighted_bits([8]) - weighted_bits([4, 4]) == 8
    assert weighted_bits([0, 1]) == 0
