"""The signs round words: what opens and closes, what stops, and whether a piece of text ends a sentence."""

from __future__ import annotations

import re
from collections.abc import Container

OPENING = "([{\"'“‘«¿¡*_"
CLOSING = ")]}\"'”’»*_"
STOPS = ",;:.!?…"
EDGES = "".join(sorted({*OPENING, *CLOSING, *STOPS, "–", "—"}))
"""All that may stand at the ends of a word and is no part of it."""

_LAST = (".", "!", "?", "…")
_INITIAL = re.compile(r"\W*[A-Z]\.")
_LOOSE = re.compile(rf"\s+(?=[{STOPS}])")
_MAY_BE_LOOSE = re.compile(rf"\s[{STOPS}]")


def is_initial(piece: str) -> bool:
    """Whether a piece is one capital with its stop: `E.`, `(J.`."""
    return _INITIAL.fullmatch(piece.rstrip(CLOSING)) is not None


def ends_sentence(piece: str, abbreviations: Container[str]) -> bool:
    """Whether a sentence ends with a piece, which is what stands between two spaces; short forms and initials end none."""
    bare = piece.rstrip(CLOSING)
    return bare.endswith(_LAST) and bare.lstrip(f"{OPENING}\0") not in abbreviations and not is_initial(bare)


def close_up(text: str) -> str:
    """The text without space before a comma or a stop."""
    # Most texts are tidy, and a look costs less than a change.
    return _LOOSE.sub("", text) if _MAY_BE_LOOSE.search(text) else text
