"""Text from authors made safe for the cells of spreadsheets."""

from __future__ import annotations

import re

# OWASP, "CSV Injection", with the full-width forms that some locales read alike.
_FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
_NUMBER = re.compile(r"[+-]?\d+(?:[.,]\d+)?(?:[eE][+-]?\d+)?")


def write_cell(text: str) -> str:
    """A cell that a spreadsheet shows as text and never runs: what could begin a formula gets an apostrophe; numbers do not."""
    plain = text.replace("\0", "")
    if plain.lstrip(" ").startswith(_FORMULA) and not _NUMBER.fullmatch(plain):
        return f"'{plain}"
    return plain
