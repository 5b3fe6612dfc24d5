"""No fact twice in a post: differences by one character are told together, and what stands in one sentence is not said in another."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import regex

_HEAD_ENDS = "; "
_WORD = regex.compile(r"\p{L}{4,}")
_FIGURE = regex.compile(r"\d+(?:[.,]\d+)?")
_STEM = 4
"""Letters by which two forms of a word are taken for one: `banded`, `bands`."""
_LEAST_WORDS = 3
"""A sentence with fewer words to compare is never taken for a repeat."""


def join_differences(sentences: Iterable[str]) -> tuple[tuple[str, ...], ...]:
    """The sentences that say the same of the account itself as one, the look-alikes in a row; with it, the shorter ones that may stand.

    “In A, a thorn; in B, none.” and “In A, a thorn; in C, a hook.” are “In A, a thorn; in B, none; in C, a hook.”
    """
    tails: dict[str, list[str]] = {}
    for sentence in sentences:
        head, _, tail = sentence.partition(_HEAD_ENDS)
        tails.setdefault(head, []).append(tail)
    return tuple(tuple(_join_row(head, of[:number]) for number in range(len(of), 0, -1)) for head, of in tails.items())


def _join_row(head: str, tails: Sequence[str]) -> str:
    *first, last = tails
    return _HEAD_ENDS.join((head, *(tail.rstrip(".") for tail in first), last)) if last else head


def says_fact(text: str, fact: str) -> bool:
    """Whether a text gives a fact: in the same words, or with the same figures in a row (`6–9 mm`, `6 to 9 mm`)."""
    figures = _FIGURE.findall(fact)
    said = [regex.escape(fact)]
    if len(figures) > 1 and (unit := fact.rsplit(figures[-1], 1)[1].strip()):
        said.append(r"\D{1,6}".join(map(regex.escape, figures)) + rf"\s?{regex.escape(unit)}")
    return regex.search(rf"(?<![\w.,])(?:{'|'.join(said)})(?!\w)", text, regex.IGNORECASE) is not None


def repeats(sentence: str, told: str) -> bool:
    """Whether every word of a sentence that carries a meaning has been said in what stands before it."""
    meant = _stems(sentence)
    return len(meant) >= _LEAST_WORDS and meant <= _stems(told)


def _stems(text: str) -> set[str]:
    return {word[:_STEM] for word in _WORD.findall(text.casefold())}
