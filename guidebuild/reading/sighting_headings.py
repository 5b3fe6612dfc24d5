"""Headings over the columns of a table of sightings → Darwin Core terms, by the words that people write (`columns:` in sightings.yaml)."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Collection, Sequence
from dataclasses import dataclass

from guidebuild.guide.sighting_words import SightingWords
from guidebuild.guide.text.denied import is_nothing

UNKNOWN = ""


@dataclass(frozen=True, slots=True)
class Headings:
    """The term of each column in small letters ("" for none), headings that may mean several terms, and those that mean none."""

    terms: tuple[str, ...]
    unclear: tuple[tuple[str, tuple[str, ...]], ...] = ()
    unknown: tuple[str, ...] = ()


def fold_heading(cell: str) -> str:
    """A heading as it is compared."""
    return " ".join(re.sub(r"[_\-.:()/]+", " ", cell.strip("\ufeff ").rsplit("/", 1)[-1].removeprefix("dwc:")).casefold().split())


def plain_term(cell: str) -> str:
    """`dwc:eventDate` and the term's full address are the term itself."""
    return cell.strip().strip("\ufeff").rsplit("/", 1)[-1].rsplit(":", 1)[-1].strip().lower()


def read_headings(header: Sequence[str], known: Collection[str], words: SightingWords) -> Headings:
    """What the columns are. `known` are the terms, in small letters; one that stands there as such is never doubled by a plain word."""
    said = [_find_meaning(cell, known, words) for cell in header]
    as_term = [meaning == (plain_term(cell),) for cell, meaning in zip(header, said, strict=True)]
    standing = {meaning[0] for meaning, is_term in zip(said, as_term, strict=True) if is_term}
    own = {meaning[0] for cell, meaning in zip(header, said, strict=True) if len(meaning) == 1 and fold_heading(cell) in words.own_columns}
    # What the guide says of a heading of its own comes before what such a heading means elsewhere.
    said = [() if len(m) == 1 and m[0] in own and fold_heading(cell) not in words.own_columns and not is_term else m
            for cell, m, is_term in zip(header, said, as_term, strict=True)]  # fmt: skip
    wanted = Counter(meaning[0] for meaning, is_term in zip(said, as_term, strict=True) if len(meaning) == 1 and not is_term)
    terms: list[str] = []
    unclear: list[tuple[str, tuple[str, ...]]] = []
    unknown: list[str] = []
    for cell, meaning, is_term in zip(header, said, as_term, strict=True):
        left = meaning if is_term else tuple(term for term in meaning if term not in standing)
        is_sure = len(left) == len(meaning) == 1 and (is_term or wanted[left[0]] < 2)
        if left == (UNKNOWN,) and cell.strip():
            unknown.append(cell.strip())
        elif left and left != (UNKNOWN,) and not is_sure:
            unclear.append((cell.strip(), left))
        terms.append(left[0] if is_sure else "")
    return Headings(tuple(terms), tuple(unclear), tuple(unknown))


def _find_meaning(cell: str, known: Collection[str], words: SightingWords) -> tuple[str, ...]:
    """The term, or the terms, of a heading; `(UNKNOWN,)` where it is not known, and `()` where it is said to mean nothing."""
    folded = fold_heading(cell)
    if meant := words.columns.get(folded):
        return () if is_nothing(meant[0]) else tuple(term.lower() for term in meant)
    plain, squeezed = plain_term(cell), folded.replace(" ", "")
    return (plain if plain in known else squeezed if squeezed in known else UNKNOWN,)
