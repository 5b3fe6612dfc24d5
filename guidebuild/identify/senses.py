"""By which sense a field mark or a character is met: one looks at an edge, listens for a call and smells a leaf."""

from __future__ import annotations

import re
from enum import Enum


class Sense(Enum):
    """A sense, with how a sentence asks for a thing and how it points at one."""

    SIGHT = ("look for", "look at")
    HEARING = ("listen for", "listen to")
    SMELL = ("smell it:", "smell")

    @property
    def seek(self) -> str:
        """As in “Look for a dark spot”."""
        return self.value[0]

    @property
    def heed(self) -> str:
        """As in “Look at the scutellum”."""
        return self.value[1]


_SOUNDS = re.compile(
    r"\b(?:calls?|songs?|voice|sounds?|notes?|whistl\w*|trills?|rattl(?:e|ing)|croaks?|growls?|bonks?|chirps?|chirrs?|crick(?:-\w+)*|"
    r"buzz(?:ing)?|hum|hiss|clicks?|peeps?|hoots?|drumming|screams?|stridulation|bleats?|quacks?)\b",
    re.IGNORECASE,
)
_SMELLS = re.compile(r"\b(?:smells?|scents?|odou?rs?|fragrance|stench|aroma)\b", re.IGNORECASE)
# `row of rising whistles`: it is what there is a row of that one meets.
_MANY_OF = re.compile(r"^.*?\b(?:row|series|burst|string|run|set|number|pair|hint|touch|whiff|trace)s? of\b", re.IGNORECASE)
_PART_OF = re.compile(r"\b(?:of|on|in|at|with|like|from|when)\b")


def sense_of(words: str) -> Sense:
    """The sense by which one meets what the words name; it is the noun before the first "of" or "with" that counts."""
    head = _PART_OF.split(_MANY_OF.sub("", words))[0]
    if _SMELLS.search(head):
        return Sense.SMELL
    return Sense.HEARING if _SOUNDS.search(head) else Sense.SIGHT
