"""How easily a text reads: Flesch Reading Ease and the Flesch–Kincaid grade, with the sentences that make it hard.

Flesch 1948 (Journal of Applied Psychology 32:221–233) counts contractions, hyphenated words, figures and abbreviations as one
word, figures and abbreviations as one syllable, the fewer syllables where a word has two counts, and no headings. Kincaid et al.
1975 (NTTC Research Branch Report 8-75) give the grade. Both are made for English.
"""

from __future__ import annotations

import re
from bisect import bisect_right
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import lru_cache
from itertools import accumulate

from guidebuild.guide.findings import At, Finding, Level
from guidebuild.speech.language import DEFAULT, Language, language
from guidebuild.speech.latin import latin_syllables
from guidebuild.speech.loads import latin_words
from guidebuild.speech.marks import without_marks
from guidebuild.speech.spoken import name_spans
from guidebuild.speech.syllables import syllables

_SKIPPED = re.compile(r"^\s*(?:#|\||<!--|!\[)")
_ITEM = re.compile(r"^\s*(?:[-*+>]|\d+[.)])\s+")
_STOP = re.compile(r"[.!?…]+[\"'”’)\]]*(?=\s|$)")
_INITIAL = re.compile(r"[A-Z]\.")
_WORD = re.compile(r"[^\W_]")
_BETWEEN_WORDS = re.compile(r"[–—/]")
_NEXT = re.compile(r"\s*(\S?)")
_EDGES = ".,;:!?…()[]{}\"'“”‘’«»*_–—"
# Scores below this are read with ease by few but students (the band "difficult" of Flesch's table starts at 50).
HARD_EASE = 50.0
# A sentence this long, or with an ease this low, is named.
HARD_SENTENCE_WORDS = 30
HARD_SENTENCE_EASE = 30.0
_LEAST_WORDS_TO_JUDGE = 8


@dataclass(frozen=True, slots=True)
class Sentence:
    """One sentence: its text, the line it starts on, and its words and syllables by Flesch's rules."""

    text: str
    line: int
    words: int
    syllables: int

    @property
    def ease(self) -> float:
        """Flesch Reading Ease of the sentence alone."""
        return flesch(self.words, 1, self.syllables)

    @property
    def is_hard(self) -> bool:
        """Whether it is long or heavy enough to be named."""
        return self.words > HARD_SENTENCE_WORDS or (self.words >= _LEAST_WORDS_TO_JUDGE and self.ease < HARD_SENTENCE_EASE)


@dataclass(frozen=True, slots=True)
class ReadingEase:
    """A text's counts and its sentences. An empty text has no score (None)."""

    sentences: tuple[Sentence, ...]

    @property
    def words(self) -> int:
        """Words by Flesch's rules."""
        return sum(sentence.words for sentence in self.sentences)

    @property
    def syllables(self) -> int:
        """Syllables by Flesch's rules."""
        return sum(sentence.syllables for sentence in self.sentences)

    @property
    def ease(self) -> float | None:
        """Flesch Reading Ease: 60–70 is plain English, above 90 very easy, below 30 for graduates."""
        return flesch(self.words, len(self.sentences), self.syllables) if self.words else None

    @property
    def grade(self) -> float | None:
        """Flesch–Kincaid grade: years of school in the United States."""
        return kincaid(self.words, len(self.sentences), self.syllables) if self.words else None

    @property
    def hard(self) -> tuple[Sentence, ...]:
        """The hard sentences, the hardest first."""
        return tuple(sorted((s for s in self.sentences if s.is_hard), key=lambda s: (s.ease, s.line)))


def flesch(words: int, sentences: int, syllable_count: int) -> float:
    """206.835 − 1.015 · words/sentences − 84.6 · syllables/words."""
    return 206.835 - 1.015 * words / sentences - 84.6 * syllable_count / words


def kincaid(words: int, sentences: int, syllable_count: int) -> float:
    """0.39 · words/sentences + 11.8 · syllables/words − 15.59."""
    return 0.39 * words / sentences + 11.8 * syllable_count / words - 15.59


def reading_ease(text: str, *, code: str = DEFAULT, names: Iterable[str] = (), dictionary: bool = True, first_line: int = 1) -> ReadingEase:
    """Scores Markdown or plain text. Headings, tables, pictures and marks do not count; a list item ends a sentence."""
    counter = _Counter(language(code), latin_words(names), dictionary=dictionary)
    found = (counter.sentence(shown, line) for shown, line in sentences(text, code=code, first_line=first_line))
    return ReadingEase(tuple(sentence for sentence in found if sentence.words))


