"""An account beside its words in another language: what is said in the one, and a field for it in the other."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.wanted import Path, RefusedError, value_at
from guidebuild.desk.part import Part
from guidebuild.guide.account_fields import INLINE_FIELDS
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.resolve import fold_name
from guidebuild.reading.block import Plain
from guidebuild.reading.folder import TRANSLATION
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view
from guidebuild.words import Words, find_locale, words

_FOLDER, _ENDING = "accounts/", ".md"


@dataclass(frozen=True, slots=True)
class Pair:
    """Words of the account, and where and what they are in the other language."""

    label: str
    original: str
    path: str
    value: str
    is_long: bool = False
    waits: bool = False
    """Whether what stands before it must be translated first."""


@dataclass(frozen=True, slots=True)
class TranslationRow:
    """An account in the list of all: how much of it each language says."""

    id: str
    name: NameView
    said: tuple[tuple[str, str, int, int], ...]


@dataclass(frozen=True, slots=True)
class TranslationView:
    """All that a page shows; without an `id`, the list of all accounts. `names` are the languages by what they are called."""

    accounts: tuple[TranslationRow, ...] = ()
    id: str = ""
    name: NameView | None = None
    language: str = ""
    called: str = ""
    main: str = ""
    file: str = ""
    digest: str = ""
    facts: tuple[Pair, ...] = ()
    sections: tuple[Pair, ...] = ()
    before: str = ""
    after: str = ""


def show_translation(desk: Desk, rest: str, _: Mapping[str, str]) -> TranslationView | None:
    """The page of an account in a language (`parent-bug/es`), or of all; None where there is no such account or language."""
    guide = desk.guide
    if guide is None:
        return None if rest else TranslationView()
    if not rest:
        return TranslationView(accounts=tuple(_list_accounts(desk, guide)))
    account_id, language = (*rest.split("/", 1), "")[:2]
    account = guide.accounts.get(account_id)
    if account is None or language not in guide.settings.languages[1:]:
        return None
    standing = desk.writer.read(f"{_FOLDER}{account_id}.{language}{_ENDING}")
    every = list(guide.accounts)
    at = every.index(account_id)
    main = guide.settings.language
    return TranslationView(
        id=account_id,
        name=name_view(account, main, main),
        language=language,
        called=_name_language(language),
        main=main,
        file=standing.file,
        digest=standing.digest,
        facts=tuple(_pair_facts(guide, account, standing.values, desk.say)),
        sections=tuple(_pair_sections(account, standing.values, language)),
        before=every[at - 1] if at else "",
        after=every[at + 1] if at + 1 < len(every) else "",
    )


def _list_accounts(desk: Desk, guide: Guide) -> Iterator[TranslationRow]:
    main = guide.settings.language
    for account in guide.accounts.values():
        said = []
        for language in guide.settings.languages[1:]:
            try:
                values = desk.writer.read(f"{_FOLDER}{account.id}.{language}{_ENDING}").values
            except RefusedError:
                values = {}  # its own page says what is wrong with the file
            pairs = (*_pair_facts(guide, account, values, desk.say), *_pair_sections(account, values, language))
            said.append((language, _name_language(language), sum(bool(pair.value) for pair in pairs), len(pairs)))
        yield TranslationRow(account.id, name_view(account, main, main), tuple(said))


def _name_language(language: str) -> str:
    """What a language calls itself."""
    locale = find_locale(language)
    return (locale.get_display_name(locale) or language).capitalize()


def _pair_facts(guide: Guide, account: Account, values: Mapping[str, Plain], say: Words) -> Iterator[Pair]:
    """The account's words in its facts, each with its place in the translation."""
    if account.vernacular:
        yield _pair(say("Name"), account.vernacular, ("vernacular",), values)
    group = guide.stage_set(account)
    for number, mark in enumerate(account.diagnostics):
        yield _pair(say("Mark {n}", n=number + 1), mark.mark.text, _path_of_mark(number, mark.mark.text, values), values)
    for stage in account.stages:
        yield _pair(group.word(stage.stage), stage.text.text, ("life stages", stage.stage), values, is_long=True)
    for other in account.similar:
        if other.note.text:
            known = guide.accounts.get(other.account)
            called = (known.vernacular or known.name.plain) if known else other.account
            yield _pair(say("Beside {name}", name=called), other.note.text, ("similar", other.account), values, is_long=True)
    for field in INLINE_FIELDS:
        if told := getattr(account, field.attribute).text:
            yield _pair(field.key, told, (field.key,), values, is_long=True)


def _path_of_mark(number: int, text: str, values: Mapping[str, Plain]) -> Path:
    """A mark by its words; by its place where the translation lists marks in their order."""
    standing = values.get("marks")
    if isinstance(standing, list):
        return ("marks", number)
    typed = standing if isinstance(standing, dict) else {}
    return ("marks", next((typed_words for typed_words in typed if fold_name(typed_words) == fold_name(text)), text))


def _pair_sections(account: Account, values: Mapping[str, Plain], language: str) -> Iterator[Pair]:
    """Sections by their order, as pages lay them beside each other: one that is not there yet waits until all before it are."""
    there = [key for key in values if key.startswith("##")]
    for number, section in enumerate(account.sections):
        heading = there[number] if number < len(there) else f"## {words(language)(section.heading)}".rstrip()
        waits = number > len(there) or (number == len(there) and heading in there)
        yield replace(_pair(section.heading, section.text, (heading,), values, is_long=True), waits=waits)


def _pair(label: str, original: str, path: Path, values: Mapping[str, Plain], *, is_long: bool = False) -> Pair:
    value = value_at(dict(values), path)
    return Pair(label, original, json.dumps(path), value if isinstance(value, str) else "", is_long)


def locate_translation(desk: Desk, at: At) -> str | None:
    """The page of a translation's file."""
    stem = at.file.removeprefix(_FOLDER).removesuffix(_ENDING)
    match = TRANSLATION.fullmatch(stem)
    known: Sequence[str] = desk.guide.settings.languages[1:] if desk.guide else ()
    is_one = match is not None and f"{_FOLDER}{stem}{_ENDING}" == at.file and match["language"] in known
    return f"{match['id']}/{match['language']}" if match and is_one else None


PART = Part("translation", "Translations", show_translation, locate=locate_translation)
