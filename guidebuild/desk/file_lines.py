"""The lines of a file round the one that a finding names, for files that no part of the desk has the fields of."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import islice
from pathlib import Path, PurePosixPath

from guidebuild.guide.findings import At
from guidebuild.press.engine.trees import find_inside
from guidebuild.reading.file_shapes import shape_of_file

_AROUND = 8
_LONGEST = 400
_TABLES = (".csv", ".tsv", ".txt")


@dataclass(frozen=True, slots=True)
class LinesView:
    """Some lines of a file, each with its number; `line` is the one that is meant, 0 for the whole file."""

    file: str
    line: int
    lines: tuple[tuple[int, str], ...]


def show_lines(folder: Path, at: At) -> LinesView | None:
    """The lines; None for what is no text of the guide, or lies outside of it."""
    path = find_inside(folder, at.file)
    if path is None or not path.is_file() or not _is_text_of_guide(at.file):
        return None
    first = max(1, at.line - _AROUND)
    try:
        with path.open(encoding="utf-8", errors="replace") as text:
            lines = tuple(islice(text, first - 1, first + 2 * _AROUND))
    except OSError:
        return None
    return LinesView(at.file, at.line, tuple((first + number, line.rstrip("\r\n")[:_LONGEST]) for number, line in enumerate(lines)))


def _is_text_of_guide(file: str) -> bool:
    folder, *rest = PurePosixPath(file).parts
    return shape_of_file(file) is not None or (folder == "sightings" and ".." not in rest and file.lower().endswith(_TABLES))
