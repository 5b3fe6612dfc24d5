"""When a mark is spoken of, found in invented captions."""

from __future__ import annotations

import pytest

from guidebuild.speech.cues import Cue
from guidebuild.speech.said_when import find_when_said
from guidebuild.speech.script import Spoken

SAID = (
    (0.0, "Hello, and welcome."),
    (2.0, "It has a red tip, and no wings."),
    (4.0, "Look first for a dark"),
    (6.0, "spot on its SCUTELLUM."),
    (8.0, "The dark spot on the scutellum is round."),
    (10.0, "Six legs."),
)
CUES = tuple(Cue(start, start + 1.9, ((Spoken(text),),)) for start, text in SAID)


@pytest.mark.parametrize(
    ("words", "second"),
    [
        ("dark spot on the scutellum", 8.0),  # one caption that says all of it goes before two that share it
        ("round spot", 8.0),
        ("a dark Spot", 8.0),
        ("welcome", 0.0),
        ("red tip", 2.0),
        ("six legs", 10.0),
        ("tip red", None),
        ("banded connexivum", None),
        ("welcome scutellum", None),
        ("", None),
        ("–", None),
    ],
)
def test_words_are_found_where_they_are_said(words: str, second: float | None) -> None:
    assert find_when_said(CUES, words) == second


def test_words_may_run_over_captions_and_none_are_found_in_none() -> None:
    assert find_when_said(CUES[:4], "dark spot on the scutellum") == 4.0
    assert find_when_said((), "dark spot") is None
