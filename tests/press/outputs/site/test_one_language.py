"""On pages in a second language every value is wholly in it, or wholly in the guide's language and marked as such.

The author's texts end in one word, their translations in another, and so do all words of the tool in the second language. Names of
places, plants and walks, which are the same in every language, stand in sentences of any.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path
from typing import Any

import pytest
from bs4 import BeautifulSoup, Comment, Tag

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Translation
from guidebuild.guide.findings import NOWHERE, At
from guidebuild.guide.guide import Caution, Guide
from guidebuild.guide.text.inline import NO_TEXT, Inline
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.session import open_session
from guidebuild.views.site.page import PIECE, PageView
from guidebuild.words import Words
from tests.guides.whole_guides import HERE
from tests.planted_texts import SPANISH, plant_guide, translate_guide
from tests.press.small_guide import THEME
from tests.views.whole_site import site_pages, unwrap_piece

OWN, THEIRS = "qown", "qtheirs"
SAMPLE = Path(__file__).resolve().parents[4] / "sample_guide"
TODAY = dt.date(2026, 6, 15)
COPIES = PictureSet(720, 540, (Variant("jpeg", 720, "photos/p.jpg", 540), Variant("webp", 720, "photos/p.webp", 540)), "data:,")
HEARD = ("alt", "aria-label", "title")


def plant_words(record: Any, *names: str) -> Any:
    """A record with the author's word at the end of some of its plain texts."""
    given = {name: getattr(record, name) for name in names}
    return replace(record, **{name: f"{text} {OWN}" for name, text in given.items() if text})


def plant_caution(caution: Caution) -> Caution:
    return caution if caution.at == NOWHERE else plant_words(caution, "title", "text", "local", "short")


def in_spanish(value: Any) -> Any:
    if isinstance(value, Inline):
        return Inline(value.text.replace(OWN, THEIRS))
    if isinstance(value, str):
        return value.replace(OWN, THEIRS)
    if isinstance(value, tuple):
        return tuple(map(in_spanish, value))
    if is_dataclass(value) and not isinstance(value, (type, At)):
        return replace(value, **{field.name: in_spanish(getattr(value, field.name)) for field in fields(value)})
    return value


def with_gaps(translation: Translation) -> Translation:
    """A translation that lacks a mark, a stage, a note and the law."""
    marks = tuple(NO_TEXT if number == 0 else mark for number, mark in enumerate(translation.marks))
    return replace(translation, marks=marks, stages=translation.stages[1:], similar_notes=translation.similar_notes[1:], law=())


def plant_languages(guide: Guide) -> Guide:
    guide = plant_guide(guide, OWN)
    accounts = {}
    for number, (ident, account) in enumerate(guide.accounts.items()):
        translations = in_spanish(account.translations)
        accounts[ident] = replace(account, translations=tuple(map(with_gaps, translations)) if number % 2 else translations)
    characters = {
        ident: replace(plant_words(one, "label", "question"), states=tuple(plant_words(state, "words") for state in one.states))
        for ident, one in guide.characters.items()
    }
    cautions = {ident: plant_caution(one) for ident, one in guide.cautions.items()}
    walks = {ident: plant_words(walk, "meet", "audience") for ident, walk in guide.walks.items()}
    return replace(guide, accounts=accounts, characters=characters, cautions=cautions, walks=walks)


def mark_tools_words(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let every word, list and date of the tool in Spanish end in a word of its own."""
    plain = Words.__call__

    def say(self: Words, message: str, **values: object) -> str:
        said = plain(self, message, **values)
        return f"{said} {THEIRS}" if self.language == SPANISH and plain(self, message) != message else said

    monkeypatch.setattr(Words, "__call__", say)
    for name in ("listed", "either", "date", "count"):
        monkeypatch.setattr(Words, name, mark_spanish(getattr(Words, name)))


def mark_spanish(plain: Any) -> Any:
    def say(self: Words, *given: Any) -> str:
        said: str = plain(self, *given)
        is_many = not isinstance(given[0], list | tuple) or len(given[0]) > 1
        return f"{said} {THEIRS}" if self.language == SPANISH and is_many else said

    return say


def language_of(tag: Tag | None) -> str:
    return str(next((tag["lang"] for tag in (tag, *tag.parents) if tag.get("lang")), "")) if tag else ""


def find_faults(page: BeautifulSoup) -> Iterator[str]:
    for unseen in page(["script", "style", "title"]):
        unseen.decompose()
    said = [(str(text), text.parent) for text in page.find_all(string=True) if not isinstance(text, Comment)]
    said += [(str(tag[key]), tag) for tag in page.body.find_all(True) for key in HEARD if key in tag.attrs]
    for text, tag in said:
        languages = {code for code, word in (("en", OWN), (SPANISH, THEIRS)) if word in text}
        if languages - {language_of(tag)}:
            yield f"{'+'.join(sorted(languages))} in {language_of(tag)}: {text.strip()}"
    for about in page.find_all("meta", attrs={"name": "description"}):
        if OWN in about["content"] and THEIRS in about["content"]:
            yield f"description: {about['content']}"


def _read(page: PageView, made: bytes) -> str:
    """The page; a piece as it stands in one."""
    return f'<html lang="{SPANISH}"><body>{unwrap_piece(made)}</body></html>' if page.kind == PIECE else made.decode()


@pytest.mark.parametrize("name", ["sample", "wood-fungi"])
def test_no_value_mixes_languages(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    guide = open_session(SAMPLE if name == "sample" else HERE / name).guide
    assert guide is not None
    planted = plant_languages(guide if name == "sample" else translate_guide(guide))
    mark_tools_words(monkeypatch)
    pictures = dict.fromkeys(planted.photos, COPIES)
    pages = {page.path: page for page in site_pages(make_published(planted), TODAY) if page.language == SPANISH}
    shown = {path: _read(page, render_page(page, pictures, THEME)) for path, page in pages.items()}
    assert sum(OWN in text for text in shown.values()) > 15
    assert sum(THEIRS in text for text in shown.values()) > 15
    faults = {path: found for path, text in shown.items() if (found := sorted(find_faults(BeautifulSoup(text, "html.parser"))))}
    assert faults == {}
