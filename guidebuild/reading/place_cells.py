"""Cells of a table of sightings that name a place by its id."""

from __future__ import annotations

import codecs
import csv
import io
import re
from pathlib import Path

from guidebuild.guide.resolve import fold_name
from guidebuild.guide.sighting_words import SightingWords
from guidebuild.reading.sighting_columns import find_columns
from guidebuild.reading.sighting_notes import SightingNotes
from guidebuild.reading.table_text import Dialect, sniff

TEXTS = (".csv", ".txt", ".tsv")
"""What tables end in whose cells can be changed."""
_MARKS = (codecs.BOM_UTF8, codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)


def find_place_cells(path: Path, old: str, new: str, words: SightingWords) -> tuple[bytes, list[int]]:
    """The bytes of a file with the new id in place of the old in its `locationID` and `locality`, and the lines that changed.

    `words` say what plain headings mean.
    """
    raw = path.read_bytes()
    mark = next((mark for mark in _MARKS if raw.startswith(mark)), b"")
    encoding = {codecs.BOM_UTF16_LE: "utf-16-le", codecs.BOM_UTF16_BE: "utf-16-be"}.get(mark, "utf-8")
    layout = sniff(lambda: path.open("rb"))
    try:
        text = raw.removeprefix(mark).decode(encoding)
    except UnicodeDecodeError:
        encoding = "latin-1"  # every byte is a sign of it and comes back as it was; ids have none of the doubtful ones
        text = raw.decode(encoding)
    head = text.split("\n", layout.lines_before + 1)[layout.lines_before] if layout.lines_before else text.partition("\n")[0]
    columns = find_columns(next(csv.reader(io.StringIO(head), delimiter=layout.separator), []), SightingNotes(""), words)
    wanted = {columns.position(term) for term in ("locationID", "locality") if columns.has(term)} if columns else set()
    made: list[str] = []
    lines: list[int] = []
    end = 0
    for column, start, stop, line in _cells(text, layout):
        cell = text[start:stop]
        if column in wanted and fold_name(cell.strip('"')) == fold_name(old):
            made += [text[end:start], f'"{new}"' if cell.startswith('"') else new]
            lines.append(line)
            end = stop
    return mark + "".join((*made, text[end:])).encode(encoding), lines


def _cells(text: str, layout: Dialect) -> list[tuple[int, int, int, int]]:
    """Column, start, end and line of every cell."""
    sign, separator = re.escape(layout.separator), layout.separator
    quoted = '"(?:[^"]|"")*"|' if layout.quote else ""
    plain = rf'[^{sign}\r\n"]*' if layout.quote else rf"[^{sign}\r\n]*"
    cells = []
    column, line = 0, 1
    for cell in re.finditer(rf"({quoted}{plain})({sign}|\r\n|\r|\n|$)", text):
        cells.append((column, cell.start(1), cell.end(1), line))
        line += text.count("\n", cell.start(), cell.end())
        column = column + 1 if cell[2] == separator else 0
    return cells
