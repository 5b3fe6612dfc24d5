"""A guide's own theme: it changes what it says and nothing else, and a bad one is told in words."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.theme import bare_address, read_theme, with_signs
from guidebuild.press.theme.sandbox import ThemeError
from guidebuild.views.cards.card import CardView
from guidebuild.views.pieces.common import NameView
from tests.press.small_guide import THEME


def own(folder: Path, **files: str) -> tuple[Path, ...]:
    (folder / "cards").mkdir()
    for name, text in files.items():
        (folder / "cards" / name.replace("_", ".")).write_text(text, encoding="utf-8")
    return (folder, *THEME)


def test_a_guides_own_sizes_are_laid_over_the_shipped_rules(tmp_path: Path, views: tuple[CardView, ...]) -> None:
    folders = own(tmp_path, card_yaml="type: [8]\n")
    assert read_theme(folders).sizes == (8.0,)
    assert read_theme(folders).left_out == read_theme(THEME).left_out
    assert render_card(views[0], {}, format_named("a6"), folders).pdf


def test_a_guides_own_order_for_one_side_leaves_the_others_as_they_are(tmp_path: Path) -> None:
    laid = read_theme(own(tmp_path, card_yaml="left out first:\n  front: [later marks]\n")).left_out
    assert laid == {**read_theme(THEME).left_out, "front": ("later marks",)}


def test_sizes_of_which_a_format_allows_none_are_told(tmp_path: Path, views: tuple[CardView, ...]) -> None:
    with pytest.raises(ThemeError, match=r"theme/cards/card.yaml: `type:` has no size from 7.5 to 10.5 points; add one"):
        render_card(views[0], {}, format_named("a6"), own(tmp_path, card_yaml="type: [30]\n"))


def test_a_guides_own_template_is_used(tmp_path: Path, views: tuple[CardView, ...]) -> None:
    page = '<html lang="en"><title>t</title><section class="front"><h1>Mine</h1></section><section class="back"><h1>Back</h1></section>'
    own_card, shipped = (render_card(views[0], {}, format_named("a6"), f) for f in (own(tmp_path, card_html=page), THEME))
    assert own_card.pdf
    assert len(own_card.pdf) < len(shipped.pdf)


@pytest.mark.parametrize("text", ["type: soon\n", "left out first: [a]\n", "comfortable: [\n"])
def test_rules_that_cannot_be_understood_are_told(text: str, tmp_path: Path) -> None:
    with pytest.raises(ThemeError, match=r"theme/cards/card\.yaml cannot be understood"):
        read_theme(own(tmp_path, card_yaml=text))


def test_signs_are_drawn_and_the_rest_escaped() -> None:
    drawn = with_signs("♂ <b>", "en")
    assert "<title>male</title>" in drawn
    assert drawn.endswith(" &lt;b&gt;")


@pytest.mark.parametrize(("language", "called"), [("en", ("female", "male")), ("es", ("hembra", "macho")), ("es-MX", ("hembra", "macho"))])
def test_signs_are_called_by_their_names_in_the_language_of_the_page(language: str, called: tuple[str, str]) -> None:
    """In a template and in the pieces that it imports; a language without a catalogue is answered in English."""
    look = read_theme(THEME)
    drawn = look.environment.from_string("{{ words | signs }}").render(words="♀ ♂", language=language)
    assert re.findall("<title>(.*?)</title>", drawn) == list(called)
    source = '{%- import "pieces.html" as piece with context -%}{{ piece.called(name) }}'
    drawn = look.environment.from_string(source).render(name=NameView("♂ Bug", ()), language=language)
    assert f"<title>{called[1]}</title>" in drawn


def test_addresses_are_shown_without_their_scheme() -> None:
    assert bare_address("https://www.hedge.example/a") == "hedge.example/a"
