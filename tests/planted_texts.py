"""A guide with signs of Markdown planted in every text that is Markdown, as the types of its fields say."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import fields, is_dataclass, replace
from functools import cache
from typing import Any, get_args, get_type_hints

from guidebuild.guide.accounts import Account, StageText, Translation
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Section
from guidebuild.guide.text.denied import is_nothing
from guidebuild.guide.text.inline import MARKDOWN, Inline

SPANISH = "es"


def plant_guide(guide: Guide, planted: str) -> Guide:
    """The guide with a text at the end of each of its own; ids of places that stand as habitats stay."""
    kept = frozenset(guide.places)
    changed = {field.name: _plant(getattr(guide, field.name), planted, kept) for field in fields(guide)}
    return replace(guide, **changed)


def translate_guide(guide: Guide, said: Mapping[str, str] | None = None) -> Guide:
    """The guide in a second language, in which every account is translated: its texts after a word that says so."""
    accounts = {ident: replace(account, translations=(_translate(account),)) for ident, account in guide.accounts.items()}
    return replace(guide, accounts=accounts, settings=replace(guide.settings, languages=(guide.settings.language, SPANISH)))


def _translate(account: Account) -> Translation:
    def say(text: Inline) -> Inline:
        return Inline(f"en español: {text.text}") if text else text

    own = ((key, getattr(account, key)) for key in ("status", "recent", "prey", "voice", "caution"))
    return Translation(
        SPANISH,
        vernacular=f"{account.vernacular} (español)",
        marks=tuple(say(mark.mark) for mark in account.diagnostics),
        stages=tuple(StageText(stage.stage, say(stage.text)) for stage in account.stages),
        similar_notes=tuple((similar.account, say(similar.note)) for similar in account.similar),
        facts=tuple((key, say(text)) for key, text in own if text),
        law=tuple(say(note.text) for note in account.law),
        sections=tuple(Section(section.heading, f"En español: {section.text}") for section in account.sections),
    )


def _plant(value: Any, planted: str, kept: Collection[str]) -> Any:
    if isinstance(value, Inline):
        return replace(value, text=add_text(value.text, planted)) if value and value.text not in kept else value
    if isinstance(value, tuple):
        return tuple(_plant(one, planted, kept) for one in value)
    if isinstance(value, Mapping):
        return {key: _plant(one, planted, kept) for key, one in value.items()}
    if not is_dataclass(value) or isinstance(value, (type, At)):
        return value
    changed = {field.name: _plant(getattr(value, field.name), planted, kept) for field in fields(value) if field.init}
    changed |= {name: add_text(getattr(value, name), planted) for name in _markdown_fields(type(value)) if getattr(value, name)}
    return replace(value, **changed)


def add_text(text: str, planted: str) -> str:
    """A text with another at its end, in the same sentence; one that says there is nothing stays."""
    if is_nothing(text):
        return text
    bare = text.rstrip()
    return f"{bare[:-1]}, {planted}." if bare.endswith(".") else f"{bare}, {planted}"


@cache
def _markdown_fields(kind: Any) -> tuple[str, ...]:
    return tuple(name for name, hint in get_type_hints(kind, include_extras=True).items() if MARKDOWN in get_args(hint))
