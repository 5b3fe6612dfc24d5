"""Scientific names cut into syllables, for a speaker who has no say-it line: `Elasmucha grisea` is said `e-las-mu-cha gri-se-a`.

No stress and no respelling is guessed: it would be right for one school of saying Latin and wrong for the next.
"""

from __future__ import annotations

import re
import unicodedata
from itertools import pairwise

from guidebuild.speech.latin import mark_hiatus

# The vowels and diphthongs of `latin.count_latin_syllables`; the two are held together by a test.
_NUCLEUS = re.compile(r"ae|oe|au|eu(?!s$|m$)|[aeioë]|(?<!q)(?<!ng)u|(?<=ng)u(?![aeio])|(?<!^)y|y(?![aeiou])")
_JOINED = re.compile(r"(?:[bcdfgpt]|[cpt]h)[lr]$|[cprt]h$|qu$|(?<=n)gu$|[^aeiouy]$")
_WORD = re.compile(r"[^\W\d_]{3,}")


def write_latin_hint(name: str) -> str:
    """A name's words with their syllables apart; empty where it holds words that are not Latin letters alone."""
    words = name.split()
    if not words or not all(_WORD.fullmatch(word) and word.isascii() for word in words):
        return ""
    return " ".join("-".join(split_latin(word)) for word in words)


def split_latin(word: str) -> tuple[str, ...]:
    """The syllables of one word: one consonant opens a syllable, of several the last, or a stop with l or r after it."""
    letters = unicodedata.normalize("NFC", word.lower())
    nuclei = [match.span() for match in _NUCLEUS.finditer(mark_hiatus(letters))]
    cuts = [0]
    for (_, end), (start, _) in pairwise(nuclei):
        between = letters[end:start]
        opening = _JOINED.search(between)
        cuts.append(start - len(opening.group()) if opening else start)
    return tuple(letters[a:b] for a, b in zip(cuts, [*cuts[1:], len(letters)], strict=True))
