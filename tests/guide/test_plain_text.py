"""Markdown as plain words, and its sentences."""

from __future__ import annotations

import pytest

from guidebuild.guide.text.plain_text import plain
from guidebuild.guide.text.sentences import sentences

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


@pytest.mark.parametrize(("markdown", "words"), CASES)
def test_markdown_becomes_its_words(markdown: str, words: str) -> None:
    assert plain(markdown) == words


def test_names_keep_their_stars_where_asked() -> None:
    assert plain("Known *Elasmucha grisea* by **this**.", keep_stars=True) == "Known *Elasmucha grisea* by this."


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
    assert sentences(text) == found
