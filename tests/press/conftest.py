"""Cards printed once for all tests of a run: layouts cost most of a second each."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView, card_views
from tests.press.small_guide import THEME, drawn_picture, guide


@pytest.fixture(scope="session")
def pictures(tmp_path_factory: pytest.TempPathFactory) -> Pictures:
    return {"plate": drawn_picture(tmp_path_factory.mktemp("pictures"))}


@pytest.fixture(scope="session")
def views() -> tuple[CardView, ...]:
    return card_views(make_published(guide()))


@pytest.fixture(scope="session")
def cards(views: tuple[CardView, ...], pictures: Pictures) -> tuple[CardResult, ...]:
    """The three A6 cards of the small guide, without bleed."""
    return tuple(render_card(view, pictures, format_named("a6"), THEME) for view in views)


@pytest.fixture(scope="session")
def bled(views: tuple[CardView, ...], pictures: Pictures) -> CardResult:
    """The first of them with 3 mm of bleed."""
    return render_card(views[0], pictures, format_named("a6"), THEME, bleed=3.0)


@pytest.fixture
def card_file(cards: tuple[CardResult, ...], tmp_path: Path) -> Path:
    path = tmp_path / "card.pdf"
    path.write_bytes(cards[0].pdf)
    return path
