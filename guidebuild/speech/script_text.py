"""A script's Markdown: an author's own lines read, once, into the value that everything else takes, and that value written out."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import replace

from guidebuild.speech.marks import Mark, find_pieces, strip_marks
from guidebuild.speech.script import Piece, Script, ScriptLine, Spoken, trim_words
from guidebuild.speech.signs import STOPS, close_up
from guidebuild.speech.spoken import LIST_ITEM, split_names

_ENDS = re.compile(r"[.!?…:][\"'”’)\]*_]*$|\]$")
_HEADING = re.compile(r"#+(?:\s|$)")
_SPACES = re.compile(r"[ \t]{2,}|\t")
_WITH_SIGNS = re.compile(r"[\[*_]")


def read_lines(text: str) -> tuple[ScriptLine, ...]:
    """The lines of a section as they are spoken.

    A sentence wrapped over several lines of the file is one line, and so is a mark with what follows it; an item of a list is a
    line of its own. Headings and comments are not spoken.
    """
    lines: list[ScriptLine] = []
    for typed, ends_paragraph in _join_typed(text):
        if typed and (pieces := read_line(typed)):
            lines.append(ScriptLine(pieces))
        if ends_paragraph and lines:
            lines[-1] = replace(lines[-1], ends_paragraph=True)
    return tuple(lines)


def _join_typed(text: str) -> Iterator[tuple[str, bool]]:
    """Lines as typed, those that belong together as one, each with whether a paragraph ends with it."""
    begun = ""
    for row in (*text.splitlines(), ""):
        bare = row.strip()
        if bare.startswith("<!--"):
            continue
        stands_apart = not bare or _HEADING.match(bare) is not None
        item = None if stands_apart else LIST_ITEM.match(bare)
        if stands_apart or item:
            yield begun, stands_apart
            begun = ""
        if stands_apart:
            continue
        begun = f"{begun} {bare[item.end() if item else 0 :]}".strip()
        if _ENDS.search(begun) and strip_marks(begun):
            yield begun, False
            begun = ""


def read_line(typed: str) -> tuple[Piece, ...]:
    """The words and marks of one line. What stands between *stars* is a scientific name; unknown marks are left out."""
    pieces: list[Piece] = []
    for found in find_pieces(typed) if "[" in typed else (typed,):
        pieces += (found,) if isinstance(found, Mark) else read_words(found)
    return tuple(pieces)


def read_words(typed: str) -> tuple[Spoken, ...]:
    """The words of a piece of a line without marks."""
    if not _WITH_SIGNS.search(typed):
        text = _tidy(typed.strip())
        return (Spoken(text),) if text else ()
    runs = [Spoken(_tidy(text), is_name) for text, is_name in split_names(typed)]
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
