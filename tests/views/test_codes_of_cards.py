"""Where the code on a species' cards leads: to its page, or to the film or the sound on it that asks for the code."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.films import Film
from guidebuild.guide.sounds import Sound
from guidebuild.press.paper.theme import bare_address
from guidebuild.views.cards.card import card_view
from guidebuild.views.pieces.parts import make_pieces
from tests.views.invented_site import GUIDE

PAGE = "https://bugs.example/guide/accounts/parent-bug.html"
FILM = Film("hedge", "The hedge", address="https://films.example/1", accounts=("parent-bug",), card=True)
SONG = Sound("parent-song", "A song", address="https://sounds.example/1", accounts=("parent-bug",), card=True)


@pytest.mark.parametrize(
    ("film", "sound", "leads_to"),
    [
        (replace(FILM, card=False), replace(SONG, card=False), PAGE),
        (FILM, SONG, f"{PAGE}#film"),
        (replace(FILM, card=False), SONG, f"{PAGE}#sound-parent-song"),
        (replace(FILM, accounts=("birch-bug",)), SONG, f"{PAGE}#sound-parent-song"),
        (replace(FILM, accounts=("birch-bug",)), replace(SONG, accounts=("birch-bug",)), PAGE),
        (replace(FILM, address=""), replace(SONG, address=""), PAGE),  # neither can be seen or heard anywhere
    ],
)
def test_the_code_leads_to_what_asks_for_it(film: Film, sound: Sound, leads_to: str) -> None:
    guide = make_published(replace(GUIDE, films={film.id: film}, sounds={sound.id: sound}))
    assert card_view(make_pieces(guide), guide.accounts["parent-bug"]).address == leads_to


def test_the_address_in_words_is_the_page_alone() -> None:
    assert bare_address(f"{PAGE}#sound-parent-song") == bare_address(PAGE) == "bugs.example/guide/accounts/parent-bug.html"
