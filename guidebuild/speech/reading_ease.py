"""How easily a text reads: Flesch Reading Ease and the Flesch–Kincaid grade, with the sentences that make it hard.

Flesch 1948 (Journal of Applied Psychology 32:221–233) counts contractions, hyphenated words, figures and abbreviations as one
word, figures and abbreviations as one syllable, the fewer syllables where a word has two counts, and no headings. Kincaid et al.
1975 (NTTC Research Branch Report 8-75) give the grade. Both are made for English.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from functools import cache, lru_cache

from guidebuild.guide.findings import At, Finding
from guidebuild.guide.text.blocks import read_blocks, split_names
from guidebuild.guide.text.sentences import ShortForms, sentence_spans
from guidebuild.speech.codes import HARD_SENTENCE
from guidebuild.speech.language import DEFAULT, Language, read_language
from guidebuild.speech.latin import count_latin_syllables
from guidebuild.speech.loads import list_latin_words
from guidebuild.speech.marks import strip_brackets
from guidebuild.speech.signs import EDGES, OPENING
from guidebuild.speech.syllables import count_syllables

_WORD = re.compile(r"[^\W_]")
_BETWEEN_WORDS = re.compile(r"[–—/]")
# Scores below this are read with ease by few but students (the band "difficult" of Flesch's table starts at 50).
HARD_EASE = 50.0
# A sentence this long, or with an ease this low, is named.
HARD_SENTENCE_WORDS = 30
HARD_SENTENCE_EASE = 30.0
_LEAST_WORDS_TO_JUDGE = 8
_SYLLABLE = 1 << 20  # more than a sentence has words
_MOST_KNOWN = 1 << 16


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
        return score_ease(self.words, 1, self.syllables)


@dataclass(frozen=True, slots=True)
class ReadingEase:
    """A text's counts by Flesch's rules, and its hard sentences in their order. An empty text has no score (None)."""

    sentences: int = 0
    words: int = 0
    syllables: int = 0
    hard: tuple[Sentence, ...] = ()

    def __add__(self, other: ReadingEase) -> ReadingEase:
        """Both texts as one."""
        return ReadingEase(
            self.sentences + other.sentences, self.words + other.words, self.syllables + other.syllables, self.hard + other.hard
        )

    @property
    def ease(self) -> float | None:
        """Flesch Reading Ease: 60–70 is plain English, above 90 very easy, below 30 for graduates."""
        return score_ease(self.words, self.sentences, self.syllables) if self.words else None

    @property
    def grade(self) -> float | None:
        """Flesch–Kincaid grade: years of school in the United States."""
        return score_grade(self.words, self.sentences, self.syllables) if self.words else None


def score_ease(words: int, sentences: int, syllable_count: int) -> float:
    """206.835 − 1.015 · words/sentences − 84.6 · syllables/words."""
    return 206.835 - 1.015 * words / sentences - 84.6 * syllable_count / words


def score_grade(words: int, sentences: int, syllable_count: int) -> float:
    """0.39 · words/sentences + 11.8 · syllables/words − 15.59."""
    return 0.39 * words / sentences + 11.8 * syllable_count / words - 15.59


def measure_ease(text: str, *, code: str = DEFAULT, names: Iterable[str] = (), dictionary: bool = True, first_line: int = 1) -> ReadingEase:
    """Scores Markdown or plain text. Headings, tables, pictures and marks do not count; a list item ends a sentence."""
    counter = _Counter(read_language(code), list_latin_words(names), dictionary=dictionary)
    count = whole_words = whole_syllables = 0
    hard: list[Sentence] = []
    for shown, line in find_sentences(text, code=code, first_line=first_line):
        found = counter.count(shown)
        words, syllable_count = found % _SYLLABLE, found // _SYLLABLE
        if words:
            count += 1
            whole_words += words
            whole_syllables += syllable_count
            if _is_hard(words, syllable_count):
                hard.append(Sentence(_plain(shown), line, words, syllable_count))
    return ReadingEase(count, whole_words, whole_syllables, tuple(hard))


def _is_hard(words: int, syllable_count: int) -> bool:
    """Whether a sentence is long or heavy enough to be named."""
    return words > HARD_SENTENCE_WORDS or (words >= _LEAST_WORDS_TO_JUDGE and score_ease(words, 1, syllable_count) < HARD_SENTENCE_EASE)


def _plain(sentence: str) -> str:
    """A sentence without the stars of its names."""
    return " ".join("".join(shown for shown, _ in split_names(sentence)).split())


def find_sentences(text: str, *, code: str = DEFAULT, first_line: int = 1) -> Iterator[tuple[str, int]]:
    """The sentences of Markdown or plain text with the line each starts on; links are their words, marks and pictures go."""
    short = _short_forms(code)
    for block in read_blocks(text):
        words = "\n".join(map(strip_brackets, block.text.split("\n"))) if "[" in block.text else block.text
        shown, line, last = words.replace("\n", " "), first_line + block.line, 0
        for start, end in sentence_spans(shown, short):
            line += words.count("\n", last, start)
            last = start
            yield shown[start:end].strip(), line


@cache
def _short_forms(code: str) -> ShortForms:
    """Those of a language's table, as the splitter of sentences looks them up."""
    table = read_language(code)
    known, figure, closing = (
        frozenset(form.lower() for form in forms if "." in form) for forms in (table.abbreviations, table.before_figure, table.closing)
    )
    return ShortForms(known, figure, closing)


