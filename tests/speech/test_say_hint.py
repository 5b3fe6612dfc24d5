"""Names cut into syllables, held to the count of the timing's own Latin rules."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.reading.whole import read_guide
from guidebuild.speech.latin import count_latin_syllables
from guidebuild.speech.say_hint import split_latin, write_latin_hint

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("Elasmucha grisea", "e-las-mu-cha gri-se-a"),
        ("Quercus robur", "quer-cus ro-bur"),
        ("Anguis fragilis", "an-guis fra-gi-lis"),
        ("Acanthosoma haemorrhoidale", "a-can-tho-so-ma hae-mor-rho-i-da-le"),
        ("Yucca gloriosa", "yuc-ca glo-ri-o-sa"),
        ("Aloe vera", "a-lo-e ve-ra"),
        ("Aedes aegypti", "a-e-des ae-gyp-ti"),
        ("Dryopteris filix-mas", ""),
        ("", ""),
    ],
)
def test_hint_cuts_a_name_into_its_syllables(name: str, hint: str) -> None:
    assert write_latin_hint(name) == hint


def test_every_name_of_the_sample_has_as_many_parts_as_it_is_timed_for() -> None:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    words = [word for account in guide.accounts.values() for word in account.name.plain.split()]
    words += ["Aloe", "Aedes", "Boophilus", "Isoetes", "Chloe", "Hippophae", "Phaethon", "Zoea", "poeticus", "Kalanchoe", "aerius"]
    assert len(words) >= 36
    assert [word for word in words if len(split_latin(word)) != count_latin_syllables(word)] == []


@given(st.text(alphabet="abcdeghilmnopqrstuvxy", min_size=3, max_size=14).filter(lambda w: any(v in w for v in "aeo")))
def test_the_parts_make_up_the_word_again(word: str) -> None:
    assert "".join(split_latin(word)) == word
