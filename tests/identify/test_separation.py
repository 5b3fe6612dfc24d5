"""Two taxa are separated only where both are scored, in a common scope, and nothing they show overlaps."""

import math

import pytest

from guidebuild.guide.characters import Ease
from guidebuild.guide.measures import Span
from guidebuild.identify.readings import Scope, range_words
from guidebuild.identify.sentences import tell_apart_sentence
from guidebuild.identify.separation import best_separating, find_separations, find_shared, told_by
from tests.identify.invented import account, guide, length, like, measure, shows, states

SPOT = states("scutellum", spotted="a dark spot", plain="no spot")
BAND = states("connexivum", ease=Ease.AT_A_DISTANCE, banded="banded", plain="plain")
LENGTH = length()


def pair(character, one, other):
    ours = one if isinstance(one, tuple) else (shows(character, one),)
    theirs = other if isinstance(other, tuple) else (shows(character, other),)
    return guide((character,), account("One", *ours), account("Other", *theirs))


@pytest.mark.parametrize(
    ("one", "other", "told"),
    [
        ("spotted", "plain", True),
        ("spotted", "spotted", False),
        ("spotted plain", "plain", False),
        ("spotted (plain)", "plain", False),
        ("spotted", "?", False),
        ("spotted", "-", False),
        ("-", "-", False),
    ],
)
def test_states_separate_only_when_disjoint_and_scored(one, other, told):
    assert bool(find_separations(pair(SPOT, one, other), "one", "other")) is told


@pytest.mark.parametrize(
    ("one", "other", "margin", "told"),
    [
        (measure(6, 9), measure(10, 12), 0.0, True),
        (measure(10, 12), measure(6, 9), 0.0, True),
        (measure(6, 9), measure(9, 12), 0.0, False),
        (measure(6, 9), measure(9.4, 12), 0.5, False),
        (measure(6, 9), measure(9.5, 12), 0.5, True),
        (measure(6, 9), measure(9.5, 12, approximate=True), 0.5, False),
        (measure(6, 9), measure(10, None), 0.0, True),
        (measure(6, None), measure(10, 12), 0.0, False),
    ],
)
def test_ranges_separate_only_across_a_gap_no_narrower_than_the_margin(one, other, margin, told):
    assert bool(find_separations(pair(length(margin=margin), one, other), "one", "other")) is told


def test_a_range_given_by_sex_separates_only_the_sex_that_differs():
    by_sex = measure(10, 18, Span(10, 12, "male"), Span(13, 18, "female"))
    (found,) = find_separations(pair(LENGTH, by_sex, measure(14, 20)), "one", "other")
    assert (found.scope, found.whole) == (Scope(sex="male"), False)
    assert (found.first_words, found.second_words) == ("10–12\N{NO-BREAK SPACE}mm", "14–20 mm")


def test_both_sexes_differing_separate_whole():
    by_sex = measure(5, 8, Span(5, 6, "male"), Span(7, 8, "female"))
    (found,) = find_separations(pair(LENGTH, by_sex, measure(14, 20)), "one", "other")
    assert (found.scope, found.whole, found.first_words) == (Scope(), True, "5–8\N{NO-BREAK SPACE}mm")


def test_stages_without_a_common_scope_separate_nothing():
    nymph, adult = shows(SPOT, "spotted", stage="nymph"), shows(SPOT, "plain", stage="adult")
    assert find_separations(pair(SPOT, (nymph,), (adult,)), "one", "other") == ()


def test_a_score_of_one_stage_meets_a_score_of_all_stages():
    (found,) = find_separations(pair(SPOT, (shows(SPOT, "spotted", stage="nymph"),), "plain"), "one", "other")
    assert (found.scope, found.whole) == (Scope("nymph"), True)


def test_the_stage_that_agrees_keeps_a_separation_from_being_whole():
    ours = (shows(SPOT, "spotted", stage="nymph"), shows(SPOT, "plain", stage="adult"))
    (found,) = find_separations(pair(SPOT, ours, "plain"), "one", "other")
    assert (found.scope, found.whole) == (Scope("nymph"), False)


