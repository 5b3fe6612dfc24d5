"""What is sold is printed without the pictures that may not be sold; what is not sold keeps them."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from pathlib import Path

import pytest

from guidebuild.press.engine.progress import Silence
from guidebuild.press.outputs.cards import prints
from guidebuild.press.outputs.cards.printing import Printing
from guidebuild.press.publish import Wishes, publish
from guidebuild.reading.shipped_lists import licences
from guidebuild.views.cards.card import CardView
from tests.press.outputs.cards.test_out_cards import small


def test_a_sold_print_lacks_what_may_not_be_sold(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    printed: dict[str, tuple[set[str], set[str]]] = {}

    def note(printing: Printing, cards: list[CardView], wanted: str, _: frozenset[str]) -> None:
        printed[wanted] = set(printing.guide.photos), {photo.id for card in cards for photo in card.photos}

    monkeypatch.setattr(prints, "_publish_print", note)
    base = small()
    photos = {ident: replace(photo, licence="CC-BY-NC-4.0") for ident, photo in base.photos.items()}
    settings = replace(base.settings, prints=("plate-a5", "booklet"), sold=("Booklet",))
    guide = replace(base, photos=photos, licences=licences(), settings=settings)
    publish(tmp_path, guide, today=dt.date(2026, 5, 2), progress=Silence(), wishes=Wishes(outputs=("cards",), workers=1))
    assert printed["plate-a5"][0] == set(photos)
    assert printed["booklet"] == (set(), set())
