"""Italics in an author's texts are italics on paper: on cards, packs, checklists, leaflets and comparison sheets."""

from __future__ import annotations

import ctypes
from collections.abc import Iterator

import pypdfium2
import pytest

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.press.outputs.cards.card import render_card
from guidebuild.press.outputs.cards.checklist import render_checklist
from guidebuild.press.outputs.cards.comparison import CompareWork, render_sheet
from guidebuild.press.outputs.walks.pack import PackWork, render_pack
from guidebuild.press.paper.formats import Area, format_named
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.session import open_session
from guidebuild.views.cards.card import card_views
from guidebuild.views.cards.printed import checklist_view
from guidebuild.views.outdoors.walk import walk_pack_views
from guidebuild.views.telling.compare_sheet import compare_sheets
from tests.guides.whole_guides import HERE
from tests.planted_texts import plant_guide
from tests.press.small_guide import THEME, guide

NAME = "Ausbus"  # one word, so that no line breaks it
A4 = Area(210, 297)


@pytest.fixture(scope="module")
def frogs() -> Published:
    own = open_session(HERE / "southern-frogs").guide
    assert own is not None
    return make_published(plant_guide(own, f"*{NAME}*"))


def read_fonts(pdf: bytes) -> Iterator[str]:
    """The font in which each mention of the name is set."""
    with pypdfium2.PdfDocument(pdf) as document:
        for page in document:
            text = page.get_textpage()
            found = text.search(NAME)
            while place := found.get_next():
                font = ctypes.create_string_buffer(200)
                pypdfium2.raw.FPDFText_GetFontInfo(text.raw, place[0], font, 200, ctypes.c_int())
                yield font.value.decode()


def are_italic(pdf: bytes) -> bool:
    fonts = list(read_fonts(pdf))
    return len(fonts) > 2 and all("Italic" in font or "Oblique" in font or "It" in font.rpartition("-")[2] for font in fonts)


def test_on_a_card(pictures: Pictures) -> None:
    card = card_views(make_published(plant_guide(guide(), f"*{NAME}*")))[0]
    assert are_italic(render_card(card, pictures, format_named("a6"), THEME).pdf)


def test_on_a_checklist_a_pack_and_a_comparison_sheet(frogs: Published) -> None:
    walk = next(iter(frogs.walks.values()))
    assert are_italic(render_checklist(checklist_view(frogs, walk), format_named("checklist"), THEME).pdf)
    assert are_italic(render_pack(PackWork(walk_pack_views(frogs)[0], (210, 297), THEME)).parts[0])
    assert are_italic(render_sheet(CompareWork(compare_sheets(frogs)[0], (), A4, THEME)).parts[0])