def test_one_sex_unknown_leaves_an_unsexed_specimen_untold():
    ours = (shows(SPOT, "spotted", sex="male"), shows(SPOT, "?", sex="female"))
    (found,) = find_separations(pair(SPOT, ours, "plain"), "one", "other")
    assert (found.scope, found.whole) == (Scope(sex="male"), False)


def test_what_separates_comes_easiest_first_and_the_rest_is_shared():
    made = guide(
        (LENGTH, SPOT, BAND, length("wing length")),
        account("One", shows(LENGTH, measure(6, 9)), shows(SPOT, "spotted"), shows(BAND, "banded")),
        account("Other", shows(LENGTH, measure(10, 12)), shows(SPOT, "spotted"), shows(BAND, "plain")),
    )
    assert [s.character.id for s in find_separations(made, "one", "other")] == ["connexivum", "body-length"]
    assert [s.character.id for s in find_shared(made, "one", "other")] == ["scutellum"]


def test_of_equally_easy_ones_what_holds_for_all_comes_before_what_holds_for_one_sex():
    horn, tail = states("horn", a="long", b="short"), states("tail", a="long", b="short")
    one = account("One", shows(horn, "a", sex="male"), shows(horn, "b", sex="female"), shows(tail, "a"))
    made = guide((horn, tail), one, account("Other", shows(horn, "b"), shows(tail, "b")))
    assert [(s.character.id, s.whole) for s in find_separations(made, "one", "other")] == [("tail", True), ("horn", False)]


def test_plain_states_are_as_clear_as_can_be():
    (found,) = find_separations(pair(SPOT, "spotted", "plain"), "one", "other")
    assert found.clarity == 1


def test_the_clearest_of_equally_easy_ranges_comes_first():
    near, far = length("horn"), length("tail")
    made = guide(
        (near, far),
        account("One", shows(near, measure(6, 9)), shows(far, measure(6, 9))),
        account("Other", shows(near, measure(9.1, 12)), shows(far, measure(20, 30))),
    )
    assert [s.character.id for s in find_separations(made, "one", "other")] == ["tail", "horn"]


def test_the_author_names_the_character_for_the_card_when_it_does_separate():
    scores = [(SPOT, "spotted", "plain"), (BAND, "banded", "plain")]
    one = account("One", *(shows(c, v) for c, v, _ in scores), similar=(like("other", "scutellum"),))
    made = guide((SPOT, BAND), one, account("Other", *(shows(c, v) for c, _, v in scores)))
    assert [s.character.id for s in best_separating(made, "one", "other")] == ["scutellum", "connexivum"]
    assert [s.character.id for s in best_separating(made, "other", "one", 1)] == ["scutellum"]


@pytest.mark.parametrize(
    ("low", "high", "words"),
    [(6, 9, "6–9 mm"), (6, 6, "6 mm"), (-math.inf, 9, "up to 9 mm"), (6.5, math.inf, "6.5 mm or more")],
)
def test_ranges_are_written_with_a_dash_and_an_unbroken_unit(low, high, words):
    assert range_words(low, high, "mm") == words.replace(" mm", "\N{NO-BREAK SPACE}mm")


@pytest.mark.parametrize(
    ("character", "one", "other", "sentence"),
    [
        (SPOT, "plain", "spotted", "Look at the scutellum: the One has no spot; the Other has a dark spot."),
        (BAND, "banded", "plain", "Look at the connexivum: banded in the One, plain in the Other."),
        (LENGTH, measure(6, 9), measure(10, 12), "The body length of the One is 6–9 mm; that of the Other is 10–12 mm."),
        (
            length("antennal joints", unit="count"),
            measure(4, 4, unit="count"),
            measure(5, 5, unit="count"),
            "The One has 4 antennal joints, the Other 5.",
        ),
        (SPOT, "plain", "plain", ""),
    ],
)
def test_the_sentence_can_be_said_aloud(character, one, other, sentence):
    made = pair(character, one, other)
    assert tell_apart_sentence(made, "one", "other") == sentence


