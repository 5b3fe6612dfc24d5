"""The words of a caption cut into chunks that stay together: a scientific name, a number with its unit, a date, a short form."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import accumulate, zip_longest

from guidebuild.speech.cues import count_characters
from guidebuild.speech.language import Language
from guidebuild.speech.sayings import find_sayings
from guidebuild.speech.script import Spoken, join_text, merge_words
from guidebuild.speech.signs import CLOSING, OPENING, ends_sentence, is_initial

_SIGN_AND_NEXT = re.compile(r"[♂♀⚥×~≈±<>≤≥]+\s+\S+")
_SHORT_AND_NEXT = re.compile(r"\S+\s+\S+")


@dataclass(frozen=True, slots=True)
class Chunk:
    """Words that no line break or cue break may cut, with the cost of breaking after them: 0 best, 10 not if it can be helped."""

    words: tuple[Spoken, ...]
    cost: float

    @property
    def text(self) -> str:
        """The words as plain text."""
        return join_text(self.words)


def find_chunks(words: Sequence[Spoken], table: Language, *, phrases: Iterable[str] = (), widest: int = 1_000) -> list[Chunk]:
    """The chunks of one stretch of words. `phrases` are further names that stay whole (`Parent Bug`) where they fit a line."""
    text = join_text(words)
    kept = _join_spans((*_name_spans(words), *_whole_spans(text, table, phrases)))
    pieces: list[tuple[int, int]] = []
    end_of_last = -1
    spans = iter(kept)
    span = next(spans, None)
    for match in re.finditer(r"\S+", text):
        while span and span[1] <= match.start():
            span = next(spans, None)
        # A piece belongs to the one before where one span covers the space between them.
        if pieces and span and span[0] < match.start() and span[0] < end_of_last and match.end() - pieces[-1][0] <= widest:
            pieces[-1] = pieces[-1][0], match.end()
        else:
            pieces.append(match.span())
        end_of_last = match.end()
    cut = [_cut_words(words, start, end) for start, end in pieces]
    return [Chunk(piece, _cost(piece, following, table)) for piece, following in zip_longest(cut, cut[1:], fillvalue=())]


def _name_spans(words: Iterable[Spoken]) -> Iterator[tuple[int, int]]:
    """Where scientific names stand in the text of some words."""
    at = 0
    for one in words:
        if one.is_name:
            yield at, at + len(one.text)
        at += len(one.text)


def _cut_words(words: Iterable[Spoken], start: int, end: int) -> tuple[Spoken, ...]:
    """The words between two places of their text, with single spaces."""
    cut: list[Spoken] = []
    at = 0
    for one in words:
        inside = one.text[max(0, start - at) : max(0, end - at)]
        if inside:
            cut.append(replace(one, text=re.sub(r"\s+", " ", inside)))
        at += len(one.text)
    return tuple(cut)


def _whole_spans(text: str, table: Language, phrases: Iterable[str]) -> Iterator[tuple[int, int]]:
    yield from (match.span() for match in _SIGN_AND_NEXT.finditer(text))
    for kind, (start, end) in find_sayings(text, table):
        yield start, end
        if kind in ("short", "before") and (both := _SHORT_AND_NEXT.match(text, start)):
            yield both.span()
    for phrase in phrases:
        at = text.find(phrase) if " " in phrase else -1
        while at >= 0:
            yield at, at + len(phrase)
            at = text.find(phrase, at + 1)


def _join_spans(spans: Iterable[tuple[int, int]]) -> list[tuple[int, int]]:
    """Spans in order, those that overlap as one."""
    joined: list[tuple[int, int]] = []
    for start, end in sorted(spans):
        if joined and start < joined[-1][1]:
            joined[-1] = (joined[-1][0], max(end, joined[-1][1]))
        else:
            joined.append((start, end))
    return joined


def _cost(words: Sequence[Spoken], then: Sequence[Spoken], table: Language) -> float:
    piece, following = join_text(words), join_text(then)
    bare = piece.rstrip(CLOSING)
    word = bare.lower().strip(OPENING)
    if not following or ends_sentence(piece, table.abbreviations):
        return 0.0
    if bare.endswith((";", ":", "–", "—")) or following[0] in "–—":
        return 1.0
    if bare.endswith(",") or piece.endswith(")") or following.startswith("("):
        return 1.5
    # Two words with capitals are likely one name: `Larkfold Hedge`.
    named = bare[:1].isupper() and following[:1].isupper() and not (words[0].is_name or then[0].is_name)
    if named or word in table.leading or word in table.opening or bare.isdigit() or is_initial(piece):
        return 9.0
    return 2.5 if following.lower().strip(OPENING) in table.opening else 5.0


class Measured:
    """Chunks in a row with their widths added up, so that the width of any stretch is one subtraction."""

    def __init__(self, whole: Sequence[Chunk]) -> None:
        self._chunks = [chunk.words for chunk in whole]
        self.costs = [chunk.cost for chunk in whole]
        texts = [chunk.text for chunk in whole]
        self._upto = list(accumulate((count_characters(text) for text in texts), initial=0))
        self._words = list(accumulate((text.count(" ") + 1 for text in texts), initial=0))

    def width(self, since: int, end: int) -> int:
        """Characters of the chunks from `since` to before `end`, spaces between them included."""
        return self._upto[end] - self._upto[since] + end - since - 1

    def words(self, since: int, end: int) -> int:
        """Written words of a stretch."""
        return self._words[end] - self._words[since]

    def row(self, since: int, end: int) -> tuple[Spoken, ...]:
        """A stretch as one row."""
        spaced = ((*words, Spoken(" ")) for words in self._chunks[since : end - 1])
        return merge_words((*(one for words in spaced for one in words), *self._chunks[end - 1]))

    def rows(self, since: int, end: int, *, width: int, most: int) -> tuple[float, tuple[int, ...]] | None:
        """The best way to set a stretch in at most `most` lines: its cost and where lines end; None where it does not fit."""
        whole = self.width(since, end)
        if whole <= width:
            return 0.0, (end,)
        if whole >= (width + 1) * most:
            return None
        best: tuple[float, tuple[int, ...]] | None = None
        for cut in range(since + 1, end):
            upper = self.width(since, cut)
            if upper > width:
                break
            lower = self.rows(cut, end, width=width, most=most - 1)
            if lower is None:
                continue
            uneven = abs(upper - self.width(cut, end) / len(lower[1])) / width
            cost = self.costs[cut - 1] / 2 + lower[0] + 2 * uneven
            if best is None or cost < best[0]:
                best = cost, (cut, *lower[1])
        return best
