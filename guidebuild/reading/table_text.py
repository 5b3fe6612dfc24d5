"""Tables in text files as they come: commas, semicolons, tabs, with or without quotation marks, in three encodings.

A quotation mark that is not closed swallows no rows: such lines are read one by one.
"""

from __future__ import annotations

import codecs
import csv
import io
import threading
from collections import deque
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import repeat
from typing import IO

_SNIFFED = 65_536
_STRETCH = 65_536
"""Signs of a text that are looked through at once."""
_BAD_BYTES = threading.local()
_AS_WINDOWS = "windows_1252_where_no_utf8"

Opener = Callable[[], IO[bytes]]
Torn = Callable[[int], None]
"""Is given the line from which on a quotation mark is not closed."""


def _read_as_windows(error: UnicodeError) -> tuple[str, int]:
    """What is no UTF-8 is Windows-1252, and is counted."""
    if not isinstance(error, UnicodeDecodeError):
        raise error
    _BAD_BYTES.count = getattr(_BAD_BYTES, "count", 0) + 1
    return error.object[error.start : error.end].decode("cp1252", errors="replace"), error.end


codecs.register_error(_AS_WINDOWS, _read_as_windows)


def count_bad_bytes() -> int:
    """How often bytes that are no UTF-8 were met so far in this thread."""
    return getattr(_BAD_BYTES, "count", 0)


@dataclass(frozen=True, slots=True)
class Dialect:
    """How a text holds a table. Without a `quote` nothing is quoted; `lines_before` are no rows."""

    encoding: str = "utf-8-sig"
    separator: str = ","
    quote: str = '"'
    line_end: str = "\n"
    lines_before: int = 0


def find_dialect(start: bytes) -> Dialect:
    """The dialect by the first bytes of a file: marks of encodings, line ends, and what the first line holds most of.

    A table whose cells are parted by tabs quotes nothing.
    """
    encoding = _encoding_of(start)
    text = start[:_SNIFFED].decode(encoding, errors="replace")
    line_end = "\n" if "\n" in text or "\r" not in text else "\r"
    first = text.partition(line_end)[0].replace("\r", " ")  # one within a line is no end of a row to the library, but an error
    if first.strip().lower().startswith("sep=") and len(first.strip()) == 5:
        return _with_separator(encoding, first.strip()[-1], line_end, 1)
    separator = max("\t,;|", key=lambda sign: len(next(csv.reader(io.StringIO(first), delimiter=sign), [])))
    return _with_separator(encoding, separator, line_end, 0)


def _with_separator(encoding: str, separator: str, line_end: str, lines_before: int) -> Dialect:
    return Dialect(encoding, separator, "" if separator == "\t" else '"', line_end, lines_before)


def _encoding_of(start: bytes) -> str:
    if start.startswith((codecs.BOM_UTF16_LE, codecs.BOM_UTF16_BE)):
        return "utf-16"
    odd, even = start[1:400:2].count(0), start[0:400:2].count(0)
    if odd + even > min(len(start), 400) // 4:
        return "utf-16-le" if odd > even else "utf-16-be"
    return "utf-8-sig"


def sniff(opener: Opener) -> Dialect:
    """The dialect of what can be opened."""
    with opener() as source:
        return find_dialect(source.read(_SNIFFED))


def open_text(opener: Opener, dialect: Dialect) -> io.TextIOWrapper:
    """The text of what can be opened, to be closed by whoever asks."""
    newline = "\r" if dialect.line_end == "\r" else "\n"
    return io.TextIOWrapper(opener(), encoding=dialect.encoding, errors=_AS_WINDOWS, newline=newline)


