"""The declarations of an account's fields are whole: each is told somewhere, asked for in words, and kept under a name of its own."""

from __future__ import annotations

import dataclasses
from collections import Counter

import pytest

from guidebuild.guide.account_fields import ACCOUNT_FIELDS, INLINE_FIELDS, SECTIONS, rows_of
from guidebuild.guide.accounts import Account
from guidebuild.guide.field_declaration import LEVELS, Field, OutputName
from guidebuild.guide.text.inline import Inline

ALL = (*ACCOUNT_FIELDS, *SECTIONS)
NOT_TYPED = {"id", "at", "sections", "translations", "positions"}
"""What an account holds that is no key of its facts block."""


@pytest.mark.parametrize("field", ALL, ids=lambda field: field.key)
def test_a_field_has_a_home_in_an_output_or_a_reason_why_not(field: Field) -> None:
    assert bool(field.outputs) != bool(field.unshown)
    assert field.row is None or set(field.row.outputs) <= set(field.outputs)
    assert not field.slot or OutputName.SCRIPTS in field.outputs


@pytest.mark.parametrize("field", ALL, ids=lambda field: field.key)
def test_what_is_asked_is_asked_in_words_and_at_a_level(field: Field) -> None:
    assert field.meaning.endswith(".")
    assert field.example.strip()
    assert not field.question or field.question.endswith(("?", "."))
    for ask in field.asks:
        assert ask.level in LEVELS
        assert field.question


def test_keys_slots_and_rules_are_unique() -> None:
    for named in ([f.key for f in ALL], [f.slot for f in ALL if f.slot], [ask.code for f in ALL for ask in f.asks]):
        assert [name for name, count in Counter(named).items() if count > 1] == []


def test_every_field_is_kept_in_the_account_and_nothing_else_is() -> None:
    kept = {attribute.name for attribute in dataclasses.fields(Account)}
    assert {field.attribute for field in ACCOUNT_FIELDS} == kept - NOT_TYPED


def test_texts_in_the_authors_words_are_kept_as_such() -> None:
    own = {attribute.name for attribute in dataclasses.fields(Account) if isinstance(attribute.default, Inline)}
    assert {field.attribute for field in INLINE_FIELDS} == own


def test_what_may_give_way_is_a_row_of_a_card() -> None:
    giving_way = [field.key for field, row in rows_of(OutputName.CARDS) if row.may_give_way]
    assert giving_way
    assert [field.key for field in ACCOUNT_FIELDS if field.row and field.row.may_give_way] == giving_way
