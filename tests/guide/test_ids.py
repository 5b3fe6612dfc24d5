"""Names as file names: letters of other alphabets are kept as Latin ones, and whatever is made is a name that checks accept."""

from __future__ import annotations

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from guidebuild.guide.ids import LONGEST_ID, is_id, make_id

NAMES = {
    "Łoś": "los",
    "Ørsted's Toad": "orsteds-toad",
    "Rüppell’s oak": "ruppells-oak",
    "Großer Æskulap": "grosser-aeskulap",
    "Þröstur": "throstur",
    "Œdipode": "oedipode",
    "đuro's ħobża": "duros-hobza",
    "Жаба": "zhaba",
    "× Sorbaronia": "x-sorbaronia",
    "CON": "con-1",
    "aux": "aux-1",
    "Com1": "com1-1",
    "—": "unnamed",
    "": "unnamed",
    "a & b": "a-b",
    "R&#38;D": "r-38-d",
}


@pytest.mark.parametrize(("name", "made"), NAMES.items(), ids=range(len(NAMES)))
def test_a_name_keeps_its_letters(name: str, made: str) -> None:
    assert make_id(name) == made


@given(st.text(max_size=300))
@example("con " + "x" * 100)
@example("nul" + "-" * 90)
@example("w" * 79 + " aux")
@settings(max_examples=300, deadline=None)
def test_whatever_is_made_is_an_id(name: str) -> None:
    made = make_id(name)
    assert is_id(made), made
    assert len(made) <= LONGEST_ID
    assert make_id(made) == made
