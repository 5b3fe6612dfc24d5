"""Hashtags as the language writes words: each word with its capital, accents and umlauts kept, no spaces, hyphens or apostrophes.

Capitals tell a screen reader, and an eye, where a word begins: `#HedgeWatch` is read as two words (common practice, no source).
"""

from __future__ import annotations

import unicodedata

import regex

_APOSTROPHES = regex.compile(r"(?<=\w)['’ʼ](?=\w)")
_WORD = regex.compile(r"\w+")


def write_hashtag(name: str) -> str:
    """`#HedgeWatch` of “hedge watch”; empty where a name has no letter, for a tag of figures alone is none."""
    words = _WORD.findall(_APOSTROPHES.sub("", unicodedata.normalize("NFC", name)))
    # One word stays as it was typed, and of several each keeps its other letters: "UK", "McKay".
    tag = "".join(words if len(words) == 1 else (word[:1].title() + word[1:] for word in words))
    return f"#{tag}" if regex.search(r"\p{L}", tag) else ""
