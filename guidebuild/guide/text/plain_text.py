"""Markdown as plain words, for scripts, posts and reading ease; scientific names keep their stars where asked."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass

_FENCE = re.compile(r"^(```|~~~).*?^\1[^\n]*$", re.MULTILINE | re.DOTALL)
_PICTURE = re.compile(r"!\[[^\]]*\]\([^)]*\)")
_LINK = re.compile(r"\[([^\]]*)\]\((?:<[^>]*>|[^)\s]*)(?:\s+\"[^\"]*\")?\)")
_NOTE = re.compile(r"^\[\^[^\]]+\]:.*$", re.MULTILINE)
_NOTE_MARK = re.compile(r"\[\^[^\]]+\]")
_HTML = re.compile(r"</?[a-zA-Z][^<>]*>|<!--.*?-->", re.DOTALL)
_HEADING = re.compile(r"^ {0,3}#{1,6}\s+(.*?)\s*#*$", re.MULTILINE)
_LEAD = re.compile(r"^\s{0,7}(?:[-*+]|\d{1,3}[.)])\s+", re.MULTILINE)
_QUOTE = re.compile(r"^ {0,3}>\s?", re.MULTILINE)
_TABLE = re.compile(r"^\|.*\|\s*$", re.MULTILINE)
_STRONG = re.compile(r"(\*\*|__)(?=\S)(.+?)(?<=\S)\1")
_EMPHASIS = re.compile(r"(?<![\w*])([*_])(?=\S)([^*_\n]+?)(?<=\S)\1(?![\w*])")
_ESCAPE = re.compile(r"\\([\\`*_{}\[\]()#+\-.!|<>~])")
# A stop, what closes after it, and the next sign but for what opens before it.
_STOP = re.compile(r"[.!?…]+[\"'”’»)\]*_]*\s+(?=[\"'“‘«(\[*_¿¡]*(\S))")
_OPENS = "\"'“‘«([*_"
_LONGEST = 10  # signs of a short form, with what opens before it
_INITIAL = re.compile(r"[A-Z]\.")
# Before one of these a capital with a stop is a letter (“in a Y.”), after one of those it ended a sentence: neither is part of a name.
_BEFORE_A_LETTER = frozenset(("a", "an", "letter", "letters", "capital", "vitamin"))
_STARTS = frozenset(
    ("The", "It", "Its", "They", "Their", "This", "That", "These", "Those", "On", "At", "When", "If", "But", "And", "Both", "There", "Look")
)
_PRIVATE = 0xE000  # escaped signs wait here while marks are taken off


def plain(markdown: str, *, keep_stars: bool = False) -> str:
    """The words of a piece of Markdown, paragraphs apart by an empty line; links become their words, pictures go.

    With `keep_stars`, *emphasis* keeps its stars, so that a scientific name can still be told from the words round it.
    """
    text = _FENCE.sub("", markdown)
    for pattern in (_PICTURE, _NOTE, _NOTE_MARK, _TABLE):
        text = pattern.sub("", text)
    text = _LINK.sub(r"\1", text)
    text = _HTML.sub("", text)
    text = _ESCAPE.sub(lambda m: chr(_PRIVATE + ord(m.group(1))), text)
    # A heading and each item of a list stand alone, so that they do not run into the next sentence.
    text = _LEAD.sub("\n", _QUOTE.sub("", _HEADING.sub(r"\n\1\n", text)))
    text = _STRONG.sub(r"\2", text)
    if not keep_stars:
        text = _EMPHASIS.sub(r"\2", text)
    text = "".join(chr(ord(c) - _PRIVATE) if _PRIVATE <= ord(c) < _PRIVATE + 128 else c for c in text)
    paragraphs = (" ".join(p.split()) for p in re.split(r"\n\s*\n", text))
    return "\n\n".join(p for p in paragraphs if p)


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


def sentences(text: str) -> tuple[str, ...]:
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
