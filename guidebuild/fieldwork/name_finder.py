"""Names of places, found in a text however they are written: one look for all names, linear in the text.

A text is bared to its letters, and one automaton looks for the letters of all names at once. What it finds is looked at in the text itself:
the name must begin and end where words do, and its words must hold together.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from functools import cache, lru_cache
from itertools import pairwise

from ahocorasick_rs import BytesAhoCorasick

from guidebuild.fieldwork.letters import has_borders, letters_of, placed_letters
from guidebuild.fieldwork.spots import make_readable
from guidebuild.fieldwork.ways_to_write import write_ways

Names = tuple[tuple[int, str], ...]
"""Names with the number of what they are names of."""
Found = tuple[int, int, int]
"""A name found: the number of its holder, and where it starts and ends in the text."""

_TAG = re.compile(r"<[^<>]*>")
_NO_LETTER = "\0"
_PLURAL = re.compile(r"['’‘`´ʼ]?(?:e?s)(?![^\W_])", re.IGNORECASE)
_SPLIT_WORD = re.compile(r"\S*|\S*[-‐‑=\u00ad\u0002\ufffe]\s*|\r?\n[ \t]")
"""What may stand between two letters of one word: signs, unseen characters, a line's end behind a hyphen, a folded line of a calendar."""
_ESCAPE = re.compile(r"\\(?:x([0-9a-fA-F]{2})|u\{0{0,4}([0-9a-fA-F]{1,5})\}|[nrtfvb])")
_FIGURES = re.compile(r"\d+")
_HEX = frozenset("0123456789abcdef")
_LAST_ASCII = 0x7F


class NameFinder:
    """Looks for many names at once. Each name has a holder, known by its number."""

    def __init__(self, names: Names) -> None:
        """Take names in, each with the number of its holder."""
        self.names = names
        self._held: dict[bytes, set[tuple[int, tuple[int, ...]]]] = {}
        for holder, name in names:
            for words in write_ways(name):
                letters = [letters_of(word) for word in words]
                self._held.setdefault(b"".join(letters), set()).add((holder, tuple(map(len, letters))))
        self._patterns = tuple(self._held)
        self._needed = frozenset(map(frozenset, self._patterns))
        self._automaton = BytesAhoCorasick(self._patterns) if self._patterns else None

    def __reduce__(self) -> tuple[Callable[[Names], NameFinder], tuple[Names]]:
        """Travel to other processes as the names alone."""
        return make_finder, (self.names,)

    def search(self, text: str) -> bool:
        """Whether the letters of a name stand in a text, as they are or with its tags left out."""
        return any(self._holds(letters_of(reading)) for reading in _readings(text))

    def may_be_in_pairs(self, text: str) -> bool:
        """Whether a name may stand in ASCII bytes that were read two by two: ten times quicker to tell than by looking for it.

        Few such signs have Latin letters or figures in them (`⁰`, `㍱`); where those make up no name, only names of other scripts can be.
        """
        present = frozenset(letters_of("".join(_latin_pairs().findall(text))))
        return any(needed <= present or max(needed) > _LAST_ASCII for needed in self._needed)

    def _holds(self, letters: bytes) -> bool:
        return bool(self._automaton and self._automaton.find_matches_as_indexes(letters))

    def find(self, text: str) -> Iterator[Found]:
        """Every name in a text, by where it stands."""
        if self._automaton is None:
            return
        found: set[Found] = set()
        for reading in _readings(text):
            if self._holds(letters_of(reading)):
                found.update(self._found_in(_with_tags_blank(text) if reading is not text else text))
        yield from sorted(found, key=lambda one: (one[1], one[0], -one[2]))

    def _found_in(self, text: str) -> Iterator[Found]:
        letters, places = placed_letters(text)
        assert self._automaton is not None  # noqa: S101 - asked for by `find` alone
        for pattern, start, end in self._automaton.find_matches_as_indexes(letters, overlapping=True):
            for holder, lengths in self._held[self._patterns[pattern]]:
                if _is_name(text, places, start, end, lengths):
                    yield holder, places[start], places[end - 1] + 1


