"""The ways in which one name is written with other letters: with or without its article, in the plural, `&` for `and`, `ue` for `ü`."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable, Iterator
from itertools import product

from guidebuild.fieldwork.letters import letters_of

Words = tuple[str, ...]
"""The words of a name."""

_WORD = re.compile(r"[^\s\-‐‑–—/\\,;:.()\[\]{}<>\"“”„«»#|·•+=*_~&!?]+|&")
_AND = ("and", "und", "et", "y", "e", "och", "og", "en", "i")
_TWO_LETTERS = str.maketrans({"ä": "ae", "ö": "oe", "ü": "ue", "å": "aa", "ø": "oe"})
_SHORT = {"st": "saint", "ste": "sainte", "mt": "mount", "saint": "st", "sainte": "ste", "mount": "mt"}
_MOST_WORDS = 5
"""A name of more words is looked for with all of them in the plural or none, not with each by itself."""


def write_ways(name: str) -> Iterator[Words]:
    """All ways to write a name, each once."""
    whole = _split(name)
    held: dict[Words, None] = {}
    for words in filter(None, (whole, _without_article(whole))):
        for spelt in (words, tuple(_as_ascii(word) for word in words)):
            for joined in _without_sign(spelt):
                held.update(dict.fromkeys(_plurals(joined)))
    yield from (words for words in held if any(map(letters_of, words)))


def _split(name: str) -> Words:
    words = (word for word in _WORD.findall(unicodedata.normalize("NFC", name).casefold()) if word == "&" or letters_of(word))
    return tuple(words)


def _without_article(words: Words) -> Words:
    """`The Long Hedge` begins a sentence as often as not; `The Wood` keeps its article."""
    return words[1:] if len(words) > 2 and words[0] == "the" else ()


def _as_ascii(word: str) -> str:
    """`Müllers` as it is written where there is no `ü`."""
    return word.translate(_TWO_LETTERS)


def _without_sign(words: Words) -> Iterator[Words]:
    """A name with `&` or a word for it, in each of the ways; `St` and `Saint`."""
    choices: list[Iterable[str]] = []
    for word in words:
        if word in ("&", "and"):
            choices.append(("", *_AND))
        else:
            choices.append((word, _SHORT[word]) if word in _SHORT else (word,))
    yield from (tuple(filter(None, chosen)) for chosen in product(*choices))


def _plurals(words: Words) -> Iterator[Words]:
    """A name with each of its words in the plural or with an owner's `s`, and with the `s` that its author wrote left out."""
    forms = [tuple(dict.fromkeys((word, _single(word), f"{word}s"))) for word in words[:-1]]
    last = tuple(dict.fromkeys((words[-1], _single(words[-1]), _in_plural(words[-1])))) if words else ()
    if len(words) <= _MOST_WORDS:
        yield from product(*forms, last)
    else:
        yield from ((*words[:-1], end) for end in last)


def _single(word: str) -> str:
    return re.sub(r"['’‘`´ʼ]s$", "", word)


def _in_plural(word: str) -> str:
    """The plural, where it is more than an `s` behind the word: such are found anyway."""
    return f"{word[:-1]}ies" if len(word) > 3 and word.endswith("y") else word
