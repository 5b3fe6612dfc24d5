"""Markdown as plain words, and its sentences."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.guide.text.everyday import has_signs
from guidebuild.guide.text.plain_text import read_words, write_plain
from guidebuild.guide.text.sentences import split_sentences

CASES = (
    ("A [Birch Shieldbug](account:birch) is longer.", "A Birch Shieldbug is longer."),
    ("![alt](photo:x)\n\nWords.", "Words."),
    ("Known *Elasmucha grisea* by **this**.", "Known Elasmucha grisea by this."),
    ("See it.[^1]\n\n[^1]: A note.", "See it."),
    ("| a | b |\n|---|---|\n| 1 | 2 |\n\nAfter.", "After."),
    ("### Head\n\n- one\n- two", "Head\n\none\n\ntwo"),
    ("wing 5*6*7 mm", "wing 5*6*7 mm"),
    ("<b>bold</b> and <c. 5 mm", "bold and <c. 5 mm"),
    (r"a \*star\*", "a *star*"),
)


PIECES = st.sampled_from(
    ("It sits.", "*Aus bus*", "*Look!*", "a bug", "[bug](account:x)", "[g](map.pdf)", "![a](photo:b)", "(*A. b*)", "2*3*4", "5 * 3", "*a",
     "a*b*c", "Yes!",
     "\n", "\n\n", " ", "   ", "6–9 mm", "*Aus* *bus*", "**b**", "~x~", "- ", "1. ", "1", ". ", "=", "_u_", "a_b", "<c. 5 mm",
     "[pause]", "*Aus\nbus*", "* x", "*,*", "'*a*'", "*a [b](c) d*", "*a_b*", "(e)", "\x07", "\u202e", "\\", "*1. x*", "*b.*",
     "[^1]", "&amp;",
     "\x0c", "\r\n", "\u2028", "!")
)  # fmt: skip


@settings(deadline=None, max_examples=500)
@given(st.lists(PIECES, max_size=12), st.sampled_from(("", " ")), st.booleans())
def test_the_words_of_an_everyday_text_are_those_that_the_reader_finds(pieces: list[str], between: str, stars: bool) -> None:
    text = between.join(pieces)
    if has_signs(text):  # without any, it is its own words
        assert write_plain(text, keep_stars=stars) == read_words(text, stars)


@pytest.mark.parametrize(("markdown", "words"), CASES)
def test_markdown_becomes_its_words(markdown: str, words: str) -> None:
    assert write_plain(markdown) == words


@pytest.mark.parametrize(
    "line",
    [
        "<c. 5 mm, wing >10 mm",
        "3'6\" long",
        "5*6*7 mm",
        "1986. A good year",
        "56°30'10\"N",
        "the '70s",
        "wing <5 mm",
        ">10 mm long",
        "#shieldbugs on the hedge",
        "a < b and c > d",
        "AT&T, R&D",
        "snake_case_name",
        "x < 5 & y > 6",
    ],
)
def test_measurements_stay_as_typed_in_plain_and_in_spoken_words(line: str) -> None:
    # Case A21 of the notes on what goes wrong in field notes: no sign of a measurement is taken for a mark.
    assert (write_plain(line), write_plain(line, keep_stars=True)) == (line, line)


def test_no_definition_is_read_aloud() -> None:
    assert write_plain("See [it][ref] and [ref].[^1]\n\n[ref]: account:parent\n[^1]: A note\n    that goes on.") == "See it and ref."


def test_items_of_a_list_with_two_spaces_stand_apart_and_a_table_is_left_out() -> None:
    assert write_plain("- adults\n  - male\n  - female\nText\n| a | b |\n|---|---|\n| 1 | 2 |") == "adults\n\nmale\n\nfemale Text"


def test_html_says_what_it_shows() -> None:
    assert (
        write_plain("<p>One</p><p>Two <b>*x*</b></p>\n\n<!-- not this -->\n<script>nor()</script>\n\n&copy; A&amp;B")
        == "One\n\nTwo *x*\n\n© A&B"
    )


@pytest.mark.parametrize(
    "text",
    ["*" * 3000 + "x" + "*" * 3000, "\n".join(" " * 2 * n + "- x" for n in range(130)), "> " * 400 + "x"],
    ids=["stars", "lists", "quotes"],
)
def test_a_text_nested_past_all_sense_is_still_read(text: str) -> None:
    assert "x" in write_plain(text)


def test_names_keep_their_stars_where_asked() -> None:
    assert write_plain("Known *Elasmucha grisea* by **this**.", keep_stars=True) == "Known *Elasmucha grisea* by this."


SENTENCES = (
    ("It is c. 6 mm long. It flies.", ("It is c. 6 mm long.", "It flies.")),
    ("See E. grisea there. Or not! Why?", ("See E. grisea there.", "Or not!", "Why?")),
    ("One\n\nTwo.", ("One", "Two.")),
    ("Bus subsp. alba is pale.", ("Bus subsp. alba is pale.",)),
    ("It said “No.” Then it went.", ("It said “No.”", "Then it went.")),
    ("¿Cuál es? Éste.", ("¿Cuál es?", "Éste.")),
    ("*Look.* Then **stop.** It flew.", ("*Look.*", "Then **stop.**", "It flew.")),
    ("Well … it flew. ♂ darker.", ("Well … it flew.", "♂ darker.")),
    ("There is no. 5 here, and p. 7. The answer is no. Go on.", ("There is no. 5 here, and p. 7.", "The answer is no.", "Go on.")),
    ("On birch, alder etc. It sits till 7 p.m. on leaves.", ("On birch, alder etc.", "It sits till 7 p.m. on leaves.")),
    ("On birch (see fig. 3.) It sits.", ("On birch (see fig. 3.)", "It sits.")),
)
LETTERS = (
    ("The veins meet in a Y. Behind it lies a spot.", ("The veins meet in a Y.", "Behind it lies a spot.")),
    ("A mark like an X. Males lack it.", ("A mark like an X.", "Males lack it.")),
    ("The letter C. Underneath it is pale.", ("The letter C.", "Underneath it is pale.")),
    ("Two pale bars form a V. They meet.", ("Two pale bars form a V.", "They meet.")),
    ("Its mark is shaped as L. The wing is clear.", ("Its mark is shaped as L.", "The wing is clear.")),
    ("Found by J. Smith and A. B. Jones. It was new.", ("Found by J. Smith and A. B. Jones.", "It was new.")),
    ("A sight for J. Smith. It sat.", ("A sight for J. Smith.", "It sat.")),
    ("E. Grisea is wrong. So is it.", ("E. Grisea is wrong.", "So is it.")),
)


@pytest.mark.parametrize(("text", "found"), SENTENCES + LETTERS)
def test_sentences_end_where_a_reader_stops(text: str, found: tuple[str, ...]) -> None:
    assert split_sentences(text) == found


@pytest.mark.parametrize("sign", ["&#x202e;", "&#8238;", "&#x2066;", "&#x0007;"])
def test_a_sign_that_turns_the_line_round_is_in_no_words(sign: str) -> None:
    assert write_plain(f"A *toad*{sign} here") == "A toad here"
