"""Short names for contents: the same value gives the same digest in every process, folder and locale.

A view becomes JSON in one pass of the C encoder, which asks Python only about what JSON lacks (records, dates, sets,
bytes).  Unlike pickle, the text depends on values alone, never on which objects happen to be shared.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Set
from dataclasses import Field, dataclass, fields, is_dataclass
from datetime import date, time
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from operator import attrgetter
from pathlib import Path, PurePath
from typing import Any

_SIZE = 20


def digest(*values: object) -> str:
    """Forty hexadecimal signs for any values made of records, tuples, mappings, text, numbers, dates and bytes; paths count by their names.

    Keys of mappings count as text.  Raises `TypeError` for what has no stable form, such as an open file.
    """
    return _BY_NAME.digest(*values)


def digest_bytes(data: bytes) -> str:
    """Forty hexadecimal signs for a file's content."""
    return hashlib.blake2b(data, digest_size=_SIZE).hexdigest()


def digest_file(path: Path) -> str:
    """Digest of a file's content, read piecewise."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, lambda: hashlib.blake2b(digest_size=_SIZE)).hexdigest()


def digest_folder(folder: Path) -> str:
    """Digest of the names and contents of all files below a folder, such as a theme."""
    files = sorted((path.relative_to(folder).as_posix(), path) for path in folder.rglob("*") if path.is_file())
    return digest(*((name, digest_file(path)) for name, path in files))


class Marked:
    """A value that stands for some content which is digested already, such as a file: of it only the digest counts."""

    __slots__ = ()
    mark: str
    """The content's digest."""


@dataclass(frozen=True, slots=True)
class KnownFile(Marked):
    """A file and the digest of its content."""

    path: Path
    mark: str


class Digester:
    """Digests values; what counts of a path is what `read_path` answers for it."""

    def __init__(self, read_path: Callable[[Path], str], all_but: frozenset[str] | None = None) -> None:
        """Fields count that count when two records are compared; with `all_but`, all others too but those of these names."""
        self._read_path = read_path
        self._all_but = all_but
        self._forms: dict[type, Callable[[Any], object]] = {}
        self._encoder = json.JSONEncoder(sort_keys=True, check_circular=False, separators=(",", ":"), default=self._default)

    def digest(self, *values: object) -> str:
        """Forty hexadecimal signs for any values; see the function `digest`."""
        return hashlib.blake2b(self._encoder.encode(values).encode("ascii"), digest_size=_SIZE).hexdigest()

    def _default(self, value: object) -> object:
        kind = type(value)
        form = self._forms.get(kind)
        if form is None:
            form = self._forms[kind] = self._form(kind)
        return form(value)

    def _counts(self, field: Field[Any]) -> bool:
        return field.compare or (self._all_but is not None and field.name not in self._all_but)

    def _form(self, kind: type) -> Callable[[Any], object]:
        """How values of this type are written: under the type's name, so that a date and its text differ."""
        if issubclass(kind, Marked):
            return _named(kind.__qualname__, attrgetter("mark"))
        if is_dataclass(kind):
            # What does not count when two are compared, such as the line that a text stands on, does not count here either.
            names = [field.name for field in fields(kind) if self._counts(field)]
            return _named(kind.__qualname__, attrgetter(*names) if names else lambda _: None)
        if issubclass(kind, Mapping):
            return dict
        if issubclass(kind, Set):
            return _named("Set", lambda value: sorted(map(self._encoder.encode, value)))
        if issubclass(kind, PurePath):
            return _named("Path", self._read_path)
        for base, form in _FORMS:
            if issubclass(kind, base):
                return _named(kind.__qualname__, form)
        raise TypeError(f"{kind.__qualname__} has no stable form to digest")


def _named(name: str, form: Callable[[Any], object]) -> Callable[[Any], object]:
    # No author's text begins with a zero sign, so a record never looks like a tuple that begins with its name.
    mark = f"\0{name}"
    return lambda value: (mark, form(value))


_FORMS: tuple[tuple[type, Callable[[Any], object]], ...] = (
    (Enum, attrgetter("name")),
    (bytes, digest_bytes),
    (date, str),
    (time, str),
    (Decimal, str),
    (Fraction, str),
)
_BY_NAME = Digester(PurePath.as_posix)
