"""Where the sentences of a plain text end; abbreviations and initials do not end one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

# A stop, what closes after it, and the next sign but for what opens before it.
_STOP = re.compile(r"(?<![.!?…])[.!?…]+[\"'”’»)\]*_]*\s+(?=[\"'“‘«(\[*_¿¡]*(\S))")
_OPENS = "\"'“‘«([*_"
_LONGEST = 10  # signs of a short form, with what opens before it
_INITIAL = re.compile(r"[A-Z]\.")
# Before one of these a capital with a stop is a letter (“in a Y.”), after one of those it ended a sentence: neither is part of a name.
_BEFORE_A_LETTER = frozenset(("a", "an", "letter", "letters", "capital", "vitamin"))
_STARTS = frozenset(
    ("The", "It", "Its", "They", "Their", "This", "That", "These", "Those", "On", "At", "When", "If", "But", "And", "Both", "There", "Look")
)


@dataclass(frozen=True, slots=True)
class ShortForms:
    """Short forms with the stops that they are written with (`c.`, `e.g.`); none of these ends a sentence.

    Those in `before_figure` are short forms only where a figure follows (`the answer is no.` is not), those in `closing` end a
    sentence where a capital follows.
    """

    known: Collection[str]
    before_figure: Collection[str] = ()
    closing: Collection[str] = ()


_LATIN_AND_COMMON = "cf. aff. e.g. i.e. subsp. ssp. var. agg. st. dr. mr. mrs. prof. vs. viz. nr. gen. fam. s.l. s.s. sens. incl. excl."
_FIGURES = frozenset(("c.", "ca.", "no.", "nos.", "fig.", "figs.", "p.", "pp.", "max.", "min.", "approx."))
_CLOSING = frozenset(("etc.", "sp.", "spp.", "a.m.", "p.m."))
ENGLISH = ShortForms(_FIGURES | _CLOSING | set(_LATIN_AND_COMMON.split()), _FIGURES, _CLOSING)
"""The short forms of English that naturalists write (common practice, no source)."""


def split_sentences(text: str) -> tuple[str, ...]:
    """The sentences of a plain text; abbreviations and initials do not end one."""
    found = [paragraph[start:end].strip() for paragraph in text.split("\n\n") for start, end in sentence_spans(paragraph)]
    return tuple(sentence for sentence in found if sentence)


def sentence_spans(paragraph: str, short: ShortForms = ENGLISH) -> Iterator[tuple[int, int]]:
    """Where each sentence of a paragraph starts and ends, with the space after it.

    A sentence begins with a capital, a figure or a sign, never with a small letter.
    """
    start = 0
    for stop in _STOP.finditer(paragraph):
        if stop[1].islower():
            continue
        at = stop.start()
        # A plain stop: one sign, nothing that closes, and space.
        if paragraph[at] == "." and paragraph[at + 1].isspace() and _goes_on(paragraph, start, stop, short):
            continue
        yield start, stop.end()
        start = stop.end()
    if start < len(paragraph):
        yield start, len(paragraph)


def _goes_on(paragraph: str, start: int, stop: re.Match[str], short: ShortForms) -> bool:
    """Whether the word before a plain stop is a short form or an initial, so that the sentence goes on."""
    at, following = stop.start(), stop[1]
    space = max(paragraph.rfind(" ", start, at), start - 1)
    if at - space > _LONGEST:
        return False
    word = paragraph[space + 1 : at + 1].lstrip(_OPENS)
    small = word.lower()
    if small in short.known:
        if small in short.before_figure:
            return not following.isalpha()
        return small not in short.closing or not following.isupper()
    if len(word) == 2 and _INITIAL.match(word):
        before = paragraph[start : max(space, start)].rpartition(" ")[2].lower()
        return before not in _BEFORE_A_LETTER and _next_word(paragraph, stop.end()) not in _STARTS
    return False


def _next_word(paragraph: str, at: int) -> str:
    return paragraph[at : at + 20].split(maxsplit=1)[0].strip(_OPENS + ",")
