"""Every text of a guide that readers see, found by the types of its fields.

A field says by its type what it holds: `Inline` and `Markdown` are Markdown, `str` is words shown as typed, `Unshown` is none of
the readers' business. So a new field is gone through as soon as it is declared, by every check that goes through texts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from functools import cache, lru_cache
from types import MappingProxyType, NoneType, UnionType
from typing import Annotated, Any, NamedTuple, TypeAlias, TypeVar, Union, get_args, get_origin, get_type_hints

from guidebuild.guide.account_fields import ACCOUNT_FIELDS
from guidebuild.guide.accounts import Account
from guidebuild.guide.findings import NOWHERE, At
from guidebuild.guide.guide import Guide
from guidebuild.guide.life_stages import StageSet
from guidebuild.guide.record_fields import PLACE_FIELDS
from guidebuild.guide.records import Place
from guidebuild.guide.resolve import find_account
from guidebuild.guide.text.inline import MARKDOWN, NO_TEXT, UNSHOWN, Inline
from guidebuild.guide.text.links import Link, links_in


class Text(NamedTuple):
    """One text: as typed, where it stands, in which field, of which record, and the id of the account it belongs to, if any.

    With a column in `at` only the start is sure: YAML may fold the lines that follow.
    """

    text: str
    at: At
    field: str
    record: object
    account: str = ""
    is_markdown: bool = False

    def line(self, number: int) -> At:
        """Where a line of the text stands, counted from 0."""
        return self.at if self.at.column or not number else At(self.at.file, self.at.line + number)


@dataclass(frozen=True, slots=True)
class _Here:
    """Where one is on the way through a record: its place, the places of its keys, and the fields that led there."""

    at: At
    keys: Mapping[str, At]
    path: tuple[str, ...] = ()
    is_placed: bool = True  # in a record that knows its own place; one that does not has its words under the keys of the record it is in

    def down(self, key: str) -> _Here:
        """Into the field of a key."""
        path = (*self.path, key)
        at = self.keys.get(".".join(path)) or (None if self.is_placed and self.path else self.keys.get(key)) or self.at
        return _Here(at, self.keys, path, self.is_placed)


_Found: TypeAlias = list[tuple[str, At, str, bool]]
_Walk: TypeAlias = Callable[[Any, _Here, _Found], None]
"""Puts the texts of a value into a list: as typed, where it stands, the field, whether it is Markdown."""
_NO_KEYS: Mapping[str, At] = MappingProxyType({})
_EMPTY: tuple[()] = ()
_KEYS: Mapping[tuple[type, str], str] = {
    # The first declared: others of the same attribute are parts of it.
    **{(Account, field.attribute): field.key for field in reversed(ACCOUNT_FIELDS)},
    **{(Place, field.attribute): field.key for field in reversed(PLACE_FIELDS)},
    (StageSet, "spoken"): "stages",
}


@lru_cache(maxsize=2)
def find_markdown(guide: Guide) -> tuple[Text, ...]:
    """Every piece of Markdown in a guide, in files and in facts; its field is not told."""
    return tuple(_find(guide, only_markdown=True))


@lru_cache(maxsize=2)
def find_texts(guide: Guide) -> tuple[Text, ...]:
    """Every text of a guide that readers may see."""
    return tuple(_find(guide, only_markdown=False))


@lru_cache(maxsize=2)
def find_links(guide: Guide) -> tuple[tuple[str, Link], ...]:
    """Every link in a guide with the id of its account."""
    return tuple((text.account, link) for text in find_markdown(guide) if "[" in text.text for link in links_in(text.text, text.at))


def _find(guide: Guide, *, only_markdown: bool) -> Iterator[Text]:
    start = _Here(NOWHERE, _NO_KEYS)
    for name, hint in _hints(Guide).items():
        value = getattr(guide, name)
        is_many = isinstance(value, Mapping)
        walk = _walk_of(get_args(hint)[1] if is_many else hint, only_markdown)
        if walk is None:
            continue
        for record in value.values() if is_many else (value,):
            texts: _Found = []
            walk(record, start, texts)
            owner = _owner(guide, record) if texts else ""
            for text, at, field, is_markdown in texts:
                yield Text(text, at, field, record, owner, is_markdown)


def _owner(guide: Guide, record: object) -> str:
    named = record.id if isinstance(record, Account) else getattr(record, "account", "")
    found = find_account(guide, named) if named else None
    return found.id if found else ""


@cache
def name_text_fields(kind: Any) -> tuple[str, ...]:
    """The fields of a record that can hold texts which readers see."""
    return tuple(field.name for field in fields(kind) if _walk_of(_hints(kind)[field.name], only_markdown=False))


@cache
def _hints(kind: type) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


def _walk_of(hint: Any, only_markdown: bool) -> _Walk | None:
    """How the texts in a value of this type are found; None where it can hold none."""
    origin, args = get_origin(hint), get_args(hint)
    if hint is Inline or (origin is Annotated and MARKDOWN in args):
        return _inline if hint is Inline else _markdown
    if hint is str or (origin is Annotated and UNSHOWN in args):
        return _words if hint is str and not only_markdown else None
    if origin in (Union, UnionType):
        kinds = [kind for kind in args if kind is not NoneType]
        return _walk_of(kinds[0], only_markdown) if len(kinds) == 1 else None
    if origin in (tuple, frozenset):
        is_row = origin is tuple and Ellipsis not in args
        return _row([_walk_of(arg, only_markdown) for arg in args]) if is_row else _each(_walk_of(args[0], only_markdown))
    kind = origin or hint
    return _record(kind, args, only_markdown) if isinstance(kind, type) and is_dataclass(kind) and kind is not At else None


def _is_nowhere(at: At) -> bool:
    # Not by identity: what was kept of an earlier reading holds a likeness.
    return at is NOWHERE or (not at.line and at == NOWHERE)


def _inline(value: Inline, here: _Here, texts: _Found) -> None:
    if value.text:
        texts.append((value.text, here.at if _is_nowhere(value.at) else value.at, ".".join(here.path), True))


def _markdown(value: str, here: _Here, texts: _Found) -> None:
    if value:
        texts.append((value, here.at, ".".join(here.path), True))


def _words(value: str, here: _Here, texts: _Found) -> None:
    if value:
        texts.append((value, here.at, ".".join(here.path), False))


def _each(walk: _Walk | None) -> _Walk | None:
    if walk is None:
        return None

    def through(values: Any, here: _Here, texts: _Found) -> None:
        for value in values:
            walk(value, here, texts)

    return through


def _row(walks: list[_Walk | None]) -> _Walk | None:
    if not any(walks):
        return None

    def through(values: Any, here: _Here, texts: _Found) -> None:
        for value, walk in zip(values, walks, strict=True):
            if walk:
                walk(value, here, texts)

    return through


@cache
def _record(kind: type, args: tuple[Any, ...], only_markdown: bool) -> _Walk | None:
    """Through the fields of a record; it may hold others of its own kind."""
    filled = dict(zip(getattr(kind, "__parameters__", ()), args, strict=False))
    hints = {name: _filled(hint, filled) for name, hint in _hints(kind).items()}
    own = [name for name, hint in hints.items() if kind in get_args(hint)]
    walks = [(name, _KEYS.get((kind, name), name.replace("_", " ")), _walk_of(hints[name], only_markdown))
             for name in (field.name for field in fields(kind)) if name not in own]  # fmt: skip
    steps = tuple((name, key, walk) for name, key, walk in walks if walk)
    has_place, has_keys = "at" in hints, "positions" in hints
    if not steps:
        return None

    def through(record: Any, here: _Here, texts: _Found) -> None:
        at = record.at if has_place and not _is_nowhere(record.at) else here.at
        if only_markdown:  # it stands at its own place or its record's: no keys are looked for
            here = here if at is here.at else _Here(at, _NO_KEYS)
        else:
            keys = record.positions if has_keys else here.keys
            here = _Here(at, keys, () if has_keys else here.path, has_place)
        for name, key, walk in steps:
            value = getattr(record, name)
            if not (value is None or value is _EMPTY or value is NO_TEXT):  # other values that count as nothing may give a reason
                walk(value, here if only_markdown else here.down(key), texts)
        for name in own:
            for other in getattr(record, name):
                through(other, here, texts)

    return through


def _filled(hint: Any, filled: Mapping[Any, Any]) -> Any:
    """A type with what stands for its variables: `tuple[T, ...]` of a `Stated[HostUse]` is `tuple[HostUse, ...]`."""
    if isinstance(hint, TypeVar):
        return filled.get(hint, hint)
    if filled and get_origin(hint) is tuple:
        return tuple.__class_getitem__(tuple(_filled(arg, filled) for arg in get_args(hint)))
    return hint
