"""The catalogues say every word of the interface, with the same gaps to fill in."""

from __future__ import annotations

import datetime as dt
import io
import re

import pytest
from babel.messages.pofile import read_po

from guidebuild.words import words
from tests.views.pieces.interface_words import ROOT, interface_words

CATALOGUES = sorted((ROOT / "content" / "strings").glob("*.po"))
_GAP = re.compile(r"\{\w+\}")


def test_spanish_is_there() -> None:
    assert [file.stem for file in CATALOGUES] == ["es"]


@pytest.mark.parametrize("file", CATALOGUES, ids=lambda file: file.stem)
def test_catalogue_has_every_word_of_the_interface(file) -> None:
    said = read_po(io.BytesIO(file.read_bytes()))
    answered = {text for m in said if m.id and all(m.string if isinstance(m.string, tuple) else [m.string]) for text in _ids(m)}
    assert sorted(interface_words() - answered) == []


@pytest.mark.parametrize("file", CATALOGUES, ids=lambda file: file.stem)
def test_translations_fill_the_same_gaps(file) -> None:
    for message in read_po(io.BytesIO(file.read_bytes())):
        if message.id:
            answers = message.string if isinstance(message.string, tuple) else (message.string,)
            wanted = set(_GAP.findall(_ids(message)[-1]))
            assert all(set(_GAP.findall(answer)) == wanted for answer in answers), message.id


def _ids(message) -> tuple[str, ...]:
    return message.id if isinstance(message.id, tuple) else (message.id,)


def test_unknown_language_is_answered_in_english_and_says_so() -> None:
    welsh = words("cy")
    assert welsh("Find") == "Find"
    assert not welsh.translated
    assert words("es").translated
    assert words("es-MX")("Find") == "Buscar"


def test_dates_months_and_lists_follow_cldr() -> None:
    # Unicode CLDR, long dates and list patterns of en-GB and es (through Babel's copy of the data).
    assert words("en").date(dt.date(2026, 5, 2)) == "2 May 2026"
    assert words("es").date(dt.date(2026, 5, 2)) == "2 de mayo de 2026"
    assert words("es").listed(["a", "b", "c"]) == "a, b y c"
    assert words("es").month(12) == "diciembre"


def test_plurals_follow_the_language() -> None:
    assert words("en").count("{n} host plant", "{n} host plants", 1) == "1 host plant"
    assert words("es").count("{n} host plant", "{n} host plants", 3) == "3 plantas nutricias"