def read_rows(text: IO[str], dialect: Dialect, tell_torn: Torn) -> Iterator[list[str]]:
    """The rows of a table, its header among them."""
    for _ in range(dialect.lines_before):
        text.readline()
    careful = _CarefulReader(text, dialect, tell_torn)
    while lines := text.readlines(_STRETCH):
        stretch = "".join(lines)
        if '"' not in stretch:
            careful.pass_by(lines)
            yield from _part_lines(stretch, dialect)
        elif dialect.quote:
            yield from careful.read(lines)
        else:
            yield from _plain_rows(lines, dialect.separator)


def _part_lines(stretch: str, dialect: Dialect) -> Iterator[list[str]]:
    """The rows of lines without a quotation mark."""
    while "\r\n" in stretch:
        stretch = stretch.replace("\r\n", "\n")
    lines = stretch.removesuffix(dialect.line_end).split(dialect.line_end)
    return map(str.split, lines, repeat(dialect.separator))


def _plain_rows(lines: Iterable[str], separator: str) -> Iterator[list[str]]:
    """Rows without quoting; a cell that stands wholly in quotation marks is what stands between them."""
    for line in lines:
        row = line.rstrip("\r\n").split(separator)
        if '"' in line:
            row = [cell[1:-1].replace('""', '"') if len(cell) > 1 and cell[0] == cell[-1] == '"' else cell for cell in row]
        yield row


class _CarefulReader:
    """Reads rows with quoting. Where a mark is not closed, its line is read alone, and all that it swallowed is read anew."""

    def __init__(self, text: IO[str], dialect: Dialect, tell_torn: Torn) -> None:
        self._text, self._dialect, self._tell_torn = text, dialect, tell_torn
        self._lines: deque[str] = deque()  # still to be read
        self._kept: list[str] = []  # of the row that is not whole yet
        self._passed = dialect.lines_before
        self._width = 0

    def pass_by(self, lines: list[str]) -> None:
        """Count lines that are read elsewhere."""
        self._passed += len(lines)
        self._width = self._width or lines[0].count(self._dialect.separator) + 1

    def read(self, lines: list[str]) -> Iterator[list[str]]:
        """The rows of some lines, and of those after them that belong to the last row."""
        self._lines.extend(lines)
        while self._lines:
            torn = False
            reader = csv.reader(self._next_lines(), delimiter=self._dialect.separator, quotechar=self._dialect.quote, strict=True)
            try:
                for row in reader:
                    if len(self._kept) > 1 and _is_torn(row, self._kept, self._width or len(row), self._dialect.separator):
                        torn = True
                        break
                    self._width = self._width or len(row)
                    self._passed += len(self._kept)
                    self._kept.clear()
                    yield row
                    if not self._lines:
                        return
            except csv.Error:
                torn = True
            if torn and self._kept:
                yield self._read_first_alone()

    def _read_first_alone(self) -> list[str]:
        """The first line of a torn row; the others are to be read anew."""
        self._passed += 1
        self._tell_torn(self._passed)
        self._lines.extendleft(reversed(self._kept[1:]))
        alone = self._kept[0]
        self._kept.clear()
        return _read_alone(alone, self._dialect)

    def _next_lines(self) -> Iterator[str]:
        while self._lines:
            self._kept.append(self._lines.popleft())
            yield self._kept[-1]
        for line in self._text:
            self._kept.append(line)
            yield line


def _is_torn(row: list[str], lines: list[str], width: int, separator: str) -> bool:
    """Whether a row of several lines is none: it has not the cells of the first, or a line of it could be a row by itself."""
    return len(row) != width or any(line.count(separator) >= max(width - 1, 1) for line in lines[1:])


def _read_alone(line: str, dialect: Dialect) -> list[str]:
    """One line as one row, whatever its quotation marks."""
    plain = line.rstrip("\r\n")
    if plain.count(dialect.quote) % 2 == 0:
        try:
            return next(csv.reader([plain], delimiter=dialect.separator, quotechar=dialect.quote), [])
        except csv.Error:
            pass  # a cell beyond all measure is parted as it stands
    return [cell.strip().strip(dialect.quote) for cell in plain.split(dialect.separator)]