class _Counter:
    """Counts words and syllables as Flesch does."""

    def __init__(self, table: Language, latin: frozenset[str], *, dictionary: bool) -> None:
        self._table = table
        self._latin = latin
        self._dictionary = dictionary
        self._counts = _known_counts(table.code, dictionary)

    def count(self, text: str) -> int:
        """The words of a sentence, and _SYLLABLE for each of its syllables."""
        if "*" not in text and not (self._latin and any(word in text for word in self._latin)):
            return sum(map(self._counts.__getitem__, text.split()))
        total = 0
        for shown, is_name in split_names(text):
            for piece in _BETWEEN_WORDS.sub(" ", shown).split():
                bare, count, is_plain = _counted(piece, self._table.code, self._dictionary)
                if count:
                    total += 1 + _SYLLABLE * (count_latin_syllables(bare) if is_plain and (is_name or bare in self._latin) else count)
        return total


class _Counts(dict[str, int]):
    """Words and syllables of what stands between two spaces, as one number: words, and _SYLLABLE for each syllable."""

    def __init__(self, code: str, dictionary: bool) -> None:
        super().__init__()
        self._how = code, dictionary

    def __missing__(self, piece: str) -> int:
        counts = [count for part in _BETWEEN_WORDS.sub(" ", piece).split() if (count := _counted(part, *self._how)[1])]
        if len(self) >= _MOST_KNOWN:
            self.clear()
        self[piece] = found = sum(counts) * _SYLLABLE + len(counts)
        return found


@cache
def _known_counts(code: str, dictionary: bool) -> _Counts:
    return _Counts(code, dictionary)


@lru_cache(maxsize=1 << 16)
def _counted(piece: str, code: str, dictionary: bool) -> tuple[str, int, bool]:
    """A piece without the signs at its ends, its syllables as a plain word, and whether that is what it is (no figure, no short form)."""
    if not _WORD.search(piece):
        return piece, 0, False
    bare = piece.strip(EDGES)
    if piece.strip(OPENING) in read_language(code).abbreviations or any(sign.isdigit() for sign in bare):
        return bare, 1, False
    return bare, max(1, count_syllables(bare, code=code, dictionary=dictionary)), True


def describe_hard_sentence(sentence: Sentence, at: At, *, account: str = "") -> Finding:
    """The note on one hard sentence of a text that starts at `at`."""
    start = sentence.text if len(sentence.text) <= 60 else sentence.text[:57].rsplit(" ", 1)[0] + " …"
    message = f"Hard sentence ({sentence.words} words, ease {sentence.ease:.0f}): “{start}”."
    place = At(at.file, sentence.line or at.line)
    return HARD_SENTENCE.finding(message, place, account=account)
