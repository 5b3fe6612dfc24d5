"""Text from authors made safe for where it goes: names of files, cells of spreadsheets."""

from __future__ import annotations

import hashlib
import re
import unicodedata

from guidebuild.guide.ids import is_device

LONGEST_NAME = 120
"""Bytes of UTF-8 in a file name's stem; with an ending it stays below the 143 that encrypted home folders allow."""

# Microsoft, "Naming Files, Paths, and Namespaces": signs that no name may hold.
_FORBIDDEN = re.compile(r'[<>:"/\\|?*]+')
# OWASP, "CSV Injection", with the full-width forms that some locales read alike.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?")
# Unicode Standard Annex 9: embeddings, overrides and isolates can make a name read as another.
_TURNERS = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


def visible(text: str) -> str:
    """Text without signs that cannot be seen but change what is read: controls, direction overrides, stray surrogates."""
    kept = (sign for sign in text if sign not in _TURNERS and unicodedata.category(sign) not in ("Cc", "Cs", "Co", "Cn"))
    return "".join(kept)


def file_name(text: str) -> str:
    """A stem that every disk and system takes; different texts of any length keep different names as far as they can be read."""
    name = _FORBIDDEN.sub("-", visible(unicodedata.normalize("NFC", text)))
    name = " ".join(name.split()).strip(". ")
    if len(name.encode()) > LONGEST_NAME:
        tail = "-" + hashlib.blake2b(name.encode(), digest_size=4).hexdigest()
        name = name.encode()[: LONGEST_NAME - len(tail)].decode(errors="ignore").rstrip(". ") + tail
    if is_device(name):
        name = f"_{name}"
    return name or "unnamed"


def cell(text: str) -> str:
    """A cell that a spreadsheet shows as text and never runs: what could begin a formula gets an apostrophe; numbers do not."""
    plain = text.replace("\0", "")
    if plain.lstrip(" ").startswith(_FORMULA) and not _NUMBER.fullmatch(plain):
        return f"'{plain}"
    return plain
