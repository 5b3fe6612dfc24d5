"""The spoken form of written text: figures, units, ranges, dates and short forms as a speaker says them.

`6–9 mm` is "six to nine millimetres", `c. 3.5 g` "about three point five grams", `♀` "female". Scientific names, marked with
*stars*, are kept as they are but for their short forms (`subsp.`). What is said here are words: `guide/text/` reads Markdown before.
"""

from __future__ import annotations

import re

from guidebuild.guide.text.blocks import split_names
from guidebuild.speech.language import DEFAULT, Language, read_language
from guidebuild.speech.sayings import say_all
from guidebuild.speech.signs import EDGES, close_up

_SPACES = re.compile(r"[ \t\u00a0\u2009\u202f]+")
_WORD = re.compile(r"[^\W_]")


def say_text(text: str, *, code: str = DEFAULT) -> str:
    """What a speaker says for `text`, with the punctuation that gives the pauses. Paragraphs stay apart."""
    table = read_language(code)
    return "\n".join(_spoken_line(line, table) for line in text.split("\n"))


def list_spoken_words(text: str, *, code: str = DEFAULT) -> list[str]:
    """The words spoken for `text`: `Wing 10–12 mm; mass c. 3.5 g.` has eleven. `twenty-six` is one."""
    return [word.strip(EDGES) for word in say_text(text, code=code).split() if _WORD.search(word)]


def say_piece(piece: str, table: Language, *, is_name: bool) -> str:
    """The spoken form of one piece of a line: prose, or a scientific name."""
    return _short_name(piece, table) if is_name else say_all(piece, table)


def _spoken_line(line: str, table: Language) -> str:
    pieces = split_names(line.strip())
    whole = "".join(say_piece(piece, table, is_name=is_name) for piece, is_name in pieces)
    return close_up(_SPACES.sub(" ", whole)).strip()


def _short_name(name: str, table: Language) -> str:
    said = [table.words["hybrid"] if part == "×" else table.abbreviations.get(part, part) for part in name.split()]
    return " ".join(said)
