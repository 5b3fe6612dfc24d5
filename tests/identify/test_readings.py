"""What an account shows in one stage and sex, and its words. All accounts are invented."""

from __future__ import annotations

import math

import pytest

from guidebuild.guide.measures import Span
from guidebuild.identify.readings import (
    EVERYWHERE,
    Reading,
    Scope,
    does_not_apply,
    measure_gap,
    range_words,
    reading_in,
    scored_stages,
    scores_by_character,
    value_words,
)
from tests.identify.invented import account, length, measure, shows, states

COLOUR = states("colour", red="red", brown="brown", grey="grey")
SIZE = length()


def reading(*scores, scope: Scope = EVERYWHERE) -> Reading | None:
    made = account("One", *scores)
    return reading_in(scores_by_character(made)[scores[0].character], scope)


def words_of(value: str) -> str:
    found = reading(shows(COLOUR, value))
    assert found is not None
    return value_words(COLOUR, found)


def test_usual_and_rare_states_are_told_apart_in_words() -> None:
    assert words_of("red") == "red"
    assert words_of("grey red") == "red or grey"
    assert words_of("red (grey)") == "red, rarely grey"
    assert words_of("(grey brown)".replace(" ", ") (")) == "rarely brown or grey"


def test_what_is_usual_in_one_part_is_not_rare_in_the_whole() -> None:
    both = reading(shows(COLOUR, "red", sex="male"), shows(COLOUR, "brown (red)", sex="female"))
    assert both == Reading(frozenset({"red", "brown"}), frozenset())


def test_an_unsexed_specimen_may_show_what_either_sex_does() -> None:
    scores = (shows(COLOUR, "red", sex="male"), shows(COLOUR, "grey", sex="female"), shows(COLOUR, "brown"))
    assert reading(*scores, scope=Scope(sex="male")) == Reading(frozenset({"red"}))
    assert reading(*scores, scope=Scope(sex="female")) == Reading(frozenset({"grey"}))
    assert reading(*scores) == Reading(frozenset({"red", "brown", "grey"}))
    assert reading(shows(COLOUR, "brown"), shows(COLOUR, "red", sex="male"), scope=Scope(sex="female")) == Reading(frozenset({"brown"}))
    assert reading(shows(COLOUR, "red", sex="male"), scope=Scope(sex="female")) is None


def test_one_score_for_all_speaks_for_the_sex_that_has_none() -> None:
    scores = (shows(COLOUR, "brown"), shows(COLOUR, "red", sex="male"))
    assert reading(*scores) == Reading(frozenset({"red", "brown"}))
    workers = (shows(COLOUR, "red", sex="worker"), shows(COLOUR, "grey", sex="queen"))
    assert reading(*workers) is None
    assert reading(*workers, shows(COLOUR, "brown", sex="drone")) == reading(*workers, shows(COLOUR, "brown", sex="male"))
    assert reading(*workers, shows(COLOUR, "brown", sex="drone")) == Reading(frozenset({"red", "brown", "grey"}))


def test_a_score_of_the_stage_goes_before_one_of_all_stages() -> None:
    scores = (shows(COLOUR, "red"), shows(COLOUR, "grey", stage="nymph"))
    assert reading(*scores, scope=Scope("nymph")) == Reading(frozenset({"grey"}))
    assert reading(*scores, scope=Scope("adult")) == Reading(frozenset({"red"}))
    assert reading(*scores) == Reading(frozenset({"red"}))
    assert reading(shows(COLOUR, "grey", stage="nymph"), scope=Scope("adult")) is None
    assert scored_stages(scores) == {"nymph"}


def test_one_unknown_part_leaves_the_whole_unknown() -> None:
    assert reading(shows(COLOUR, "?")) is None
    assert reading(shows(COLOUR, "red", sex="male"), shows(COLOUR, "?", sex="female")) is None
    assert reading(shows(COLOUR, "red", sex="male"), shows(COLOUR, "-", sex="female")) is None
    assert reading(shows(COLOUR, "")) is None


def test_not_applicable_is_said_of_a_stage_only_by_all_its_scores() -> None:
    scores = (shows(COLOUR, "-", stage="nymph"), shows(COLOUR, "red", stage="adult"))
    assert does_not_apply(scores, Scope("nymph"))
    assert not does_not_apply(scores, Scope("adult"))
    assert not does_not_apply(scores, Scope("egg"))
    assert not does_not_apply((shows(COLOUR, "-", sex="male"), shows(COLOUR, "red", sex="female")), EVERYWHERE)


def test_ranges_of_the_sexes_join_and_open_ends_stay_open() -> None:
    male, female = shows(SIZE, measure(6, 8), sex="male"), shows(SIZE, measure(7, 9, approximate=True), sex="female")
    assert reading(male, female) == Reading(low=6, high=9, approximate=True) or str(reading(male, female)) == str(
        Reading(low=6, high=9, approximate=True)
    )
    alone = reading(shows(SIZE, measure(6, 8)))
    assert alone is not None
    assert (alone.low, alone.high, alone.typed, alone.approximate) == (6, 8, "6–8 mm", False)
    opened = reading(male, shows(SIZE, measure(None, 5), sex="female"))
    assert opened is not None
    assert (opened.low, opened.high, opened.typed) == (-math.inf, 8, "")
    upward = reading(male, shows(SIZE, measure(9, None), sex="female"))
    assert upward is not None
    assert (upward.low, upward.high) == (6, math.inf)


def test_figures_by_sex_or_stage_are_taken_apart() -> None:
    by_sex = shows(SIZE, measure(10, 18, Span(10, 12, "male"), Span(13, 18, "female")))
    made = scores_by_character(account("One", by_sex, shows(COLOUR, "red")))[SIZE.id]
    assert [(set(s.sexes), set(s.stages), s.measure and (s.measure.low, s.measure.high)) for s in made] == [
        ({"male"}, set(), (10, 12)),
        ({"female"}, set(), (13, 18)),
    ]
    by_stage = shows(SIZE, measure(1, 9, Span(1, 4, "nymph"), Span(6, 9, "adult")))
    assert [(set(s.sexes), set(s.stages)) for s in scores_by_character(account("One", by_stage))[SIZE.id]] == [
        (set(), {"nymph"}),
        (set(), {"adult"}),
    ]
    # A span without a label is the overall range over again.
    plain = shows(SIZE, measure(6, 9, Span(6, 9, "")))
    assert scores_by_character(account("One", plain))[SIZE.id] == (plain,)


def test_a_gap_is_measured_whichever_comes_first() -> None:
    short, long = Reading(low=6, high=9), Reading(low=10.5, high=12)
    assert measure_gap(short, long) == measure_gap(long, short) == 1.5
    assert measure_gap(Reading(low=6, high=10), long) == 0.5
    assert measure_gap(Reading(low=6, high=11), long) == -0.5


@pytest.mark.parametrize(
    ("low", "high", "unit", "words"),
    [
        (6, 9, "mm", "6–9 mm"),
        (6, 6, "mm", "6 mm"),
        (5, 7, "count", "5–7"),
        (5, 5, "count", "5"),
        (5, math.inf, "count", "5 or more"),
        (-math.inf, 9, "", "up to 9"),
        (6.5, math.inf, "g", "6.5 g or more"),
    ],
)
def test_ranges_in_words(low: float, high: float, unit: str, words: str) -> None:
    assert range_words(low, high, unit).replace("\N{NO-BREAK SPACE}", " ") == words
