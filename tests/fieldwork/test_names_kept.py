"""Which words a secret place is known by, and which would stop every guide. All names are invented."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.leaks import leaks_in, secrets_with
from guidebuild.fieldwork.names_kept import holds_name, is_everyday, names_of
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.guide.text.inline import Inline
from tests.fieldwork.invented import BIRCH, PARENT, PLACES, RARE, guide

POOL = PLACES["weir-pool"]


def names(
    ident: str, name: str = "Sally’s Bank", said: str = "", *, of: Guide | None = None, open_by_itself: bool = False
) -> tuple[str, ...]:
    return names_of(of or guide(), replace(POOL, id=ident, name=name), said, open_by_itself=open_by_itself)


@pytest.mark.parametrize("name", ["Meadow", "The Meadow", "the meadows", "WOOD", "the the wood", "(Wood)"])
def test_one_word_of_every_day_is_no_name(name: str) -> None:
    assert is_everyday(name)


@pytest.mark.parametrize(
    "name", ["Withy Meadow", "Meadow Wood", "Brackenwick", "The Brackenwicks", "Woodss", "Language", "The", "", "Sedges"]
)
def test_any_other_name_is_one(name: str) -> None:
    assert not is_everyday(name)


@pytest.mark.parametrize(
    ("ident", "looked_for"),
    [
        ("otter-holt", "otter holt"),
        ("brackenwick", "brackenwick"),
        ("holt", "holt"),
        ("zeg", ""),
        ("zegg", "zegg"),
        ("old-meadow", ""),  # two words of every day
        ("meadows-2", ""),
        ("meadow-brackenwick", "meadow brackenwick"),
        ("brackenwick-2", "brackenwick 2"),
    ],
)
def test_an_id_counts_unless_it_is_short_or_of_ordinary_words(ident: str, looked_for: str) -> None:
    assert names(ident) == tuple(filter(None, ("Sally’s Bank", looked_for)))


def test_of_an_open_place_an_id_of_one_word_does_not_count() -> None:
    assert names("brackenwick", open_by_itself=True) == ("Sally’s Bank",)
    assert names("otter-holt", open_by_itself=True) == ("Sally’s Bank", "otter holt")
    held = guide(PARENT, BIRCH, RARE, places={**PLACES, "sedgelea": replace(PLACES["meadow"], id="sedgelea", name="Sally’s Bank")})
    assert [leak.found for leak in leaks_in("By sedgelea and Sally’s Bank.", secrets_with(held, RARE))] == ["sallys bank"]
    closed = replace(held, places={**held.places, "sedgelea": replace(POOL, id="sedgelea")})
    assert [leak.found for leak in leaks_in("By sedgelea.", secrets_with(closed, RARE))] == ["sedgelea"]


def test_what_is_said_anyway_does_not_count() -> None:
    assert names("otter-holt", said="A day on Sally's bank\nBugs") == ("otter holt",)
    assert names("otter-holt", said="The otter-holt guide") == ("Sally’s Bank",)
    assert names("otter-holt", "") == ("otter holt",)
    assert names_of(guide(), replace(POOL, public_name=True), "") == ()


def test_words_that_the_guide_itself_uses_in_small_letters_are_no_name() -> None:
    def with_text(text: str) -> Guide:
        return guide(replace(PARENT, sections=(Section("Where", text),)), BIRCH, RARE)

    assert names("dusky-otterhound", of=with_text("Like a dusky otterhound in the reeds.")) == ("Sally’s Bank",)
    assert names("dusky-otterhound", of=with_text("A dusky-otterhound bug.")) == ("Sally’s Bank",)
    assert names("dusky-otterhound", of=with_text("A Dusky Otterhound.")) == ("Sally’s Bank", "dusky otterhound")
    assert names("dusky-otterhound", of=with_text("The dusky old otterhound.")) == ("Sally’s Bank", "dusky otterhound")
    assert names("dusky-otterhound", of=with_text("The dusky otterhounds.")) == ("Sally’s Bank", "dusky otterhound")
    assert names("dusky-otterhound", of=with_text("The undusky otterhound.")) == ("Sally’s Bank", "dusky otterhound")
    assert names("brackenwick", of=with_text("brackenwick")) == ("Sally’s Bank", "brackenwick")  # one word is no sentence
    noted = {**PLACES, "meadow": replace(PLACES["meadow"], note=Inline("Past the dusky otterhound."))}
    assert names("dusky-otterhound", of=guide(places=noted)) == ("Sally’s Bank", "dusky otterhound")


def test_a_name_is_held_by_a_text_however_it_is_written() -> None:
    assert holds_name("At the WEIR-pool", "Weir Pool")
    assert not holds_name("At the weir", "Weir Pool")
