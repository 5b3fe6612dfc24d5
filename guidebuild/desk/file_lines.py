"""The lines of a file round the one that a finding names, with what was found and the value that stands there, to be mended at once.

For files that no part of the desk has the fields of.
"""

from __future__ import annotations

import json
from dataclasses import dataclass
from itertools import islice
from pathlib import Path, PurePosixPath

from guidebuild.desk.desk import Desk
from guidebuild.desk.editing.entries import path_at
from guidebuild.desk.editing.section_text import heading_at
from guidebuild.desk.editing.wanted import RefusedError, value_at
from guidebuild.desk.editing.written_values import ValueWriter
from guidebuild.guide.findings import At
from guidebuild.press.engine.trees import find_inside
from guidebuild.reading.block import Plain
from guidebuild.reading.file_shapes import shape_of_file
from guidebuild.reading.typed_file import NotChangeableError, open_typed

_AROUND = 8
_LONGEST = 400
_TABLES = (".csv", ".tsv", ".txt")


@dataclass(frozen=True, slots=True)
class ValueHere:
    """The value on a line: the path to it as the desk's script sends it and in words, and whether it is a text or typed as in the file."""

    path: str
    label: str
    text: str
    typed: bool
    digest: str


@dataclass(frozen=True, slots=True)
class LinesView:
    """Some lines of a file, each with its number; `line` is the one that is meant, 0 for the whole file; `told` is what was found there."""

    file: str
    line: int
    lines: tuple[tuple[int, str], ...]
    told: tuple[str, ...]
    value: ValueHere | None
    changeable: bool
    """Whether lines of this file can be changed here."""


def show_lines(desk: Desk, at: At) -> LinesView | None:
    """The lines; None for what is no text of the guide, or lies outside of it."""
    path = find_inside(desk.folder, at.file)
    if path is None or not path.is_file() or not _is_text_of_guide(at.file):
        return None
    told = tuple(f"{f.message} {f.mend}".strip() for f in desk.findings if (f.at.file, f.at.line) == (at.file, at.line))
    try:
        changeable = shape_of_file(at.file) is not None
        value = _find_value(desk, at) if changeable and at.line else None
        return LinesView(at.file, at.line, _lines_round(path, at.line), told, value, changeable)
    except OSError:
        return None


def _lines_round(path: Path, line: int) -> tuple[tuple[int, str], ...]:
    first = max(1, line - _AROUND)
    with path.open(encoding="utf-8", errors="replace") as text:
        lines = islice(text, first - 1, first + 2 * _AROUND)
        return tuple((first + number, line.rstrip("\r\n")[:_LONGEST]) for number, line in enumerate(lines))


def _find_value(desk: Desk, at: At) -> ValueHere | None:
    """The value on the line, where it can be changed by itself."""
    try:
        typed, standing = open_typed(desk.folder, at.file), desk.writer.read(at.file)
    except (NotChangeableError, RefusedError):
        return None
    heading = heading_at(typed, at.line) if at.file.endswith(".md") else None
    steps = path_at(typed, at.line) if heading is None else (heading,)
    value: Plain = value_at(standing.values, steps) if steps else None
    text = value if isinstance(value, str) else ValueWriter(at.file).one_line(value) if value is not None else None
    if text is None:
        return None
    label = " › ".join(str(step + 1) if isinstance(step, int) else step for step in steps)
    return ValueHere(json.dumps(steps, ensure_ascii=False), label, text.rstrip("\n"), not isinstance(value, str), standing.digest)


def _is_text_of_guide(file: str) -> bool:
    folder, *rest = PurePosixPath(file).parts
    return shape_of_file(file) is not None or (folder == "sightings" and ".." not in rest and file.lower().endswith(_TABLES))
