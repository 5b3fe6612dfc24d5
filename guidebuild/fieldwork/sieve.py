"""A quick look at a text: whether it can give one of some places away at all. Most texts cannot, and are looked at no further."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.name_finder import NO_NAMES, NameFinder
from guidebuild.guide.records import Position

_DROPPED = re.compile("['’‘`´\u0300-\u036f]")
_NEVER = re.compile(r"(?!)")
# Every grid reference has letters right before its figures (six at least after small ones), or five figures and more in a row.
_SQUARE = re.compile(
    r"[A-Z][ \u00a0:/_-]{0,2}\d[ \u00a0\d/,-]|[a-z][ \u00a0:/_-]{0,2}\d{3}[ \u00a0/,-]?\d{3}|\d{5}|\d[ \u00a0\u202f'’.,]\d{3}"
)
_PLANE = re.compile(r"\d{5}|\d[ \u00a0\u202f'’.,]\d{3}")
_OTHER_FIGURE = re.compile(r"[^\D0-9]")  # of another script
_MARKED = re.compile(r"[*_`~\\\[\]<>()#|&!]|^\s*\d+[.)]", re.MULTILINE)
_MARKS, _BRACKETS = re.compile(r"[*_`~\\]+"), re.compile(r"[\[\]]")
# Without those marks, a link, a tag or a sign written as `&…;` that ends or begins inside a word still hides the word.
_IN_A_WORD = re.compile(r"[)\]>;]\w|\w[<&\[]")
_BETWEEN_WORDS = r"(?:[\W_]|\d+[.)]|\((?:[^()]|\([^()]*\))*\)|\[[^\[\]]*\]|<[^<>]*>|&\w+;){0,20}"


def fold_text(text: str) -> str:
    """Small letters without accents and apostrophes, so that a name is found however it is written."""
    small = text.casefold()
    return _DROPPED.sub("", small if small.isascii() else unicodedata.normalize("NFKD", small))


@dataclass(frozen=True, slots=True)
class Sieve:
    """Patterns of which one stands in every text that gives a place away; each lets more through than the exact ones do.

    `names` are looked for in any text, `marked_names` in folded Markdown; `codes` in small letters and whole degrees (one of each for a
    position) in readable text.
    """

    names: NameFinder = NO_NAMES
    marked_names: re.Pattern[str] = _NEVER
    codes: re.Pattern[str] = _NEVER
    latitudes: re.Pattern[str] = _NEVER
    longitudes: re.Pattern[str] = _NEVER

    def may_hold_code(self, plain: str) -> bool:
        """Whether a text may hold a code that maps make of one of the places."""
        return bool(self.codes.search(plain.lower()))

    def may_hold_spot(self, plain: str) -> bool:
        """Whether a text may hold a position near one of the places, in figures or as a grid reference."""
        if self.latitudes is _NEVER:
            return False
        if self.latitudes.search(plain) and self.longitudes.search(plain):
            return True
        return bool(_SQUARE.search(plain)) or (not plain.isascii() and bool(_OTHER_FIGURE.search(plain)))

    def may_hold_plane_figures(self, plain: str) -> bool:
        """Whether a text may hold eastings and northings without letters."""
        return bool(_PLANE.search(plain))

    def may_tell_unmarked(self, text: str) -> bool:
        """Whether a piece of Markdown may give a place away once its marks are taken off: `Weir *Pool*`, `W*ei*r Pool`."""
        if not _MARKED.search(text):
            return False
        bare = _MARKS.sub("", text)
        if self.names.search(bare) or self.marked_names.search(fold_text(bare)) or _IN_A_WORD.search(bare):
            return True
        return self.may_hold_code(bare) or self.may_hold_spot(_BRACKETS.sub("", bare))


def make_sieve(names: NameFinder, codes: Iterable[str], positions: Iterable[Position]) -> Sieve:
    """A sieve for places by what finds their names, by patterns of their codes, and by their positions."""
    held = tuple(positions)
    words = (re.findall(r"[^\W_]+", fold_text(name)) for _, name in names.names)
    return Sieve(
        names,
        _any_of(_BETWEEN_WORDS.join(held) for held in words if held),
        _any_of(codes),
        _any_of(_whole_degrees(p.latitude for p in held)),
        _any_of(_whole_degrees(p.longitude for p in held)),
    )


def _any_of(patterns: Iterable[str]) -> re.Pattern[str]:
    kept = sorted(set(patterns))
    return re.compile("|".join(kept)) if kept else _NEVER


def _whole_degrees(values: Iterable[float]) -> Iterator[str]:
    """The degrees before the point of all that may be told in place of a value.

    Rounding leads one degree further at most; 59.9′ 59″ are, by themselves, a degree more than they say.
    """
    for value in values:
        whole = int(abs(value))
        yield from (str(near) for near in range(max(0, whole - 2), whole + 2))
