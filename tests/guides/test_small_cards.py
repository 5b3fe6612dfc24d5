"""Every card of birds, frogs, flowers and fungi fits the smallest formats, and its warnings stand there whole."""

from __future__ import annotations

import io
import re
from pathlib import Path

import pytest
from pypdf import PdfReader

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.paper.formats import format_named
from guidebuild.session import open_session
from guidebuild.views.cards.card import card_views
from tests.guides.whole_guides import NAMES, copy_guide
from tests.press.outputs.test_type_sizes import LEAST, find_sizes
from tests.press.small_guide import THEME


@pytest.mark.parametrize("size", ["a7", "id-1"])
@pytest.mark.parametrize("name", NAMES)
def test_every_card_fits_the_smallest_formats_with_its_warnings(name: str, size: str, tmp_path: Path) -> None:
    guide = make_published(open_session(copy_guide(name, tmp_path)).guide)
    for card in card_views(guide):
        result = render_card(card, {}, format_named(size), THEME)
        assert result.pdf, (card.id, result.problems)
        assert min(find_sizes(io.BytesIO(result.pdf))) >= LEAST, card.id
        text = _read_text(result.pdf)
        for caution in card.cautions:
            assert caution.title in text, (card.id, caution.title)
            assert caution.text in text or caution.short in text, (card.id, caution.text)


def _read_text(pdf: bytes) -> str:
    """The words of both sides; a word that is broken at its own hyphen is one again."""
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(io.BytesIO(pdf)).pages)
    return re.sub(r"(?<=\w-) (?=\w)", "", text)


def test_a_full_card_keeps_the_seasons_one_looks_for_and_says_so(tmp_path: Path) -> None:
    """Six stages of a flower have no room beside two warnings; leaf, flower and fruit stay."""
    guide = make_published(open_session(copy_guide("spring-flowers", tmp_path)).guide)
    ramsons = next(card for card in card_views(guide) if card.id == "ramsons")
    full = render_card(ramsons, {}, format_named("id-1"), THEME)
    assert all(f"the season “{stage}”" in str(full.problems) for stage in ("seed", "in bud"))
    back = _read_text(full.pdf)
    assert all(stage in back for stage in ("in leaf", "in flower", "in fruit"))
    assert "in bud" not in back
    assert "in bud" in _read_text(render_card(ramsons, {}, format_named("a6"), THEME).pdf)
