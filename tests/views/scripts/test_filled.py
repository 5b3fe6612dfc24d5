"""Slots of scripts filled with facts that are words already."""

from __future__ import annotations

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.names import ScientificName
from guidebuild.speech.marks import Mark
from guidebuild.speech.script import ScriptLine, Spoken
from guidebuild.speech.script_text import read_line
from guidebuild.views.scripts.filled import fill_line, say_facts, say_name
from tests.checks.invented import guide

NAME = Spoken("Inventa rubra", is_name=True)
TOLD = {
    "size": (Spoken("6–9 mm"),),
    "scientific name": (NAME,),
    "say": (Spoken("in-VEN-ta"),),
    "greeting": (Spoken("Hello."), Mark("pause"), Spoken("Listen.")),
}


@pytest.mark.parametrize(
    ("typed", "pieces"),
    [
        ("She is { size } long, {sise}.", (Spoken("She is 6–9 mm long, {sise}."),)),
        ("This is {scientific name}.", (Spoken("This is "), NAME, Spoken("."))),
        ("This is *{scientific name}*.", (Spoken("This is "), NAME, Spoken("."))),
        ("Say it [say {say}] now.", (Spoken("Say it"), Mark("say", "in-VEN-ta"), Spoken("now."))),
        ("{greeting} And look.", (Spoken("Hello."), Mark("pause"), Spoken("Listen. And look."))),
        ("{size}", (Spoken("6–9 mm"),)),
    ],
)
def test_a_slot_is_filled_however_it_is_spaced_and_stays_as_typed_where_unknown(typed: str, pieces: tuple[Spoken | Mark, ...]) -> None:
    assert fill_line(ScriptLine(read_line(typed)), TOLD).pieces == pieces


def test_a_star_in_a_fact_makes_no_name() -> None:
    filled = fill_line(ScriptLine(read_line("See {size} here.")), {"size": (Spoken("2 *3* mm"),)})
    assert filled.pieces == (Spoken("See 2 *3* mm here."),)


def test_what_the_codes_put_in_italics_is_a_name_and_nothing_else_is() -> None:
    ranked = ScientificName("Rosa canina var. alba", "Rosa", "canina", rank="var.", infraspecific="alba")
    assert say_name(ranked) == (Spoken("Rosa canina", is_name=True), Spoken(" var. "), Spoken("alba", is_name=True))
    assert say_name(ScientificName("x", "Inventa", "rubra", subgenus="Alta")) == (Spoken("Inventa (Alta) rubra", is_name=True),)


def test_the_name_of_an_account_is_a_name_by_its_value() -> None:
    base = make_published(guide())
    assert say_facts(base, base.accounts["red-bug"])["scientific name"] == (NAME,)
