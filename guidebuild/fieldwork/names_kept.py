"""Which names of a place are looked for: those that give it away, and none that is said anyway or is a word of every day."""

from __future__ import annotations

import re
from functools import cache

from guidebuild import shipped
from guidebuild.fieldwork.name_finder import make_finder
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place
from guidebuild.guide.texts import find_texts

_SHORTEST_ID = 4
_WORD = re.compile(r"[^\W_]+")


def names_of(guide: Guide, place: Place, said: str, *, open_by_itself: bool = False) -> tuple[str, ...]:
    """The names to look for. What stands in `said` is no secret; neither is an id of ordinary words, for an id can be changed."""
    if place.public_name:
        return ()
    ident = place.id.replace("-", " ")
    shortest = 2 if open_by_itself else 1  # words: the id `meadow` of an open place is a word of every day
    if len(place.id) < _SHORTEST_ID or len(ident.split()) < shortest or _is_ordinary(guide, ident):
        ident = ""
    return tuple(name for name in (place.name, ident) if name and not is_everyday(name) and not holds_name(said, name))


def holds_name(text: str, name: str) -> bool:
    """Whether a name stands in a text, however it is written."""
    return any(make_finder(((0, name),)).find(text))


def is_everyday(name: str) -> bool:
    """Whether a name is nothing but one word of every day, such as `The Meadow`: to look for it would stop every guide."""
    words = [word for word in _WORD.findall(name.casefold()) if word != "the"]
    return len(words) == 1 and _is_known(words[0])


def _is_ordinary(guide: Guide, ident: str) -> bool:
    """Whether an id is made of words of every day, or of words that the guide's own texts use like that."""
    words = _WORD.findall(ident.casefold())
    return all(word.isdecimal() or _is_known(word) for word in words) or _is_used(guide, words)


def _is_used(guide: Guide, words: list[str]) -> bool:
    """Whether words stand in a sentence of the guide in small letters, side by side."""
    used = re.compile(rf"(?<![\w-]){'[ -]'.join(map(re.escape, words))}(?![\w-])")
    return any(" " in text.text and not isinstance(text.record, Place) and used.search(text.text) for text in find_texts(guide))


def _is_known(word: str) -> bool:
    return word in _everyday_words() or (word.endswith("s") and word[:-1] in _everyday_words())


@cache
def _everyday_words() -> frozenset[str]:
    lines = shipped.content().joinpath("everyday_words.txt").read_text("utf-8").splitlines()
    return frozenset(word for line in lines if not line.startswith("#") for word in line.split())
