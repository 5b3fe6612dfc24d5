"""When something is said in a film: found in its captions by the words that carry it."""

from __future__ import annotations

import re
from collections.abc import Sequence

from guidebuild.speech.cues import Cue

WIDEST = 3
"""So many captions in a row may share what is said."""
_SHORTEST = 4
_WORD = re.compile(r"[^\W_]+")


def find_when_said(cues: Sequence[Cue], words: str) -> float | None:
    """The second at which the first caption begins that says some words, alone or with the next two; None where none do.

    Articles and other short words do not count, but figures do, and neither does their order: “the spot on its
    shield is dark” says “dark spot on the shield”. Where all words are short, they must stand side by side.
    """
    wanted = {word for word in _split(words) if len(word) >= _SHORTEST or word.isdecimal()}
    said = [tuple(_split(cue.text)) for cue in cues]
    for width in range(1, WIDEST + 1):
        for number in range(len(said) - width + 1):
            here = [word for caption in said[number : number + width] for word in caption]
            if wanted <= set(here) if wanted else _stands_in(_split(words), here):
                return cues[number].start
    return None


def _split(text: str) -> list[str]:
    return [word.casefold() for word in _WORD.findall(text)]


def _stands_in(words: Sequence[str], said: Sequence[str]) -> bool:
    return bool(words) and any(list(said[at : at + len(words)]) == list(words) for at in range(len(said)))
