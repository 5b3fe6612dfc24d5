"""What no break may cut, and what a break costs after each piece of text."""

from __future__ import annotations

import pytest

from guidebuild.speech.chunks import find_chunks
from guidebuild.speech.language import read_language
from guidebuild.speech.script_text import read_words

ENGLISH = read_language()


def pieces(text: str, *phrases: str) -> list[str]:
    return [chunk.text for chunk in find_chunks(read_words(text), ENGLISH, phrases=phrases)]


def cost_after(text: str) -> float:
    """What a break costs after the first word."""
    return find_chunks(read_words(text), ENGLISH)[0].cost


@pytest.mark.parametrize(
    ("text", "phrases", "whole"),
    [
        ("a *Aus bus cus* b", (), ["a", "Aus bus cus", "b"]),
        ("see ♀ 7 mm here", (), ["see", "♀ 7 mm", "here"]),
        ("a ± b and ≥ c", (), ["a", "± b", "and", "≥ c"]),
        ("the Silver Birch Tree by", ("Silver Birch", "Birch Tree"), ["the", "Silver Birch Tree", "by"]),
        ("the Parent Bug, a Parent Bug", ("Parent Bug",), ["the", "Parent Bug,", "a", "Parent Bug"]),
        ("Parent Bug Parent Bug", ("Parent Bug",), ["Parent Bug", "Parent Bug"]),
        ("bug bug bug", ("bug",), ["bug", "bug", "bug"]),  # one word is whole anyway
        ("aa b aa b aa", ("aa b aa",), ["aa b aa b aa"]),  # overlapping names hold together
        ("see *Aus x* here", (), ["see", "Aus x", "here"]),
        (
            "by Long Gate on Silver Birch Tree Hedge",
            ("Long Gate", "Silver Birch Tree Hedge", "Birch Tree"),
            ["by", "Long Gate", "on", "Silver Birch Tree Hedge"],
        ),
        ("on a leaf", ("haemorrhoidale",), ["on", "a", "leaf"]),
        ("by Long Gate on Silver Birch Tree", ("Long Gate", "Silver Birch", "Birch Tree"), ["by", "Long Gate", "on", "Silver Birch Tree"]),
        ("Aus Bus Cus by Silver Birch", ("Aus Bus Cus", "Bus Cus", "Silver Birch"), ["Aus Bus Cus", "by", "Silver Birch"]),
        ("one  two\nthree", (), ["one", "two", "three"]),
        ("", (), []),
    ],
)
def test_names_signs_and_phrases_stay_whole(text: str, phrases: tuple[str, ...], whole: list[str]) -> None:
    assert pieces(text, *phrases) == whole


@pytest.mark.parametrize(("widest", "pieces"), [(11, ["the", "Silver", "Birch", "by"]), (12, ["the", "Silver Birch", "by"])])
def test_a_name_stays_whole_where_it_fits_a_line(widest: int, pieces: list[str]) -> None:
    found = find_chunks(read_words("the Silver Birch by"), ENGLISH, phrases=["Silver Birch"], widest=widest)
    assert [chunk.text for chunk in found] == pieces


# From the dearest to the cheapest place to break a line or a caption, after the BBC Subtitle Guidelines 3.4 (never between
# article and noun, preposition and phrase; best at the end of a sentence or a clause); the figures are our own.
ORDER = [
    ["the bug", "of birch", "Larkfold Hedge", "7 bugs", "A. Leader", "(A. then"],  # belongs to what follows
    ["bug sits"],  # two words like any others
    ["bug and"],  # before a word that opens a phrase
    ["bug, then", "bug) then", "bug (then"],  # a comma, a bracket
    ["bug; then", "bug: then", "bug – then", "– then"],  # a clause
    ["bug. Then", "bug! Then", "bug? Then", "bug… Then", "bug.” Then", "bug.) Then", "bug"],  # a sentence, or the end
]


def test_a_break_costs_more_the_closer_two_words_belong_together() -> None:
    costs = [[cost_after(text) for text in texts] for texts in ORDER]
    assert [len(set(same)) for same in costs] == [1] * len(ORDER)
    firsts = [same[0] for same in costs]
    assert firsts == sorted(firsts, reverse=True)
    assert len(set(firsts)) == len(firsts)
    assert firsts[-1] == 0.0


def test_a_point_ends_no_sentence_after_a_short_form_or_an_initial() -> None:
    assert cost_after("(A. Leader") > 0
    for short in sorted(ENGLISH.abbreviations)[:20]:
        assert all(chunk.cost > 0 for chunk in find_chunks(read_words(f"{short} Then it"), ENGLISH)[:-1])
    assert cost_after("Larkfold hedge") == cost_after("bug sits")  # one capital is no name
    assert cost_after("larkfold Hedge") == cost_after("bug sits")
    assert cost_after("bug sits–") == cost_after("bug sits")  # a dash at the end of the next word is not between the two
    assert cost_after("bug –sits") == cost_after("bug; then")
    assert cost_after("(the bug") == cost_after("the bug")
    assert cost_after("bug (and") == cost_after("bug, then")


def test_a_scientific_name_and_a_word_with_a_capital_are_no_one_name() -> None:
    assert cost_after("*Aus* Hedge") == cost_after("bug sits")
    assert cost_after("Hedge *Aus*") == cost_after("bug sits")
    assert cost_after("Larkfold Hedge *Aus*") > cost_after("bug sits")


def test_a_capital_before_a_scientific_name_makes_no_longer_name_of_it() -> None:
    assert cost_after("See *Aus bus*") == cost_after("bug sits")
    assert cost_after("See Aus") > cost_after("See *Aus*")


def test_a_name_wider_than_a_line_is_broken_between_its_words() -> None:
    said = read_words("Look for *Acanthosoma haemorrhoidale*, and for *Elasmucha grisea* here.")
    assert [chunk.text for chunk in find_chunks(said, ENGLISH, widest=25)][2:] == [
        "Acanthosoma", "haemorrhoidale,", "and", "for", "Elasmucha grisea", "here.",
    ]  # fmt: skip
    assert "Acanthosoma haemorrhoidale," in [chunk.text for chunk in find_chunks(said, ENGLISH, widest=42)]
