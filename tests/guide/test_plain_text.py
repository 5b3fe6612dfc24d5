"""Markdown as plain words, and its sentences."""

from __future__ import annotations

import pytest

from guidebuild.guide.plain_text import plain, sentences

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
)


@pytest.mark.parametrize(("text", "found"), SENTENCES)
def test_sentences_end_where_a_reader_stops(text: str, found: tuple[str, ...]) -> None:
    assert sentences(text) == found