def sentences(text: str, *, code: str = DEFAULT, first_line: int = 1) -> Iterator[tuple[str, int]]:
    """The sentences of a text with the line each starts on. Stops of short forms and initials end none."""
    table = language(code)
    block: list[tuple[str, int]] = []
    for number, raw in enumerate(text.split("\n"), first_line):
        line = raw.strip()
        if not line or _SKIPPED.match(line) or _ITEM.match(line):
            yield from _split(block, table)
            block = []
        if line and not _SKIPPED.match(line):
            bare = _ITEM.sub("", line)
            block.append((without_marks(bare) if "[" in bare else bare, number))
    yield from _split(block, table)


def _split(block: list[tuple[str, int]], table: Language) -> Iterator[tuple[str, int]]:
    text = " ".join(line for line, _ in block)
    starts = list(accumulate((len(line) + 1 for line, _ in block), initial=0))[:-1]
    at = 0
    for stop in _STOP.finditer(text):
        piece = text[at : stop.end()].split()[-1].strip("(\"'“‘[*")
        following = _NEXT.match(text, stop.end())
        if _goes_on(piece, following[1] if following else "", table):
            continue
        yield text[at : stop.end()].strip(), _line_of(at, starts, block)
        at = stop.end() + 1
    if text[at:].strip():
        yield text[at:].strip(), _line_of(at, starts, block)


def _goes_on(piece: str, following: str, table: Language) -> bool:
    """Whether a stop stands inside a sentence: after an initial, or a short form that cannot end one here.

    `following` is the next sign, empty at the end.
    """
    if _INITIAL.fullmatch(piece):
        return bool(following)
    if piece not in table.abbreviations or not following:
        return False
    return piece not in table.closing or not following.isupper()


def _line_of(at: int, starts: list[int], block: list[tuple[str, int]]) -> int:
    return block[bisect_right(starts, at) - 1][1] if block else 0


class _Counter:
    """Counts words and syllables as Flesch does."""

    def __init__(self, table: Language, latin: frozenset[str], *, dictionary: bool) -> None:
        self._table = table
        self._latin = latin
        self._dictionary = dictionary

    def sentence(self, text: str, line: int) -> Sentence:
        # Most sentences hold no name, link or mark.
        spans = tuple(name_spans(text)) if "*" in text or "[" in text else ((text, False),)
        words = total = 0
        for shown, is_name in spans:
            for piece in _BETWEEN_WORDS.sub(" ", shown).split():
                bare, count, is_plain = _counted(piece, self._table.code, self._dictionary)
                if count:
                    words += 1
                    total += latin_syllables(bare) if is_plain and (is_name or bare in self._latin) else count
        return Sentence(" ".join("".join(shown for shown, _ in spans).split()), line, words, total)


@lru_cache(maxsize=1 << 16)
def _counted(piece: str, code: str, dictionary: bool) -> tuple[str, int, bool]:
    """A piece without the signs at its ends, its syllables as a plain word, and whether that is what it is (no figure, no short form)."""
    if not _WORD.search(piece):
        return piece, 0, False
    bare = piece.strip(_EDGES)
    if piece.strip("(\"'“‘[") in language(code).abbreviations or any(sign.isdigit() for sign in bare):
        return bare, 1, False
    return bare, max(1, syllables(bare, code=code, dictionary=dictionary)), True


def ease_findings(found: ReadingEase, at: At, *, least: float = HARD_EASE, account: str = "") -> Iterator[Finding]:
    """Notes on a text that reads hard, and on each hard sentence; these warn and never block."""
    ease = found.ease
    if ease is None or found.grade is None:
        return
    if ease < least:
        message = f"The text has a Flesch Reading Ease of {ease:.0f} (grade {found.grade:.0f}); below {least:g} is hard going."
        yield Finding("hard-text", Level.NOTE, message, at, "Use shorter sentences and plainer words.", account)
    for sentence in found.hard:
        start = sentence.text if len(sentence.text) <= 60 else sentence.text[:57].rsplit(" ", 1)[0] + " …"
        message = f"Hard sentence ({sentence.words} words, ease {sentence.ease:.0f}): “{start}”."
        place = At(at.file, sentence.line or at.line)
        yield Finding("hard-sentence", Level.NOTE, message, place, "Cut it in two, or use plainer words.", account)
