"""Which of many places a text may hold a map's code of: one look for all, so that the codes of each are tried only where one may stand."""

from __future__ import annotations

import re
from collections import defaultdict
from functools import lru_cache
from typing import NamedTuple

from ahocorasick_rs import BytesAhoCorasick

from guidebuild.fieldwork.codes_of_places import literal_hints, plus_hints
from guidebuild.guide.records import Position

Placed = tuple[tuple[Position, float], ...]
"""Positions, each with the step in degrees that may be shown of it."""
_NONE: frozenset[int] = frozenset()
_PLUS = re.compile(r"\+")


class _Index(NamedTuple):
    automaton: BytesAhoCorasick | None
    owners: tuple[frozenset[int], ...]
    middles: dict[str, frozenset[int]]
    tails: dict[str, frozenset[int]]


def find_pointed(text: str, placed: Placed) -> frozenset[int]:
    """The numbers of the places of which a readable text may hold a code."""
    index, small = _index_places(placed), text.lower()
    found: set[int] = set()
    if index.automaton:
        for pattern, _, _ in index.automaton.find_matches_as_indexes(small.encode("utf-8", "ignore"), overlapping=True):
            found |= index.owners[pattern]
    for plus in _PLUS.finditer(small):
        at = plus.start()
        found |= index.tails.get(small[max(0, at - 2) : at], frozenset()) | index.middles.get(
            small[max(0, at - 4) : max(0, at - 2)], frozenset()
        )
    return frozenset(found)


@lru_cache(maxsize=32)
def _index_places(placed: Placed) -> _Index:
    literals, middles, tails = (defaultdict[str, set[int]](set) for _ in range(3))
    for number, (position, step) in enumerate(placed):
        for literal in literal_hints(position, step):
            literals[literal].add(number)
        middle, tail = plus_hints(position)
        middles[middle].add(number)
        tails[tail].add(number)
    automaton = BytesAhoCorasick([literal.encode() for literal in literals]) if literals else None
    owners = tuple(map(frozenset, literals.values()))
    return _Index(automaton, owners, *({key: frozenset(held) for key, held in part.items()} for part in (middles, tails)))
