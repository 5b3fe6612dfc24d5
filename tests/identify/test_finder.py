"""The finder's table is plain data and its ranking forgives one mistake. All tables are invented."""

from __future__ import annotations

import json
import random
from dataclasses import replace

import pytest

from guidebuild.guide.characters import Ease
from guidebuild.identify.columns import matrix_of
from guidebuild.identify.finder import NOT_APPLICABLE, WORTH, finder_table, finder_tables, order_questions, rank_taxa, told_pairs
from guidebuild.identify.separation import find_separations
from guidebuild.identify.splits import COST
from tests.identify.invented import account, guide, length, measure, shows, states, table

BAND = states("connexivum", ease=Ease.AT_A_DISTANCE, banded="banded", plain="plain")
SPOT = states("scutellum", spotted="a dark spot", plain="no spot")
CLAW = states("claw", ease=Ease.UNDER_A_LENS, split="split", whole="whole")


def ticked(made, **ticks: str):
    """Ticks by label and words, as a reader makes them."""
    places = {c.label: (n, c.states) for n, c in enumerate(made.characters)}
    return {places[label][0]: sum(1 << places[label][1].index(word) for word in words.split("|")) for label, words in ticks.items()}


def names(ranking):
    return [(f.taxon, len(f.against), f.fits) for f in ranking.left]


MADE = guide(
    (BAND, SPOT, CLAW),
    account("One", shows(BAND, "banded"), shows(SPOT, "spotted"), shows(CLAW, "split")),
    account("Two", shows(BAND, "banded"), shows(SPOT, "plain"), shows(CLAW, "whole")),
    account("Three", shows(BAND, "plain"), shows(SPOT, "plain"), shows(CLAW, "split")),
    account("Four", shows(BAND, "plain (banded)"), shows(SPOT, "-"), shows(CLAW, "?")),
)


def test_rows_tell_states_from_unknown_and_not_applicable() -> None:
    made = finder_table(MADE)
    assert made.rows[0] == (1, 1, 1)
    assert made.rows[3] == (3, NOT_APPLICABLE, 0)
    assert made.rare[3] == (1, 0, 0)


def test_of_those_that_fit_alike_the_nearest_to_today_and_here_come_first() -> None:
    made = finder_table(MADE)
    assert [taxon for taxon, _, _ in names(rank_taxa(made, {}, (3, 0, 2, 0)))] == ["two", "four", "three", "one"]
    fitting = rank_taxa(made, ticked(made, connexivum="banded"), (9, 8, 0, 7))
    assert [taxon for taxon, _, _ in names(fitting)] == ["four", "two", "one", "three"]  # what fits goes before what is out


def test_states_are_named_by_what_stays_when_words_change() -> None:
    sizes = length(margin=1.0)
    spans = {"One": (6, 9), "Two": (10.5, 13), "Three": (20, 21)}
    made = finder_table(guide((sizes, SPOT), *(account(n, shows(sizes, measure(*s)), shows(SPOT, "plain")) for n, s in spans.items())))
    assert made.characters[0].state_ids == ("-10", "10-16", "16-")
    assert finder_table(MADE).characters[1].state_ids == ("spotted", "plain")


SONG = replace(states("song", ease=Ease.AT_A_DISTANCE, trill="a trill", rattle="a rattle"), sexes=frozenset({"male"}))


def test_what_one_sex_alone_shows_is_asked_of_whoever_meets_it() -> None:
    sung = guide((SONG,), account("One", shows(SONG, "trill")), account("Two", shows(SONG, "rattle")))
    made = finder_table(sung)
    assert [c.label for c in made.characters] == ["song"]
    assert made.rows == ((1,), (2,))
    assert matrix_of(sung).columns == ()  # a key asks nothing that half of all specimens cannot answer


NYMPH = states("stripe", stages="nymph", pale="pale", dark="dark")


