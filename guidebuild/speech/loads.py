"""What a text asks of its speaker: syllables, words and pauses, counted fast.

A text is cut at white space and each piece is looked up in a table that fills itself (`WordLoads`); figures, marks and names,
which need their neighbours, are put into words first. Timing and the fit of a pace both start from these counts.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import lru_cache

from guidebuild.speech.language import DEFAULT, language
from guidebuild.speech.latin import latin_syllables
from guidebuild.speech.sayings import say_all
from guidebuild.speech.spoken import name_spans
from guidebuild.speech.syllables import syllables

# Five counts share one integer, so that a line is one sum over dictionary look-ups.
_SYLLABLE, _LETTER, _COMMA, _SENTENCE, _WORD = 1, 1 << 20, 1 << 40, 1 << 52, 1 << 64
_TWELVE, _TWENTY = (1 << 12) - 1, (1 << 20) - 1
_PIECES_AT_ONCE = 2048  # so that no count can run into its neighbour

_NEEDS_NEIGHBOURS = re.compile(r"[\d*\[½¼¾⅓⅔]|\w\.\s[a-z]")
_CLOSERS = ")]}\"'”’»*_"
_INITIAL = re.compile(r"^\W*[A-Z]\.$")
_PAUSING_PIECE = re.compile(r"^(?:[–—-]+|.*[,;:)]|\(.*|.*\w—)$")
_LETTERED = re.compile(r"[^\W\d_]")


@dataclass(frozen=True, slots=True)
class Load:
    """Counts for one stretch of speech: what is said, and the places where a speaker pauses.

    `beats` are syllables weighed by their length, since `strengths` takes longer than `idea` has any right to: half the
    syllables and half the letters, these in syllables of the language's mean length. Over a text they equal the syllables.
    `commas` are pauses inside a sentence (comma, semicolon, colon, dash, bracket), `sentences` its ends, `paragraphs` the ends
    of paragraphs (these are not among `sentences`), `says` names with a say-it line. `silence` is asked for, in seconds.
    """

    beats: float = 0.0
    syllables: int = 0
    words: int = 0
    commas: int = 0
    sentences: int = 0
    paragraphs: int = 0
    says: int = 0
    silence: float = 0.0

    def __add__(self, other: Load) -> Load:
        """Both, one after the other."""
        return Load(
            self.beats + other.beats,
            self.syllables + other.syllables,
            self.words + other.words,
            self.commas + other.commas,
            self.sentences + other.sentences,
            self.paragraphs + other.paragraphs,
            self.says + other.says,
            self.silence + other.silence,
        )


class WordLoads(dict[str, int]):
    """Pieces of text between white space and their packed counts, worked out when first met.

    `latin` are words counted by the rules of Latin wherever they stand; a piece led by `*` is one too.
    """

    def __init__(self, *, code: str = DEFAULT, latin: frozenset[str] = frozenset(), dictionary: bool = True) -> None:
        super().__init__()
        self.table = language(code)
        self._latin = latin
        self._dictionary = dictionary

    def __missing__(self, piece: str) -> int:
        self[piece] = packed = self._count(piece)
        return packed

    def _count(self, piece: str) -> int:
        said = piece if piece.startswith("*") else say_all(piece, self.table)
        total = 0
        for part in re.split(r"[\s–—/]+", said):
            if _LETTERED.search(part):
                total += _WORD + self._syllables(part) * _SYLLABLE + sum(map(str.isalpha, part)) * _LETTER
        return total + pause_after(piece, abbreviations=self.table.abbreviations.keys())

    def _syllables(self, part: str) -> int:
        word = part.strip(".,;:!?…()[]{}\"'“”‘’«»_")
        bare = word.strip("*")
        if word != bare or bare in self._latin:
            return latin_syllables(bare)
        return syllables(bare, code=self.table.code, dictionary=self._dictionary)

    def lined(self, text: str) -> str:
        """A stretch of text ready to be cut at white space: figures in words, each word of a *starred name* led by `*`."""
        if not _NEEDS_NEIGHBOURS.search(text):
            return text
        return "".join(
            " ".join(f"*{word}" for word in piece.split() if word != "×") if is_name else say_all(piece, self.table)
            for piece, is_name in name_spans(text)
        )

    def load(self, text: str) -> Load:
        """The counts of one stretch of text without marks."""
        pieces = self.lined(text).split()
        if len(pieces) <= _PIECES_AT_ONCE:
            return self._unpack(sum(map(self.__getitem__, pieces)))
        stretches = (pieces[i : i + _PIECES_AT_ONCE] for i in range(0, len(pieces), _PIECES_AT_ONCE))
        return sum((self._unpack(sum(map(self.__getitem__, stretch))) for stretch in stretches), Load())

    def _unpack(self, packed: int) -> Load:
        syllable_count, letters = packed & _TWENTY, packed >> 20 & _TWENTY
        beats = (syllable_count + letters / self.table.letters_a_syllable) / 2
        return Load(beats, syllable_count, packed >> 64, packed >> 40 & _TWELVE, packed >> 52 & _TWELVE)

    def pause_at_end(self, text: str) -> tuple[int, int]:
        """The pause that a stretch of text ends with: (1, 0) for a comma's, (0, 1) for a sentence's, (0, 0) for none."""
        last = self.lined(text).split()[-1:]
        packed = self[last[0]] if last else 0
        return packed >> 40 & _TWELVE, packed >> 52 & _TWELVE


def pause_after(piece: str, *, abbreviations: Iterable[str] = ()) -> int:
    """The packed pause that the punctuation of one piece asks for: a sentence's, a comma's or none."""
    bare = piece.rstrip(_CLOSERS)
    if bare.endswith((".", "!", "?", "…")) and bare.lstrip("(\"'“‘[*") not in abbreviations and not _INITIAL.match(bare):
        return _SENTENCE
    return _COMMA if _PAUSING_PIECE.match(piece) else 0


@lru_cache(maxsize=32)
def word_loads(code: str = DEFAULT, latin: frozenset[str] = frozenset(), *, dictionary: bool = True) -> WordLoads:
    """The table for a language and a guide's scientific names; kept, since it fills itself as it is used."""
    return WordLoads(code=code, latin=latin, dictionary=dictionary)


def latin_words(names: Iterable[str]) -> frozenset[str]:
    """The words of scientific names: `Elasmucha grisea` gives both."""
    return frozenset(word for name in names for word in name.split() if word.isalpha())


def load_of(text: str, *, code: str = DEFAULT, names: Iterable[str] = (), dictionary: bool = True) -> Load:
    """The counts of a text without marks or headings; each line end counts as its punctuation says."""
    return word_loads(code, latin_words(names), dictionary=dictionary).load(text)
