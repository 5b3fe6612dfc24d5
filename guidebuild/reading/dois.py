"""A DOI however it is written → the bare one."""

from __future__ import annotations

import re
from urllib.parse import unquote

from guidebuild.guide.problem import Unreadable

# ISO 26324: the prefix begins with 10. and four digits or more; signs of the suffix are those of nearly all DOIs given (from memory).
_DOI = re.compile(r"10\.\d{4,9}/[-._;()/:A-Za-z0-9<>\[\]+]+")
_BEFORE = re.compile(r"(?:(?:https?://)?(?:dx\.)?doi\.org/|doi:\s*)", re.IGNORECASE)


def parse_doi(text: str) -> str | Unreadable:
    """`10.5555/12345678`, `doi:10.5555/12345678` or its address. Case means nothing in a DOI; it stays as typed."""
    bare = find_doi(text)
    if bare is None:
        return Unreadable(f"'{text[:60]}' is not a DOI.", "Write it as 10.5555/12345678, or its address under “address”.")
    return bare


def find_doi(text: str) -> str | None:
    """The bare DOI that a text is."""
    typed = text.strip()
    before = _BEFORE.match(typed)
    bare = unquote(typed[before.end() :]) if before else typed
    return bare if _DOI.fullmatch(bare) else None