def test_each_stage_of_which_something_tells_has_its_table_in_order_of_life() -> None:
    one = account("One", shows(BAND, "banded", stage="adult"), shows(NYMPH, "pale"))
    two = account("Two", shows(BAND, "plain", stage="adult"), shows(NYMPH, "dark"))
    assert [t.scope.stage for t in finder_tables(guide((BAND, NYMPH), one, two))] == ["nymph", "adult"]
    alike = account("Two", shows(BAND, "plain", stage="adult"), shows(NYMPH, "pale"))
    assert [t.scope.stage for t in finder_tables(guide((BAND, NYMPH), one, alike))] == ["adult"]
    assert finder_tables(guide((NYMPH,), account("One", shows(NYMPH, "pale")))) == ()
    everywhere = guide((BAND,), account("One", shows(BAND, "banded")), account("Two", shows(BAND, "plain")))
    assert len(finder_tables(everywhere)) == 1  # nothing is of one stage: it is asked once


def test_colour_size_and_shape_of_the_whole_are_asked_first() -> None:
    wing = replace(states("wing", ease=Ease.AT_A_DISTANCE, a="a", b="b", c="c", d="d"), part="wing", view="upperside")
    colour = replace(states("colour", ease=Ease.AT_A_DISTANCE, a="a", b="b"), view="upperside")
    call = states("call", ease=Ease.AT_A_DISTANCE, a="a", b="b", c="c", d="d")
    shape = replace(states("shape", ordered=True, ease=Ease.CLOSE_UP, a="a", b="b"), view="upperside")
    made = (wing, call, shape, colour, length())
    spans = {"One": ("a", (1, 2)), "Two": ("b", (5, 6)), "Three": ("a", (1, 2)), "Four": ("b", (9, 10))}
    letters = iter("abcd")
    taxa = [
        account(n, shows(wing, w := next(letters)), shows(call, w), shows(shape, s), shows(colour, s), shows(length(), measure(*size)))
        for n, (s, size) in spans.items()
    ]
    table_made = finder_table(sung := guide(made, *taxa))
    assert [table_made.characters[c].label for c in order_questions(sung, table_made)] == ["colour", "body length", "shape", "wing", "call"]


def test_nothing_ticked_leaves_all_and_asks_what_tells_most_pairs_for_its_ease() -> None:
    ranking = rank_taxa(finder_table(MADE), {})
    assert names(ranking) == [("one", 0, 0), ("two", 0, 0), ("three", 0, 0), ("four", 0, 0)]
    assert [finder_table(MADE).characters[c].label for c in ranking.next] == ["connexivum", "scutellum", "claw"]


def test_one_mistake_keeps_a_taxon_and_two_rule_it_out() -> None:
    made = finder_table(MADE)
    ranking = rank_taxa(made, ticked(made, connexivum="banded", scutellum="a dark spot"))
    assert names(ranking) == [("one", 0, 2), ("two", 1, 1), ("four", 1, 1)]
    assert ranking.left[1].against == (1,)


def test_what_is_not_known_is_never_held_against_a_taxon_and_what_does_not_apply_is() -> None:
    """The author of Four says that it has no scutellum to look at, and does not say what its claws are like."""
    made = finder_table(MADE)
    ranking = rank_taxa(made, ticked(made, scutellum="no spot", claw="split"))
    assert names(ranking) == [("three", 0, 2), ("one", 1, 1), ("two", 1, 1), ("four", 1, 0)]
    assert names(rank_taxa(made, ticked(made, claw="split")))[:3] == [("one", 0, 1), ("three", 0, 1), ("four", 0, 0)]
    assert rank_taxa(made, {0: 0, 2: 0}) == rank_taxa(made, {})


# The worth of a pair told apart is the inverse of what its question costs in a key, in whole numbers: 22 at a distance.
def test_the_finder_and_the_key_weigh_ease_alike() -> None:
    assert {ease: round(22 / cost) for ease, cost in COST.items()} == WORTH
    assert list(COST) == sorted(COST) == list(Ease)
    assert list(COST.values()) == sorted(set(COST.values()))


