"""How long a text is where it is posted: each place counts by a rule of its own, which guide.yaml names."""

from __future__ import annotations

import unicodedata
from collections.abc import Callable, Mapping
from types import MappingProxyType

import regex

from guidebuild.guide.post_counting import SIGNS, UNITS, WIDE
from guidebuild.views.pieces.credits import ADDRESS

_CLUSTER = regex.compile(r"\X")
_EMOJI = regex.compile(r"\p{Extended_Pictographic}|\p{Regional_Indicator}")
_KEYCAP = "\u20e3"
# Scripts of Europe, Africa and South Asia, spaces, dashes, quotation marks and primes; all others are wide.
# The ranges are those of twitter-text, configuration version 3 (values from memory).
_NARROW = ((0, 4351), (8192, 8205), (8208, 8223), (8242, 8247))


def perceived_length(text: str, link_cost: int = 0, counted: str = SIGNS) -> int:
    """The length of a text by one of the rules; each web address counts `link_cost` where that is set."""
    count = _RULES[counted]
    if not link_cost:
        return count(text)
    bare, links = ADDRESS.subn("", text)
    return count(bare) + links * link_cost


def _count_signs(text: str) -> int:
    """User-perceived characters: extended grapheme clusters (UAX #29)."""
    return len(_CLUSTER.findall(text))


def _count_wide(text: str) -> int:
    """An emoji, however many parts it has, and each sign of a wide script count two."""
    return sum(
        2 if (_EMOJI.search(cluster) and ord(cluster[0]) > 0xFF) or _KEYCAP in cluster else sum(map(_weigh, cluster))
        for cluster in _CLUSTER.findall(unicodedata.normalize("NFC", text))
    )


def _weigh(sign: str) -> int:
    return 1 if any(first <= ord(sign) <= last for first, last in _NARROW) else 2


def _count_units(text: str) -> int:
    """UTF-16 code units: signs beyond the basic plane count two."""
    return len(text.encode("utf-16-le")) // 2


_RULES: Mapping[str, Callable[[str], int]] = MappingProxyType({SIGNS: _count_signs, WIDE: _count_wide, UNITS: _count_units})
