"""How two taxa are told apart in plain sentences: articles, verbs and names. All accounts are invented."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.guide.characters import Character
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import PLANTS
from guidebuild.guide.names import ScientificName
from guidebuild.identify.key import Overlap
from guidebuild.identify.senses import Sense
from guidebuild.identify.sentences import call_by_name, overlap_sentence, separation_sentence, tell_apart_sentence
from guidebuild.identify.separation import find_separations
from tests.identify.invented import STAGES, account, guide, length, measure, shows, states

NBSP = "\N{NO-BREAK SPACE}"


def said_of(character: Character, first: str, second: str, **settings: object) -> str:
    made = guide((character,), account("One", shows(character, first)), account("Other", shows(character, second)), **settings)
    return tell_apart_sentence(made, "one", "other")


def called(name: str, *, kingdom: str = "") -> str:
    made = replace(guide((), account("One")), stage_sets={"bug": replace(STAGES, kingdom=kingdom)})
    return call_by_name(made, made.accounts["one"], name)


@pytest.mark.parametrize(
    ("name", "spoken"),
    [
        ("Parent Bug", "the Parent Bug"),
        ("The Sprawler", "The Sprawler"),
        ("Mother of the Hedge", "Mother of the Hedge"),
        ("Three Stripes", "Three Stripes"),
        ("Hedge Moss", "the Hedge Moss"),
        ("Green Cactus", "the Green Cactus"),
        ("Water Iris", "the Water Iris"),
        ("Hedge Pancreas", "the Hedge Pancreas"),
        ("Tanner's", "the Tanner's"),
        ("Tanner’s", "the Tanner’s"),
    ],
)
def test_a_name_takes_an_article_unless_it_holds_one_or_is_plural(name: str, spoken: str) -> None:
    assert called(name) == spoken


def test_a_plant_takes_no_article() -> None:
    assert called("Wood Sorrel", kingdom=PLANTS) == "Wood Sorrel"


@pytest.mark.parametrize(
    ("character", "sentence"),
    [
        (states("crest", a="a comb", b="two horns"), "Look at the crest: the One has a comb; the Other has two horns."),
        (
            states("wing colour", a="a dull red", b="a deep blue"),
            "Look at the wing colour: a dull red in the One, a deep blue in the Other.",
        ),
        (states("shape", a="an egg", b="a disc"), "Look at the shape: an egg in the One, a disc in the Other."),
        (states("The crest", a="red", b="a comb"), "Look at The crest: red in the One, a comb in the Other."),
        (states("crest", a="a comb", b="red"), "Look at the crest: a comb in the One, red in the Other."),
        (states("flesh", a="it goes blue", b="white"), "Look at the flesh: in the One, it goes blue; in the Other, white."),
        (states("flesh", a="white", b="this goes blue"), "Look at the flesh: in the One, white; in the Other, this goes blue."),
        (states("flesh", a="pale, then blue", b="white"), "Look at the flesh: in the One, pale, then blue; in the Other, white."),
        (states("song", a="rising", b="falling"), "Listen to the song: rising in the One, falling in the Other."),
    ],
)
def test_states_stand_in_the_sentence_as_their_words_want(character: Character, sentence: str) -> None:
    assert said_of(character, "a", "b") == sentence


def test_the_easiest_of_several_characters_is_said() -> None:
    spot, size = states("spot", a="a dot", b="no dot"), length()
    one = account("One", shows(size, measure(6, 9)), shows(spot, "a"))
    made = guide((size, spot), one, account("Other", shows(size, measure(10, 12)), shows(spot, "b")))
    assert tell_apart_sentence(made, "one", "other") == "Look at the spot: the One has a dot; the Other has no dot."


def test_a_language_is_english_in_every_country_of_it() -> None:
    assert (
        said_of(states("crest", a="red", b="grey"), "a", "b", languages=("en-GB",))
        == "Look at the crest: red in the One, grey in the Other."
    )


def test_where_it_holds_is_said_in_a_language_without_sentences() -> None:
    crest = states("crest", a="rojo", b="gris")
    one = account("One", shows(crest, "a", stage="nymph", sex="male"), shows(crest, "b", stage="adult"))
    made = guide((crest,), one, account("Otro", shows(crest, "b")), languages=("es",))
    (found,) = find_separations(made, "one", "otro")
    assert separation_sentence(made, "one", "otro", found) == "Crest (macho nymph): One, rojo; Otro, gris."


def nameless(made: Guide, ident: str) -> Guide:
    """The guide with an account that has no vernacular name."""
    bare = replace(made.accounts[ident], vernacular="", name=ScientificName("Larkus parvus", "Larkus", "parvus"))
    return replace(made, accounts={**made.accounts, ident: bare})


@pytest.mark.parametrize(
    ("low", "high", "sentence"),
    [
        (12, 13, f"The One and the Other overlap at 12–13{NBSP}mm (length)."),
        (12, 12, f"The One and the Other overlap at 12{NBSP}mm (length)."),
        (12.1, 12, "The One and the Other are too near one another to be told apart by measuring (length)."),
    ],
)
def test_where_two_ranges_meet_is_said(low: float, high: float, sentence: str) -> None:
    made = guide((), account("One"), account("Other"))
    assert overlap_sentence(made, Overlap("length", "length", "mm", "one", "other", low, high)) == sentence


def test_an_account_without_another_name_is_called_by_its_scientific_one() -> None:
    made = nameless(guide((), account("One"), account("Other")), "other")
    overlap = Overlap("length", "length", "mm", "one", "other", 12, 13)
    assert overlap_sentence(made, overlap) == f"The One and Larkus parvus overlap at 12–13{NBSP}mm (length)."
    spanish = nameless(guide((), account("One"), account("Other"), languages=("es",)), "other")
    assert "One y Larkus parvus" in overlap_sentence(spanish, overlap)


def test_each_sense_asks_for_a_thing_and_points_at_one() -> None:
    assert [(sense.seek, sense.heed) for sense in Sense] == [
        ("look for", "look at"),
        ("listen for", "listen to"),
        ("smell it:", "smell"),
    ]
