"""A fact is told by page, card and script as its field is declared, in the reader's language where it is translated."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.published import Published
from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.accounts import Translation
from guidebuild.guide.field_declaration import Field, OutputName
from guidebuild.guide.text.inline import Inline
from guidebuild.views.cards.card import card_view
from guidebuild.views.pieces.cautions import cautions_of_account
from guidebuild.views.pieces.common import FactRow
from guidebuild.views.pieces.facts import tell_facts
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.account import account_page
from guidebuild.views.site.account_facts import account_facts
from tests.as_published import with_account
from tests.views.invented_site import GUIDE, PARENT

HISS, ZISCH = "a thin, high hiss when it is held", "un siseo fino y agudo"


def with_parent(**changes: object) -> Published:
    return with_account(GUIDE, replace(PARENT, **changes))[0]  # type: ignore[arg-type]


def rows(guide: Published, language: str = "en") -> dict[str, FactRow]:
    make = make_pieces(guide, language)
    return {row.key: row for row in account_facts(make, guide.accounts["parent-bug"])}


def said_in_spanish(*texts: tuple[str, str]) -> tuple[Translation, ...]:
    return (replace(PARENT.translations[0], facts=tuple((key, Inline(text)) for key, text in texts)),)


@pytest.mark.parametrize("field", INLINE_FIELDS, ids=lambda field: field.key)
def test_a_text_stands_on_the_outputs_that_its_field_declares(field: Field) -> None:
    guide = with_parent(**{field.attribute: Inline("Zyzzyva *words*")})
    make, account = make_pieces(guide, "en"), guide.accounts["parent-bug"]
    shown = {
        OutputName.SITE: "Zyzzyva" in repr(account_page(make, account)),
        OutputName.CARDS: "Zyzzyva" in repr(card_view(make, account)),
    }
    assert shown == {output: output in field.outputs for output in shown}
    assert ("Zyzzyva" in tell_facts(guide, account).get(field.slot, "")) == bool(field.slot)


def test_lines_of_facts_stand_in_the_order_of_the_fields_with_names_last() -> None:
    told = rows(with_parent(prey=Inline("aphids"), voice=Inline(HISS), other_vernaculars=("Mothering Bug",)))
    assert list(told) == ["host plants", "prey", "voice", "habitat", "places", "status", "also called", "synonyms", "say"]
    assert [part.text for part in told["voice"].parts] == [HISS]
    assert told["host plants"].listed
    assert told["status"].joint == "; "


def test_a_fact_that_is_not_given_has_no_line() -> None:
    assert "voice" not in rows(with_parent())
    guide = with_parent()
    assert [fact.key for fact in card_view(make_pieces(guide), guide.accounts["parent-bug"]).facts] == []


def test_a_translated_text_is_told_in_the_readers_language_and_one_that_is_not_says_its_own() -> None:
    guide = with_parent(voice=Inline(HISS), prey=Inline("aphids"), translations=said_in_spanish(("voice", ZISCH)))
    told = rows(guide, "es")
    assert [(told[key].label, told[key].parts[0].text, told[key].language) for key in ("voice", "prey")] == [
        ("Voz", ZISCH, ""),
        ("Presas", "aphids", "en"),
    ]
    card = card_view(make_pieces(guide, "es"), guide.accounts["parent-bug"])
    assert [(fact.label, fact.text.words) for fact in card.facts] == [("Presas", "aphids"), ("Voz", ZISCH)]


def test_a_line_of_two_texts_is_in_one_language() -> None:
    both = with_parent(recent=Inline("here since 2019"), translations=said_in_spanish(("status", "común"), ("recent", "desde 2019")))
    assert [part.text for part in rows(both, "es")["status"].parts] == ["común", "desde 2019"]
    assert rows(both, "es")["status"].language == ""
    half = with_parent(recent=Inline("here since 2019"), translations=said_in_spanish(("status", "común")))
    assert [part.text for part in rows(half, "es")["status"].parts] == ["common", "here since 2019"]
    assert rows(half, "es")["status"].language == "en"


def test_a_translated_caution_is_said_in_the_readers_language() -> None:
    guide = with_parent(caution=Inline("Do not touch."), translations=said_in_spanish(("caution", "No tocar.")))
    for language, words, own in (("en", "Do not touch.", ""), ("es", "No tocar.", "")):
        assert [(c.text, c.language) for c in cautions_of_account(make_pieces(guide, language), guide.accounts["parent-bug"])][-1] == (
            words,
            own,
        )
    untold = with_parent(caution=Inline("Do not touch."))
    assert [(c.text, c.language) for c in cautions_of_account(make_pieces(untold, "es"), untold.accounts["parent-bug"])][-1] == (
        "Do not touch.",
        "en",
    )
