"""A script's Markdown: an author's own lines read, once, into the value that everything else takes, and that value written out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import zip_longest

from guidebuild.guide.text.blocks import read_blocks, split_names
from guidebuild.speech.marks import Mark, find_pieces, strip_brackets, strip_marks
from guidebuild.speech.script import Piece, Script, ScriptLine, Spoken, trim_words
from guidebuild.speech.signs import STOPS, close_up

_ENDS = re.compile(r"[.!?…:][\"'”’)\]*_]*$|\]$")
_BEGINS = re.compile(r"[\[{*¿¡“\"A-ZÀ-ÖØ-Þ]")
_SPACES = re.compile(r"[ \t]{2,}|\t")
_WITH_SIGNS = re.compile(r"[\[*]")


def read_lines(text: str) -> tuple[ScriptLine, ...]:
    """The lines of a section as they are spoken.

    A sentence wrapped over several lines of the file is one line, and so is a mark with what follows it; an item of a list is a
    line of its own. Headings, tables and comments are not spoken.
    """
    lines: list[ScriptLine] = []
    blocks = list(read_blocks(text))
    for block, following in zip_longest(blocks, blocks[1:]):
        lines += (ScriptLine(pieces) for joined in _join_rows(block.text) if (pieces := read_line(joined)))
        # The next item of a list stands right below.
        if lines and (following is None or following.line > block.line + block.text.count("\n") + 1):
            lines[-1] = replace(lines[-1], ends_paragraph=True)
    return tuple(lines)


def _join_rows(text: str) -> Iterator[str]:
    """The rows of a paragraph, those that belong together as one."""
    begun = ""
    rows = text.split("\n")
    for row, following in zip_longest(rows, rows[1:], fillvalue=""):
        begun = f"{begun} {row.strip()}".strip()
        # A slot may hold a whole sentence; whether it does, the next row shows by how it begins.
        ends = _ENDS.search(begun) or (begun.endswith("}") and _BEGINS.match(following.strip()))
        if ends and strip_marks(begun):
            yield begun
            begun = ""
    yield begun


def read_line(words: str) -> tuple[Piece, ...]:
    """The words and marks of one line. What stands between *stars* is a scientific name; unknown marks are left out."""
    pieces: list[Piece] = []
    for found in find_pieces(words) if "[" in words else (words,):
        pieces += (found,) if isinstance(found, Mark) else read_words(found)
    return tuple(pieces)


def read_words(words: str) -> tuple[Spoken, ...]:
    """The words of a piece of a line without marks."""
    if not _WITH_SIGNS.search(words):
        text = _tidy(words.strip())
        return (Spoken(text),) if text else ()
    runs = [Spoken(_tidy(text), is_name) for text, is_name in split_names(strip_brackets(words))]
    return trim_words(run for run in runs if run.text)


def _tidy(text: str) -> str:
    return close_up(_SPACES.sub(" ", text) if "  " in text or "\t" in text else text)


def write_script(script: Script) -> str:
    """The script in Markdown, for its author to make it his own: `read_lines` reads every section back the same."""
    blocks: list[str] = []
    for section in script.sections:
        if section.heading:
            blocks.append(f"## {_write_words(section.heading)}\n")
        for line in section.lines:
            blocks.append(_write_line(line) + ("\n" if line.ends_paragraph else ""))
    return "\n".join(blocks)


def _write_line(line: ScriptLine) -> str:
    written = ""
    was_mark = False
    for piece in line.pieces:
        is_mark = isinstance(piece, Mark)
        text = _write_mark(piece) if isinstance(piece, Mark) else _write_words((piece,))
        joined = not is_mark and (not was_mark or text.startswith(tuple(STOPS)))
        written += text if joined or not written else f" {text}"
        was_mark = is_mark
    return written


def _write_words(words: Sequence[Spoken]) -> str:
    return "".join(f"*{one.text}*" if one.is_name else one.text for one in words)


def _write_mark(mark: Mark) -> str:
    length = "" if mark.seconds is None else f"{mark.seconds:g} s"
    return f"[{' '.join(part for part in (mark.kind, mark.what, length) if part)}]"
