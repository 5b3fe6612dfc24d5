"""A script as a value: what is said, line by line, with its marks and with what is to be seen. Nothing in it is Markdown.

Timing, captions, prompter and page all take this value. `script_text` reads an author's own script into it, and writes it out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.speech.language import DEFAULT
from guidebuild.speech.marks import Mark
from guidebuild.speech.signs import STOPS


@dataclass(frozen=True, slots=True)
class Spoken:
    """Words that are said one after the other; `is_name` where they are a scientific name."""

    text: str
    is_name: bool = False


Piece = Spoken | Mark


@dataclass(frozen=True, slots=True)
class ScriptLine:
    """One line: its words and marks in their order, and what is to be seen while it is said.

    `photo` is the id of a photo, or empty; `shot` says what to film where there is none; `detail` what to go close to, there or in
    the photo. After a line that `ends_paragraph` the speaker pauses for longer.
    """

    pieces: tuple[Piece, ...]
    photo: str = ""
    shot: str = ""
    detail: str = ""
    ends_paragraph: bool = False

    @property
    def stretches(self) -> tuple[tuple[Spoken, ...] | Mark, ...]:
        """The marks, and the words between them."""
        if len(self.pieces) == 1 and isinstance(self.pieces[0], Spoken):
            return ((self.pieces[0],),)
        return tuple(_find_stretches(self.pieces))

    @property
    def words(self) -> tuple[Spoken, ...]:
        """What is said, without the marks."""
        return join_words(stretch for stretch in self.stretches if not isinstance(stretch, Mark))

    @property
    def text(self) -> str:
        """What is said, as plain text."""
        return join_text(self.words)


@dataclass(frozen=True, slots=True)
class ScriptSection:
    """Lines under one heading. The heading is not spoken; it is empty for what comes before the first."""

    heading: tuple[Spoken, ...]
    lines: tuple[ScriptLine, ...]


@dataclass(frozen=True, slots=True)
class Script:
    """A whole script, with what has to be known of its words.

    `names` are scientific names and `phrases` others (`Parent Bug`, `9 millimetres`): a caption cuts none of them. The words of
    `names` count by the rules of Latin wherever they stand.
    """

    sections: tuple[ScriptSection, ...]
    language: str = DEFAULT
    names: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()

    @property
    def lines(self) -> tuple[ScriptLine, ...]:
        """All lines in their order."""
        return tuple(line for section in self.sections for line in section.lines)


def _find_stretches(pieces: Iterable[Piece]) -> Iterator[tuple[Spoken, ...] | Mark]:
    words: list[Spoken] = []
    for piece in pieces:
        if not isinstance(piece, Mark):
            words.append(piece)
            continue
        if words:
            yield tuple(words)
            words = []
        yield piece
    if words:
        yield tuple(words)


def join_text(words: Iterable[Spoken]) -> str:
    """Words as plain text."""
    return "".join(one.text for one in words)


def join_words(stretches: Iterable[Sequence[Spoken]]) -> tuple[Spoken, ...]:
    """Stretches of words as one, with a space between two unless a comma or a stop opens the later one."""
    joined: list[Spoken] = []
    for stretch in stretches:
        if joined and stretch and not stretch[0].text.startswith(tuple(STOPS)):
            joined.append(Spoken(" "))
        joined += stretch
    return merge_words(joined)


def merge_words(words: Iterable[Spoken]) -> tuple[Spoken, ...]:
    """The same words in as few runs as there can be."""
    merged: list[Spoken] = []
    for one in words:
        if merged and not (one.is_name or merged[-1].is_name):
            merged[-1] = Spoken(merged[-1].text + one.text)
        elif one.text:
            merged.append(one)
    return tuple(merged)


def merge_pieces(pieces: Iterable[Piece]) -> tuple[Piece, ...]:
    """The same pieces with as few runs of words as there can be, and no space beside a mark."""
    merged: list[Piece] = []
    for stretch in _find_stretches(pieces):
        merged += (stretch,) if isinstance(stretch, Mark) else trim_words(merge_words(stretch))
    return tuple(merged)


def trim_words(words: Iterable[Spoken]) -> tuple[Spoken, ...]:
    """Words without space at their ends."""
    trimmed = list(words)
    if trimmed:
        trimmed[0] = replace(trimmed[0], text=trimmed[0].text.lstrip())
        trimmed[-1] = replace(trimmed[-1], text=trimmed[-1].text.rstrip())
    return tuple(one for one in trimmed if one.text)
