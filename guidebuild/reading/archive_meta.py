"""The meta.xml of a Darwin Core archive: which file holds what, and how it is written (Darwin Core text guide, 2023-09-13)."""

from __future__ import annotations

import xml.etree.ElementTree as ET
from dataclasses import dataclass

from guidebuild.reading.sighting_headings import plain_term
from guidebuild.reading.table_errors import UnreadableTableError
from guidebuild.reading.table_text import Dialect

_SIGNS = {"\\t": "\t", "\\n": "\n", "\\r": "\r", "\\r\\n": "\n", "\r\n": "\n"}
_LARGEST = 2_000_000


@dataclass(frozen=True, slots=True)
class ArchiveTable:
    """One table of an archive. `terms` are its columns by place, `constants` values that hold for all rows.

    `fallbacks` are values of empty cells, by place; `key` is where the id of the row, or of its row in the core, stands.
    """

    kind: str
    files: tuple[str, ...]
    dialect: Dialect
    header_lines: int
    key: int | None
    terms: dict[int, str]
    constants: dict[str, str]
    fallbacks: dict[int, str]


def read_meta(text: bytes) -> tuple[ArchiveTable, tuple[ArchiveTable, ...]]:
    """The core and the extensions. Raises UnreadableTableError for what is no such file."""
    try:
        root = parse_plain_xml(text)
        if root is None:
            raise UnreadableTableError("Its meta.xml is none of a Darwin Core archive")
        tables = {name: [_table(one) for one in root if _local(one) == name] for name in ("core", "extension")}
    except (ET.ParseError, ValueError, LookupError) as trouble:
        raise UnreadableTableError(f"Its meta.xml cannot be read: {trouble}") from trouble
    if len(tables["core"]) != 1:
        raise UnreadableTableError("Its meta.xml names no core table")
    return tables["core"][0], tuple(tables["extension"])


def parse_plain_xml(text: bytes) -> ET.Element | None:
    """The root of a file of an archive; None for what is too large, or declares what could swell. Raises ParseError for what is no XML."""
    # A document type is where entities that swell are declared, in whatever encoding; no archive has one.
    plain = text.replace(b"\0", b"")
    if len(text) > _LARGEST or b"<!DOCTYPE" in plain or b"<!ENTITY" in plain:
        return None
    return ET.fromstring(text)  # noqa: S314 - declarations of entities were refused above


def _local(element: ET.Element) -> str:
    return element.tag.rsplit("}", 1)[-1]


def _table(element: ET.Element) -> ArchiveTable:
    files = tuple(place.text.strip() for place in element.iter() if _local(place) == "location" and place.text)
    keys = [one.get("index") for one in element if _local(one) in ("id", "coreid")]
    terms: dict[int, str] = {}
    constants: dict[str, str] = {}
    fallbacks: dict[int, str] = {}
    for field in (one for one in element if _local(one) == "field"):
        term, index, value = plain_term(field.get("term", "")), field.get("index"), field.get("default", "")
        if index is None:
            constants[term] = value
        else:
            terms[int(index)] = term
            fallbacks |= {int(index): value} if value else {}
    return ArchiveTable(
        plain_term(element.get("rowType", "")), files, _dialect(element), int(element.get("ignoreHeaderLines") or 0),
        int(keys[0]) if keys and keys[0] else None, terms, constants, fallbacks,
    )  # fmt: skip


def _dialect(element: ET.Element) -> Dialect:
    """Attributes of a table, with the defaults of the standard."""
    encoding = element.get("encoding") or "UTF-8"
    "".encode(encoding)  # LookupError where there is no such encoding
    separator = _sign(element.get("fieldsTerminatedBy", ","))
    quote = _sign(element.get("fieldsEnclosedBy", '"'))
    if len(separator) != 1 or len(quote) > 1:
        raise ValueError(f"cells cannot be parted by “{separator}”")
    utf8 = encoding.casefold().replace("-", "") == "utf8"
    return Dialect("utf-8-sig" if utf8 else encoding, separator, quote, _sign(element.get("linesTerminatedBy", "\n")))


def _sign(text: str) -> str:
    return _SIGNS.get(text, text)
