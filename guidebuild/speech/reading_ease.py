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
from functools import cache, lru_cache
from itertools import accumulate

from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.plain_text import ShortForms, sentence_spans
from guidebuild.speech.language import DEFAULT, Language, language
from guidebuild.speech.latin import latin_syllables
from guidebuild.speech.loads import latin_words
from guidebuild.speech.marks import MARK, without_marks
from guidebuild.speech.spoken import name_spans, without_links
from guidebuild.speech.syllables import syllables

_SKIPPED = re.compile(r"^\s*(?:#|\||<!--|!\[)")
_ITEM = re.compile(r"^\s*(?:[-*+>]|\d+[.)])\s+")
_STANDING_ALONE = frozenset("#|<!-*+>0123456789")  # what a line may start with that is skipped or is an item of a list
_WORD = re.compile(r"[^\W_]")
_BETWEEN_WORDS = re.compile(r"[–—/]")
_BETWEEN = (" ", "–", "—", "/", "\u00a0", "\u202f", "\t")
_EDGES = ".,;:!?…()[]{}\"'“”‘’«»*_–—"
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
        return flesch(self.words, 1, self.syllables)

    @property
    def is_hard(self) -> bool:
        """Whether it is long or heavy enough to be named."""
        return _is_hard(self.words, self.syllables)


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


def _is_hard(words: int, syllable_count: int) -> bool:
    return words > HARD_SENTENCE_WORDS or (words >= _LEAST_WORDS_TO_JUDGE and flesch(words, 1, syllable_count) < HARD_SENTENCE_EASE)


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


def hard_sentences(
    text: str, *, code: str = DEFAULT, names: Iterable[str] = (), dictionary: bool = True, first_line: int = 1
) -> Iterator[Sentence]:
    """The hard sentences of a text in their order: those of `reading_ease`, in a fraction of the time where they are few."""
    counter, short = _Counter(language(code), latin_words(names), dictionary=dictionary), _short_forms(code)
    for block in _blocks(text, first_line):
        named = counter.names_in(block.text)
        for start, end in sentence_spans(block.text, short):
            shown = block.text[start:end]
            if counter.may_be_hard(shown, named) and (found := counter.sentence(shown.strip(), block.line(start))).is_hard:
                yield found


def sentences(text: str, *, code: str = DEFAULT, first_line: int = 1) -> Iterator[tuple[str, int]]:
    """The sentences of Markdown or plain text with the line each starts on; links are their words, marks and pictures go."""
    short = _short_forms(code)
    for block in _blocks(text, first_line):
        for start, end in sentence_spans(block.text, short):
            yield block.text[start:end].strip(), block.line(start)


@dataclass(frozen=True, slots=True)
class _Block:
    """Lines that run on: a paragraph, or an item of a list."""

    text: str
    ends: tuple[int, ...]
    """Where the next line begins in the text, for each of its lines."""
    lines: tuple[int, ...]

    def line(self, at: int) -> int:
        """The line of the file that a place in the text stands on."""
        return self.lines[bisect_right(self.ends, at)]


def _blocks(text: str, first_line: int) -> Iterator[_Block]:
    block: list[str] = []
    lines: list[int] = []
    for number, raw in enumerate(text.split("\n"), first_line):
        line = raw.strip()
        if not line or line[0] in _STANDING_ALONE:
            skipped, bare = not line or _SKIPPED.match(line) is not None, _ITEM.sub("", line)
            if block and (skipped or bare != line):
                yield _block(block, lines)
                block, lines = [], []
            if skipped:
                continue
            line = bare
        if "[" in line:
            line = without_links(without_marks(line) if MARK.search(line) else line)
        block.append(line)
        lines.append(number)
    if block:
        yield _block(block, lines)


def _block(block: list[str], lines: list[int]) -> _Block:
    return _Block(" ".join(block), tuple(accumulate(len(line) + 1 for line in block)), tuple(lines))


@cache
def _short_forms(code: str) -> ShortForms:
    """Those of a language's table, as the splitter of sentences looks them up."""
    table = language(code)
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

    def names_in(self, text: str) -> tuple[str, ...]:
        """Words of the scientific names that a text may hold."""
        return tuple(word for word in self._latin if word in text)

    def may_be_hard(self, text: str, named: tuple[str, ...]) -> bool:
        """Whether a sentence may turn out hard; what is not is told by few words, or by a look into a table for each.

        `named` are the words of scientific names around it.
        """
        if "*" in text or (named and self.names_in(text)):
            # No more words than there are places between two.
            return sum(map(text.count, _BETWEEN)) + 1 >= _LEAST_WORDS_TO_JUDGE
        total = sum(map(self._counts.__getitem__, text.split()))
        return _is_hard(total % _SYLLABLE, total // _SYLLABLE)

    def sentence(self, text: str, line: int) -> Sentence:
        if "*" not in text and not self.names_in(text):
            total = sum(map(self._counts.__getitem__, text.split()))
            return Sentence(text, line, total % _SYLLABLE, total // _SYLLABLE)
        spans = tuple(name_spans(text))
        words = total = 0
        for shown, is_name in spans:
            for piece in _BETWEEN_WORDS.sub(" ", shown).split():
                bare, count, is_plain = _counted(piece, self._table.code, self._dictionary)
                if count:
                    words += 1
                    total += latin_syllables(bare) if is_plain and (is_name or bare in self._latin) else count
        return Sentence(" ".join("".join(shown for shown, _ in spans).split()), line, words, total)


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
    yield from (hard_sentence_finding(sentence, at, account=account) for sentence in found.hard)


def hard_sentence_finding(sentence: Sentence, at: At, *, account: str = "") -> Finding:
    """The note on one hard sentence of a text that starts at `at`."""
    start = sentence.text if len(sentence.text) <= 60 else sentence.text[:57].rsplit(" ", 1)[0] + " …"
    message = f"Hard sentence ({sentence.words} words, ease {sentence.ease:.0f}): “{start}”."
    place = At(at.file, sentence.line or at.line)
    return Finding("hard-sentence", Level.NOTE, message, place, "Cut it in two, or use plainer words.", account)
