"""Notes on the law stand with their day and a word to check the law of today, wherever a reader is told what to beware of."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from functools import cache

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.accounts import Translation
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import LawNote
from guidebuild.guide.text.inline import Inline
from guidebuild.press.outputs.cards.shown import LAW_IN_FULL, shown_laws
from guidebuild.press.outputs.cards.words import back_words
from guidebuild.reading.whole import read_guide
from guidebuild.views.booklet.book import booklet_view
from guidebuild.views.cards.card import card_view
from guidebuild.views.cards.printed import checklist_view, leaflet_views
from guidebuild.views.outdoors.walk import walk_pack_view
from guidebuild.views.pieces.common import CautionView
from guidebuild.views.pieces.laws import laws_of_account
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.account import account_page
from guidebuild.views.site.reference import cautions_page
from tests.fieldwork.invented import PARENT
from tests.guides.whole_guides import HERE
from tests.press.small_guide import guide

OF_ALL = "Frogs, tadpoles and spawn may not be taken from the wild without a permit."
OF_ONE = "It is listed as threatened. Disturbing it or its water needs a licence."
WHEN = "As of 4 July 2026: check the current law."
ADDRESS = "https://warrabin.example/wildlife-law"


@cache
def frogs() -> Published:
    made = read_guide(HERE / "southern-frogs").guide
    assert made is not None
    return make_published(made)


def texts(views: tuple[CautionView, ...]) -> list[str]:
    return [view.whole.words for view in views if view.is_law]


def test_an_account_tells_its_own_law_and_the_guides_with_day_and_address() -> None:
    page = account_page(make_pieces(frogs()), frogs().accounts["growling-grass-frog"])
    assert texts(page.laws) == [OF_ONE, OF_ALL]
    assert {view.local for view in page.laws} == {WHEN}
    assert [view.deferred for view in page.laws] == [WHEN, f"{WHEN} {ADDRESS}"]
    assert texts(account_page(make_pieces(frogs()), frogs().accounts["pobblebonk"]).laws) == [OF_ALL]


def test_larger_prints_and_the_page_of_cautions_say_whose_law_it_is() -> None:
    walk = next(iter(frogs().walks.values()))
    at_swamp = "Red Gum Swamp: Dogs are not allowed in the reserve."
    assert texts(booklet_view(frogs()).cautions) == [OF_ALL, f"Growling Grass Frog: {OF_ONE}"]
    assert texts(cautions_page(make_pieces(frogs())).laws) == [OF_ALL]
    for shown in (walk_pack_view(frogs(), walk), checklist_view(frogs(), walk), leaflet_views(frogs())[0]):
        assert texts(shown.cautions)[:2] == [at_swamp, OF_ALL]


def test_a_full_card_keeps_the_day_and_to_check_when_the_words_go() -> None:
    card = card_view(make_pieces(frogs()), frogs().accounts["growling-grass-frog"])
    assert texts(shown_laws(card.laws, frozenset())) == [OF_ONE, OF_ALL]
    short = shown_laws(card.laws, frozenset({LAW_IN_FULL}))
    assert [(view.title, view.text, view.deferred) for view in short] == [("Law", "", WHEN)] * 2
    assert back_words(card, 8, 90, frozenset({LAW_IN_FULL})) < back_words(card, 8, 90)


def with_law(**changes: object) -> Guide:
    account = replace(PARENT, law=(LawNote(Inline("Not to be caught."), dt.date(2026, 3, 1)),), **changes)  # type: ignore[arg-type]
    made = guide(account)
    return replace(made, settings=replace(made.settings, languages=("en", "es")))


def test_the_law_is_told_in_the_readers_language_where_it_is_translated() -> None:
    spanish = Translation("es", vernacular="Chinche madre", law=(Inline("No se puede capturar."),))
    for translations, text, language in (((spanish,), "No se puede capturar.", ""), ((), "Not to be caught.", "en")):
        published = make_published(with_law(translations=translations))
        (view,) = laws_of_account(make_pieces(published, "es"), published.accounts[PARENT.id])
        assert (view.title, view.text, view.language) == ("Ley", text, language)
        assert view.local == "A fecha de 1 de marzo de 2026: consulte la ley vigente."
