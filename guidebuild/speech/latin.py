"""Syllables of scientific names, by the rules of Latin.

Every vowel or diphthong is a syllable; a final e is spoken; i before a vowel is a vowel of its own (Pen-ta-to-mi-dae,
ju-ni-pe-ri-na); u after q, or between g and a vowel after n, is not (quer-cus, san-gui-nea). The rules are those of school
grammars of Latin, from memory; Greek names in Latin spelling follow them (y is a vowel, eu a diphthong).
"""

from __future__ import annotations

import re
import unicodedata
from functools import lru_cache

_SILENT_U = re.compile(r"(?<=q)u|(?<=ng)u(?=[aeio])")
# In the names of animals and plants -eus, -eum are two syllables (lu-te-us) and so is oe, ae with a diaeresis.
_NUCLEUS = re.compile(r"ae|oe|au|eu(?!s\b|m\b)|[aeiouy]")
_CONSONANT_Y = re.compile(r"\by(?=[aeiou])")
# ae and oe that are no diphthong, as they stand for two Greek vowels: at a word's end oe always is (Aloe, Chloe: Latin has no such
# ending), elsewhere it is these words. Others of the kind need a diaeresis, which botany allows for just that (ICN, Article 60.7).
_HIATUS = re.compile(
    r"(?<=o)e(?=s?$)|(?<=^a)e(?=des$|ri[adu]|ro)|(?<=^pha)e(?=th?on)|(?<=^dana)e|(?<=^hippopha)e|(?<=^pasipha)e"
    r"|(?<=^iso)e(?=t)|(?<=^po)e(?=t[ai])|(?<=^zo)e|(?<=^alo)e"
)
_DIAERESIS = "\N{COMBINING DIAERESIS}"


def mark_hiatus(word: str) -> str:
    """The word in small letters, with a diaeresis on each e of ae and oe that is a syllable of its own; as long as it was."""
    return _HIATUS.sub("ë", unicodedata.normalize("NFC", word.lower()))


@lru_cache(maxsize=4096)
def count_latin_syllables(word: str) -> int:
    """Syllables of one word of a scientific name; an initial (`E.`) counts one, as the letter's name."""
    parts = unicodedata.normalize("NFD", mark_hiatus(word))
    # A diaeresis says that the vowel stands alone: a mark before it keeps the two apart.
    apart = re.sub(rf"([aeiouy]){_DIAERESIS}", r"-\1", parts)
    bare = "".join(sign for sign in apart if not unicodedata.combining(sign))
    letters = _CONSONANT_Y.sub("", _SILENT_U.sub("", bare))
    return max(1, len(_NUCLEUS.findall(letters)))