def test_the_sentence_names_the_sex_and_stage_it_holds_for():
    ours = (shows(SPOT, "spotted", stage="nymph"), shows(SPOT, "plain", stage="adult"))
    said = tell_apart_sentence(pair(SPOT, ours, "plain"), "one", "other")
    assert said == "In the nymph, look at the scutellum: the One has a dark spot; the Other has no spot."


def test_another_language_gets_the_facts_in_a_row():
    made = guide((SPOT,), account("One", shows(SPOT, "plain")), account("Otro", shows(SPOT, "spotted")), languages=("es",))
    assert tell_apart_sentence(made, "one", "otro") == "Scutellum: One, no spot; Otro, a dark spot."


@pytest.mark.parametrize(
    ("language", "words"),
    [("en", "red, brown or grey"), ("es", "red, brown o grey")],
)
def test_alternatives_are_joined_as_the_guides_language_does(language, words):
    colour = states("colour", red="red", brown="brown", grey="grey", blue="blue")
    made = guide((colour,), account("One", shows(colour, "red brown grey")), account("Two", shows(colour, "blue")), languages=(language,))
    assert find_separations(made, "one", "two")[0].first_words == words


def test_words_that_hold_an_or_of_their_own_are_kept_apart():
    colour = states("colour", red="orange or red", brown="brown, mottled", row="a row of dots")
    made = guide((colour,), account("One", shows(colour, "red brown")), account("Two", shows(colour, "row")))
    assert find_separations(made, "one", "two")[0].first_words == "orange or red; or brown, mottled"
    assert find_separations(made, "two", "one")[0].first_words == "a row of dots"


def test_what_the_author_tells_another_pair_apart_by_is_not_for_this_one():
    scores = [(SPOT, "spotted", "plain"), (BAND, "banded", "plain")]
    one = account("One", *(shows(c, v) for c, v, _ in scores), similar=(like("third", "scutellum"), like("other")))
    made = guide((SPOT, BAND), one, account("Other", *(shows(c, v) for c, _, v in scores)), account("Third"))
    assert told_by(made, "one", "other") == ()
    assert told_by(made, "third", "one") == ("scutellum",)
    assert [s.character.id for s in best_separating(made, "one", "other")] == ["connexivum", "scutellum"]


def test_a_named_character_comes_once_however_it_separates():
    ours = (shows(SPOT, "spotted", stage="nymph"), shows(SPOT, "plain", stage="adult"), shows(BAND, "banded"))
    theirs = (shows(SPOT, "plain", stage="nymph"), shows(SPOT, "spotted", stage="adult"), shows(BAND, "plain"))
    made = guide((SPOT, BAND), account("One", *ours, similar=(like("other", "scutellum"),)), account("Other", *theirs))
    assert [s.character.id for s in best_separating(made, "one", "other", 3)] == ["scutellum", "connexivum"]


def test_a_stage_that_neither_names_keeps_a_separation_from_being_whole():
    wing = states("wing", stages="nymph adult", long="long", short="short")
    theirs = (shows(wing, "short", stage="nymph"), shows(wing, "long"))
    (found,) = find_separations(guide((wing,), account("One", shows(wing, "long")), account("Other", *theirs)), "one", "other")
    assert (found.scope, found.whole) == (Scope("nymph"), False)  # as adults both have long wings


def test_a_character_of_some_stages_is_not_compared_in_others():
    wing = states("wing", stages="nymph adult", long="long", short="short")
    ours = (shows(wing, "long", stage="nymph"), shows(wing, "short", stage="adult"))
    theirs = (shows(wing, "short", stage="nymph"), shows(wing, "short", stage="adult"))
    (found,) = find_separations(guide((wing,), account("One", *ours), account("Other", *theirs)), "one", "other")
    assert (found.scope, found.whole) == (Scope("nymph"), False)