def test_a_class_holds_every_taxon_that_may_be_measured_so() -> None:
    sizes = length(margin=1.0)
    spans = {"One": (6, 9), "Two": (10.5, 13), "Three": (8.4, 9.1), "Four": (20, 21)}
    made = finder_table(guide((sizes,), *(account(n, shows(sizes, measure(*s))) for n, s in spans.items()), account("Five")))
    (character,) = made.characters
    assert [s.replace("\N{NO-BREAK SPACE}", " ") for s in character.states] == ["under 10 mm", "10–16 mm", "16 mm or more"]
    assert made.rows == ((1,), (2,), (1,), (4,))
    assert made.left_out == ("five",)
    assert made.rare == ((0,),) * 4


def test_a_limit_between_classes_lies_half_the_margin_from_both() -> None:
    sizes = length(margin=2.0)
    spans = {"One": (6, 9.4), "Two": (12, 13)}
    made = finder_table(guide((sizes,), *(account(n, shows(sizes, measure(*s))) for n, s in spans.items())))
    words = [s.replace("\N{NO-BREAK SPACE}", " ") for s in made.characters[0].states]
    assert words == ["under 11 mm", "11 mm or more"]


def test_either_of_two_states_may_be_ticked() -> None:
    made = finder_table(MADE)
    assert names(rank_taxa(made, ticked(made, connexivum="banded|plain"))) == [
        ("one", 0, 1),
        ("two", 0, 1),
        ("three", 0, 1),
        ("four", 0, 1),
    ]


def test_the_next_character_separates_those_that_fail_nothing() -> None:
    made = finder_table(MADE)
    ranking = rank_taxa(made, ticked(made, connexivum="banded"))
    assert made.characters[ranking.next[0]].label == "scutellum"


def test_measurements_are_offered_in_classes_that_miss_nobody() -> None:
    spans = {"One": (6, 9), "Two": (10, 13), "Three": (12, 15), "Four": (15, 18), "Five": (19, 25), "Six": (3, 30)}
    made = finder_table(guide((length(),), *(account(n, shows(length(), measure(*s))) for n, s in spans.items())))
    (character,) = made.characters
    assert [s.replace("\N{NO-BREAK SPACE}", " ") for s in character.states] == [
        "under 10 mm", "10–14 mm", "14–19 mm", "19 mm or more"
    ]  # fmt: skip
    assert made.rows == ((1,), (2,), (6,), (4,), (8,), (15,))


def test_counts_are_offered_in_whole_numbers() -> None:
    joints = length("joints", unit="count")
    sizes = {"One": (3, 3), "Two": (4, 5), "Three": (6, 9)}
    made = finder_table(guide((joints,), *(account(n, shows(joints, measure(*s, unit="count"))) for n, s in sizes.items())))
    assert made.characters[0].states == ("fewer than 4", "4–5", "6 or more")


def test_many_classes_are_thinned() -> None:
    made = guide((length(),), *(account(f"T{n}", shows(length(), measure(n, n + 0.5))) for n in range(1, 40)))
    (character,) = finder_table(made).characters
    assert len(character.states) == 6


@pytest.mark.parametrize("seed", range(10))
def test_pairs_told_are_those_that_the_comparison_separates(seed: int) -> None:
    draw = random.Random(seed)
    guide_made = table({f"T{n}": "".join(draw.choice("abc?") for _ in range(3)) + "a" for n in range(7)})
    made = finder_table(guide_made)
    for c, character in enumerate(made.characters):
        cells = [row[c] for row in made.rows]
        pairs = [(a, b) for i, a in enumerate(made.taxa) for b in made.taxa[i + 1 :]]
        told = sum(any(s.character.id == character.id for s in find_separations(guide_made, a, b)) for a, b in pairs)
        assert told_pairs(cells) == told


def test_the_plain_table_survives_json() -> None:
    plain = finder_table(MADE).plain()
    assert json.loads(json.dumps(plain)) == plain
    assert plain["rows"][0] == [1, 1, 1]


def test_characters_that_tell_nothing_are_not_asked() -> None:
    assert [c.label for c in finder_table(table({"One": "ab", "Two": "aa"})).characters] == ["c1"]
    assert [c.label for c in finder_table(table({"One": "ab", "Two": "?a"})).characters] == ["c1"]
