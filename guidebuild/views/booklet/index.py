"""The index of a booklet: vernacular names in all languages of the guide, scientific names, synonyms and families."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.names import NamePiece
from guidebuild.views.pieces.common import NameView
from guidebuild.views.pieces.links import name_view


@dataclass(frozen=True, slots=True)
class IndexEntry:
    """A name and the species it leads to, several where they share it; `is_synonym` where it is no longer the valid name."""

    name: NameView
    accounts: tuple[str, ...]
    is_synonym: bool = False
    is_family: bool = False

    @property
    def sort_key(self) -> tuple[str, str]:
        """For the order of the alphabet: accents and hybrid signs do not count."""
        plain = unicodedata.normalize("NFKD", self.name.short.casefold().replace("×", ""))
        return "".join(sign for sign in plain if not unicodedata.combining(sign)).strip(), self.name.short


def index_names(guide: Published, accounts: Iterable[PublicAccount]) -> tuple[IndexEntry, ...]:
    """All names in the order of the alphabet, each once."""
    found: dict[tuple[str, str, bool, bool], list[str]] = {}
    views: dict[tuple[str, str, bool, bool], NameView] = {}
    for account in accounts:
        for name, is_synonym, is_family in _names_of(guide, account):
            key = (name.short, name.language, is_synonym, is_family)
            views.setdefault(key, name)
            if account.id not in found.setdefault(key, []):
                found[key].append(account.id)
    entries = (IndexEntry(views[key], tuple(ids), key[2], key[3]) for key, ids in found.items())
    return tuple(sorted(entries, key=lambda entry: entry.sort_key))


def _names_of(guide: Published, account: PublicAccount) -> Iterator[tuple[NameView, bool, bool]]:
    """Each name of a species, whether it is a synonym, and whether it is its family's."""
    main = guide.settings.language
    for language in dict.fromkeys((main, *guide.settings.languages)):
        named = name_view(account, language, main)
        if named.vernacular and named.language == language:
            yield NameView(named.vernacular, (), language=language), False, False
    yield NameView("", account.name.pieces(authority=False)), False, False
    for synonym in account.synonyms:
        yield NameView("", synonym.pieces(authority=False)), True, False
    if account.family:
        yield NameView("", (NamePiece(account.family, italic=False),)), False, True
