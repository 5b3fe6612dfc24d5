"""The codes of many places that stand in a text: one look for all, so that the patterns of each are tried only where one may stand."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from functools import lru_cache
from typing import NamedTuple

from ahocorasick_rs import BytesAhoCorasick

from guidebuild.fieldwork.codes_of_places import LONGEST, literal_hints, other_patterns, plus_hints, plus_patterns
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


def find_codes(text: str, placed: Placed) -> Iterator[tuple[int, re.Match[str]]]:
    """The codes in a readable text, each with the number of the place that it points at: all that the patterns of each would find."""
    index = _index_places(placed)
    others, pluses = _find_others(index, text), _find_pluses(index, text)
    for number in sorted(others | pluses.keys()):
        for pattern in plus_patterns(*placed[number]):
            for at in pluses.get(number, ()):
                # The plus of `image/svg+xml` stands on every page: there nothing but its neighbours is looked at.
                yield from ((number, found) for found in pattern.finditer(text, max(0, at - LONGEST), at + LONGEST))
        for pattern in other_patterns(*placed[number]) if number in others else ():
            yield from ((number, found) for found in pattern.finditer(text))


def _find_others(index: _Index, text: str) -> set[int]:
    """The places of which a code without a plus sign may stand in a text."""
    found: set[int] = set()
    if index.automaton:
        for pattern, _, _ in index.automaton.find_matches_as_indexes(text.lower().encode("utf-8", "ignore"), overlapping=True):
            found |= index.owners[pattern]
    return found


def _find_pluses(index: _Index, text: str) -> dict[int, list[int]]:
    """By place: where the plus signs stand that may be those of its codes."""
    found: defaultdict[int, list[int]] = defaultdict(list)
    for plus in _PLUS.finditer(text):
        at = plus.start()
        tail, middle = (text[max(0, at - far) : max(0, at - far + 2)].lower() for far in (2, 4))
        for number in index.tails.get(tail, _NONE) | index.middles.get(middle, _NONE):
            found[number].append(at)
    return found


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
