"""A published guide that tells what it is asked: of accounts each field by itself, of all else each record as a whole.

What it answers is what the guide itself answers. `settings` and `as_of` are not noted: whoever notes asks counts them as asked.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import fields, replace
from typing import Any, TypeVar

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import EVERY, Ask, note_ask

T = TypeVar("T")
NOT_NOTED = frozenset(("settings", "as_of", "region"))
_ACCOUNTS = "accounts"


class _AskedRecords(Mapping[str, T]):
    """Records by id; each that is asked for is noted, and all of them where someone goes through them."""

    def __init__(self, collection: str, records: Mapping[str, T]) -> None:
        self._collection = collection
        self._records = records

    def __getitem__(self, record: str) -> T:
        note_ask(Ask(self._collection, record, ""))
        return self._records[record]

    def __contains__(self, record: object) -> bool:
        if isinstance(record, str):
            note_ask(Ask(self._collection, record, ""))
        return record in self._records

    def __iter__(self) -> Iterator[str]:
        note_ask(Ask(self._collection, EVERY, ""))
        return iter(self._records)

    def __len__(self) -> int:
        note_ask(Ask(self._collection, EVERY, ""))
        return len(self._records)


class _AskedRows(Sequence[T]):
    """Rows that are only asked for as a whole."""

    def __init__(self, collection: str, rows: Sequence[T]) -> None:
        self._collection = collection
        self._rows = rows

    def __getitem__(self, place: Any) -> Any:
        note_ask(Ask(self._collection, EVERY, ""))
        return self._rows[place]

    def __len__(self) -> int:
        note_ask(Ask(self._collection, EVERY, ""))
        return len(self._rows)


def _asked_field(name: str) -> property:
    def ask(account: _AskedAccount) -> Any:
        own = account._own
        note_ask(Ask(_ACCOUNTS, own.id, name))
        return getattr(own, name)

    return property(ask)


class _AskedAccount(PublicAccount):
    """An account that notes each field that is asked of it; its methods ask like anyone."""

    __slots__ = ("_own",)
    _own: PublicAccount

    def __init__(self, own: PublicAccount) -> None:
        object.__setattr__(self, "_own", own)

    def __reduce__(self) -> Any:
        raise TypeError("an account that notes what is asked of it stays in this process")


for _field in fields(PublicAccount):
    # Who holds an account has asked for it already, and so for its id.
    setattr(_AskedAccount, _field.name, property(lambda account: account._own.id) if _field.name == "id" else _asked_field(_field.name))


def ask_of(guide: Published) -> Published:
    """The same guide, telling what it is asked to whoever listens (`guide/asking.py`)."""
    wrapped: dict[str, Any] = {}
    for field in fields(Published):
        value = getattr(guide, field.name)
        if field.name == _ACCOUNTS:
            wrapped[_ACCOUNTS] = _AskedRecords(_ACCOUNTS, {ident: _AskedAccount(account) for ident, account in value.items()})
        elif isinstance(value, tuple):
            wrapped[field.name] = _AskedRows(field.name, value)
        elif isinstance(value, Mapping):
            wrapped[field.name] = _AskedRecords(field.name, value)
        elif field.name not in NOT_NOTED:
            raise TypeError(f"what is asked of {field.name} would not be noted")
    return replace(guide, **wrapped)


def find_answer(guide: Published, ask: Ask) -> object:
    """What a guide answers to an ask, as something that can be digested; of a record that is not there, None."""
    if ask.record == EVERY:
        return _find_all(guide, ask)
    records: Mapping[str, object] = getattr(guide, ask.collection)
    if ask.record not in records:
        return None
    if ask.field:
        return (getattr(records[ask.record], ask.field),)
    return True if ask.collection == _ACCOUNTS else (records[ask.record],)


def _find_all(guide: Published, ask: Ask) -> object:
    collection = getattr(guide, ask.collection)
    if ask.collection == _ACCOUNTS:
        return [(ident, getattr(account, ask.field) if ask.field else None) for ident, account in collection.items()]
    return list(collection.items()) if isinstance(collection, Mapping) else collection
