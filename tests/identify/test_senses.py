"""A mark is met by the sense that its words name."""

from __future__ import annotations

import pytest

from guidebuild.identify.senses import Sense, sense_of


@pytest.mark.parametrize(
    ("words", "sense"),
    [
        ("row of rising whistles", Sense.HEARING),
        ("short burst of clicks", Sense.HEARING),
        ("single loud bonk", Sense.HEARING),
        ("hint of a smell of meal", Sense.SMELL),
        ("strong smell of garlic", Sense.SMELL),
        ("row of nodding white bells", Sense.SIGHT),
        ("rows of dark spots with a note of red", Sense.SIGHT),
        ("pair of white lines", Sense.SIGHT),
        ("dark spot on the call patch", Sense.SIGHT),
    ],
)
def test_the_noun_that_counts_says_by_which_sense(words: str, sense: Sense) -> None:
    assert sense_of(words) is sense
