"""What is left of a text, a list or a record once nothing in it tells. All names are invented."""

from __future__ import annotations

import datetime as dt

import pytest

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.unsaid import NOTHING, Unsaid
from guidebuild.guide.accounts import FieldMark, HostUse, SimilarSpecies, StageText, Translation
from guidebuild.guide.findings import At
from guidebuild.guide.records import LawNote
from guidebuild.guide.text.inline import NO_TEXT, Inline
from tests.fieldwork.invented import guide

UNSAID = Unsaid(secrets_of(guide()))
TELLING = Inline("by the Weir Pool")


@pytest.mark.parametrize(
    ("text", "left"),
    [
        ("One. Two. ", "One. Two. "),  # what tells nothing stays to the last space
        ("One. By the Weir Pool. Three.", "One."),
        ("By the Weir Pool. Two.", ""),
        ("One.\n\nTwo. By the Weir Pool.\n\nThree. Four.\n", "One.\n\nTwo.\n\nThree. Four."),
        ("One.\n \t\nBy the Weir Pool.\n\n\nThree.", "One.\n \t\n\nThree."),
        ("By the Weir Pool.\n\nTwo.", "Two."),
        ("One of the weir.\n\nPool of another kind.", ""),  # two paragraphs tell together what neither does alone
        ("Found\nat the Weir\nPool.", ""),
        ("- One\n- the Weir Pool\n- Three", "- One\n- Three"),
        ("* One\n  * the Weir Pool, and more. Of it.\n* Three", "* One\n* Three"),
        ("+ One\n+ Weir Pool", "+ One"),
        ("1. One\n2) Weir Pool\n10. Three", "1. One\n10. Three"),
        ("| a | b |\n|---|---|\n| Weir Pool | 2 |\n| c | d |", "| a | b |\n|---|---|\n| c | d |"),
        ("> One.\n> Weir Pool.", "> One."),
        ("## Weir Pool\nTwo.", "Two."),
        ("[^1]: Weir Pool\n[^a]: Two.", "[^a]: Two."),
        ("- the Weir\n- Pool", ""),  # over two items
        ("In 2024. Weir Pool", "In 2024."),  # no list: the figure is not at the start of a line
    ],
)
def test_what_tells_is_left_out_with_what_leans_on_it(text: str, left: str) -> None:
    assert UNSAID.without(text) == left


def test_places_are_named_once_in_their_order() -> None:
    assert UNSAID.places_in("Weir Pool, 51.1278, -1.2846 and the weir-pool") == ("Weir Pool",)
    assert UNSAID.places_in("") == UNSAID.places_in("a pool") == ()
    assert NOTHING.places_in("Weir Pool") == ()
    assert not NOTHING.tells("Weir Pool")


def test_a_list_loses_what_is_left_without_words_and_keeps_what_had_none() -> None:
    assert UNSAID.cleaned((Inline("a"), TELLING, NO_TEXT, Inline("c"))) == (Inline("a"), NO_TEXT, Inline("c"))
    assert UNSAID.cleaned(("a", "Weir Pool", "", "One. Weir Pool.")) == ("a", "", "One.")


def test_a_list_inside_a_list_is_a_pair_and_stays_one() -> None:
    assert UNSAID.cleaned((("es", "Weir Pool"), ("de", "fein"))) == (("es", ""), ("de", "fein"))
    assert UNSAID.cleaned((("key", TELLING),)) == (("key", NO_TEXT),)


def test_what_tells_nothing_is_the_very_same_value() -> None:
    for value in (("a", "b"), (Inline("a"), NO_TEXT), (("es", "fein"),), FieldMark(Inline("dark spot")), (), 7, None):
        assert UNSAID.cleaned(value) is value


@pytest.mark.parametrize(
    ("record", "kept"),
    [
        (FieldMark(TELLING, view="above"), None),
        (StageText("adult", TELLING), None),
        (HostUse("birch", part=TELLING), HostUse("birch")),
        (SimilarSpecies("birch-bug", note=TELLING), SimilarSpecies("birch-bug")),
        (LawNote(TELLING, dt.date(2026, 5, 1)), None),
        (
            LawNote(Inline("protected"), dt.date(2026, 5, 1), "https://law.example/weir"),
            LawNote(Inline("protected"), dt.date(2026, 5, 1), "https://law.example/weir"),
        ),
    ],
)
def test_a_record_goes_from_a_list_once_what_it_says_is_gone(record: object, kept: object) -> None:
    other = FieldMark(Inline("dark spot"))
    assert UNSAID.cleaned((record, other)) == ((kept, other) if kept else (other,))


def test_texts_are_cleaned_however_deep_and_places_in_files_are_none() -> None:
    told = Translation("es", facts=(("status", TELLING), ("size", Inline("6 mm"))))
    assert UNSAID.cleaned(told).facts == (("status", NO_TEXT), ("size", Inline("6 mm")))
    marked = FieldMark(Inline("dark spot"), at=At("places/weir-pool.md", 3), positions=(("mark", At("weir-pool.md", 4)),))
    assert UNSAID.cleaned(marked) is marked
