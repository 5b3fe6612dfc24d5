"""In which order names are found, and which of several at one place comes first. The names are invented."""

from __future__ import annotations

from guidebuild.fieldwork.name_finder import make_finder


def test_names_come_as_they_stand_in_the_text_and_of_those_at_one_place_the_longest_first() -> None:
    finder = make_finder(((0, "Weir Pool"), (0, "Weir"), (1, "Weir"), (2, "Alder Gate")))
    text = "By Alder Gate, at the Weir Pool, over Alder Gate"
    assert [(holder, text[start:end]) for holder, start, end in finder.find(text)] == [
        (2, "Alder Gate"),
        (0, "Weir Pool"),
        (0, "Weir"),
        (1, "Weir"),
        (2, "Alder Gate"),
    ]
    assert list(make_finder(()).find(text)) == []
