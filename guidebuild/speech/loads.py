"""What a text asks of its speaker: syllables, words and pauses, counted fast.

A text is cut at white space and each piece is looked up in a table that fills itself (`WordLoads`); figures, marks and names,
which need their neighbours, are put into words first. Timing and the fit of a pace both start from these counts.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from guidebuild.speech.language import DEFAULT, read_language
from guidebuild.speech.latin import count_latin_syllables
from guidebuild.speech.sayings import say_all
from guidebuild.speech.script import Spoken, join_text
from guidebuild.speech.signs import EDGES, ends_sentence
from guidebuild.speech.syllables import count_syllables

# Five counts share one integer, so that a line is one sum over dictionary look-ups.
_SYLLABLE, _LETTER, _COMMA, _SENTENCE, _WORD = 1, 1 << 20, 1 << 40, 1 << 52, 1 << 64
_TWELVE, _TWENTY = (1 << 12) - 1, (1 << 20) - 1
_PAUSES = _TWELVE << 40 | _TWELVE << 52
_PIECES_AT_ONCE = 2048  # so that no count can run into its neighbour
_LATIN = "\N{NULL}"  # leads a piece of a scientific name; nobody types it

_DIGIT = re.compile("[0-9]")
_WITH_NEIGHBOURS = re.compile(r"\S*(?:\s+\S+){0,3}")
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

    `latin` are words counted by the rules of Latin wherever they stand; a piece led by `_LATIN` is one too.
    """

    def __init__(self, *, code: str = DEFAULT, latin: frozenset[str] = frozenset(), dictionary: bool = True) -> None:
        super().__init__()
        self.table = read_language(code)
        self._latin = latin
        self._dictionary = dictionary

    def __missing__(self, piece: str) -> int:
        self[piece] = packed = self._count(piece)
        return packed

    def _count(self, piece: str) -> int:
        said = piece if piece.startswith(_LATIN) else say_all(piece, self.table)
        total = 0
        for part in re.split(r"[\s–—/]+", said):
            if _LETTERED.search(part):
                total += _WORD + self._syllables(part) * _SYLLABLE + sum(map(str.isalpha, part)) * _LETTER
        return total + find_pause(piece, abbreviations=self.table.abbreviations.keys())

    def _syllables(self, part: str) -> int:
        bare = part.strip(EDGES)
        if bare.startswith(_LATIN) or bare in self._latin:
            return count_latin_syllables(bare.removeprefix(_LATIN))
        return count_syllables(bare, code=self.table.code, dictionary=self._dictionary)

    def list_pieces(self, words: Sequence[Spoken]) -> list[str]:
        """The pieces of a stretch of words: figures said in words, each word of a scientific name led by a sign of its own."""
        if len(words) == 1 and not words[0].is_name:
            return self._said(words[0].text).split()
        said = (
            " ".join(f"{_LATIN}{word}" for word in one.text.split() if word != "×") if one.is_name else self._said(one.text)
            for one in words
        )
        return "".join(said).split()

    def _said(self, text: str) -> str:
        """Puts figures into words with the word before (`c.`, `May`) and the three after (a unit; a dash, a month, a year).

        Words further off need no neighbours: the table says them one by one, and remembers.
        """
        out: list[str] = []
        at = 0
        while match := _DIGIT.search(text, at):
            start = max(at, text.rfind(" ", at, max(at, text.rfind(" ", at, match.start()))) + 1)
            near = _WITH_NEIGHBOURS.match(text, match.start())
            end = near.end() if near else match.end()
            out += text[at:start], say_all(text[start:end], self.table)
            at = end
        return "".join(out) + text[at:]

    def load(self, words: Sequence[Spoken], *, ends_paragraph: bool = False) -> Load:
        """The counts of one stretch of words. A paragraph's pause takes the place of the last sentence's."""
        pieces = self.list_pieces(words)
        last = pieces[-_PIECES_AT_ONCE:]
        packed = sum(map(self.__getitem__, last))
        if ends_paragraph and packed >= _WORD:
            load = self._unpack(packed - self._pause_at_end(words), paragraphs=1)
        else:
            load = self._unpack(packed)
        for start in range(0, len(pieces) - len(last), _PIECES_AT_ONCE):
            load += self._unpack(sum(map(self.__getitem__, pieces[start : min(start + _PIECES_AT_ONCE, len(pieces) - len(last))])))
        return load

    def load_piece(self, piece: str) -> Load:
        """The counts of one of the pieces that `list_pieces` gives."""
        return self._unpack(self[piece])

    def _unpack(self, packed: int, paragraphs: int = 0) -> Load:
        syllable_count, letters = packed & _TWENTY, packed >> 20 & _TWENTY
        beats = (syllable_count + letters / self.table.letters_a_syllable) / 2
        return Load(beats, syllable_count, packed >> 64, packed >> 40 & _TWELVE, packed >> 52 & _TWELVE, paragraphs)

    def _pause_at_end(self, words: Sequence[Spoken]) -> int:
        """The packed pause that a stretch of words ends with: what `load` counted for its last piece."""
        text = words[-1].text
        return self[(text if " " in text else join_text(words)).rsplit(None, 1)[-1]] & _PAUSES

    def without_pause_at_end(self, words: Sequence[Spoken], load: Load) -> Load:
        """The load of a stretch of words less its last pause, be that a paragraph's, a sentence's or a comma's."""
        if load.paragraphs:
            return replace(load, paragraphs=0)
        pause = self._pause_at_end(words)
        return replace(load, commas=load.commas - (pause >> 40 & _TWELVE), sentences=load.sentences - (pause >> 52 & _TWELVE))


def find_pause(piece: str, *, abbreviations: Container[str] = ()) -> int:
    """The packed pause that the punctuation of one piece asks for: a sentence's, a comma's or none."""
    if ends_sentence(piece, abbreviations):
        return _SENTENCE
    return _COMMA if _PAUSING_PIECE.match(piece) else 0


@lru_cache(maxsize=32)
def get_word_loads(code: str = DEFAULT, latin: frozenset[str] = frozenset(), *, dictionary: bool = True) -> WordLoads:
    """The table for a language and a guide's scientific names; kept, since it fills itself as it is used."""
    return WordLoads(code=code, latin=latin, dictionary=dictionary)


def list_latin_words(names: Iterable[str]) -> frozenset[str]:
    """The words of scientific names: `Elasmucha grisea` gives both."""
    return frozenset(word for name in names for word in name.split() if word.isalpha())