@cache
def _latin_pairs() -> re.Pattern[str]:
    """The characters of two ASCII bytes that have Latin letters or figures in them."""
    signs = (chr(code) for code in range((_LAST_ASCII + 1) << 8) if code & 0x80 == 0)
    return re.compile("[" + re.escape("".join(sign for sign in signs if any(letter <= _LAST_ASCII for letter in letters_of(sign)))) + "]")


@lru_cache(maxsize=64)
def make_finder(names: Names) -> NameFinder:
    """A finder of these names; the same for the same names."""
    return NameFinder(names)


def read_deeply(plain: str) -> Iterator[str]:
    """A readable text with what was escaped twice read as well; and, where it may be a program's text, with its escapes undone."""
    deeper = make_readable(plain) if "&" in plain or "%" in plain else plain
    yield deeper
    if "\\" in deeper:
        yield _ESCAPE.sub(lambda found: chr(int(code, 16)) if (code := found[1] or found[2]) else " ", deeper)


def _readings(text: str) -> Iterator[str]:
    """The text as it stands, for names inside tags, and without tags, for names that tags stand in."""
    yield text
    if "<" in text:
        first, *others = text.split("<")
        yield first + "".join(rest if mark else f"<{inside}" for inside, mark, rest in (piece.partition(">") for piece in others))


def _with_tags_blank(text: str) -> str:
    """The text with tags that take as much room and say nothing."""
    return _TAG.sub(lambda tag: _NO_LETTER * len(tag[0]), text)


def _is_name(text: str, places: list[int], start: int, end: int, lengths: tuple[int, ...]) -> bool:
    """Whether letters found are a name: it starts and ends like words do, and no word of it is two words of the text."""
    cut_first = start > 0 and places[start - 1] == places[start]  # in the midst of an `ß`
    cut_last = end < len(places) and places[end] == places[end - 1]
    if cut_first or cut_last or not _starts_word(text, places[start]) or not _ends_word(text, places[end - 1]):
        return False
    if set(text[places[start] : places[end - 1] + 1].casefold()) <= _HEX and not _stands_alone(text, places[start], places[end - 1]):
        return False
    return _holds_together(text, places[start:end], lengths)


def _holds_together(text: str, places: list[int], lengths: tuple[int, ...]) -> bool:
    """Whether each word of a name is one word of the text; or all its letters are s p a c e d alike."""
    pairs: list[tuple[int, int]] = []
    first = 0
    for length in lengths:
        word = places[first : first + length]
        pairs += [(one, other) for one, other in pairwise(word) if other > one]
        first += length
    gaps = [text[one + 1 : other].replace(_NO_LETTER, "") for one, other in pairs]
    if len(gaps) > 2 and len(set(gaps)) == 1 and len(gaps[0]) < 3:
        return True
    return all(
        _SPLIT_WORD.fullmatch(gap) or not (has_borders(text[one]) and has_borders(text[other]))
        for gap, (one, other) in zip(gaps, pairs, strict=True)
    )


def _starts_word(text: str, place: int) -> bool:
    """Whether a word may start here: behind a sign, behind a figure that is a word, at a capital, or in a script without word borders."""
    before, here = text[place - 1 : place], text[place]
    if not letters_of(before) or not (has_borders(before) and has_borders(here)):
        return True
    if before.isdecimal() and not here.isdecimal():
        bare = text[:place].rstrip("0123456789")
        return not letters_of(bare[-1:])
    return before.islower() and here.isupper()


def _ends_word(text: str, place: int) -> bool:
    here, after = text[place], text[place + 1 : place + 2]
    if not letters_of(after) or not (has_borders(after) and has_borders(here)):
        return True
    if _PLURAL.match(text, place + 1):
        return True
    if not here.isdecimal() and (figures := _FIGURES.match(text, place + 1)):
        return not letters_of(text[figures.end() : figures.end() + 1])
    return here.islower() and after.isupper()


def _stands_alone(text: str, first: int, last: int) -> bool:
    """Whether no figure touches it: `1cafe2` is a number to the base of sixteen."""
    return not (text[first - 1 : first].isdecimal() or text[last + 1 : last + 2].isdecimal())


NO_NAMES = make_finder(())
"""What looks for nothing."""
