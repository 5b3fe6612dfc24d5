"""A text file of the guide as it stands on disk, with the places of its keys, values and prose in the very text.

What is changed by them leaves every other byte as it was.
"""

from __future__ import annotations

import codecs
import re
from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property
from pathlib import Path

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.errors import SaidInOneLineError
from guidebuild.guide.findings import At, Level
from guidebuild.reading.block import Plain
from guidebuild.reading.fence import split_fence
from guidebuild.reading.notes import Notes
from guidebuild.reading.text_file import clean_text
from guidebuild.reading.yaml_text import read_block

# What `clean_text` takes for the end of a line.
LINE_END = re.compile(r"\r\n|[\n\r\x85\u2028\u2029]")
_NEEDS_QUOTES = re.compile(r": | #|:$|^[\"'#&*!|>%@`?,\[\]{}-]|^\s|\s$")
_NEEDS_QUOTES_IN_LISTS = re.compile(r"[,\[\]{}]")


class NotChangeableError(SaidInOneLineError):
    """A file cannot be changed safely; the message says why and what to do."""


@dataclass(frozen=True, slots=True)
class Edit:
    """New text in place of what stands from `start` to `end`."""

    start: int
    end: int
    text: str


class TypedFile:
    """The text of a file without its byte order mark, the root of its YAML (None: it has none), where that ends and where prose begins."""

    def __init__(self, file: str, raw: bytes) -> None:
        """Read a file's bytes; raises NotChangeableError where they cannot be read to the end: what they name could not all be found."""
        self.file = file
        self._mark = codecs.BOM_UTF8 if raw.startswith(codecs.BOM_UTF8) else b""
        try:
            self.text = raw.removeprefix(self._mark).decode("utf-8")
        except UnicodeDecodeError as error:
            raise NotChangeableError(f"{file} is not saved as UTF-8. Save it so first.") from error
        notes = Notes()
        clean = clean_text(self.text, file, notes)
        self._first_line, self.prose, self.facts_end = 1, len(self.text), len(self.text)
        facts = clean
        if file.endswith(".md"):
            parts = split_fence(clean, file, notes)
            if parts is None:
                raise _cannot_read(notes)
            facts, self._first_line = parts.facts, parts.facts_line
            self.prose = self._start_of(parts.body_line)
            self.facts_end = self._start_of(parts.body_line - 1)
        block = read_block(facts, file, notes, first_line=self._first_line)
        if block is None:
            raise _cannot_read(notes)
        self.root = block.root if isinstance(block.root, MappingNode) else None
        self.as_typed: dict[str, Plain] = block.data if block.with_empty is None else block.with_empty
        """What the YAML says, with the keys and items that have nothing after them."""

    def _start_of(self, line: int) -> int:
        return self.line_starts[line - 1] if line <= len(self.line_starts) else len(self.text)

    @cached_property
    def line_starts(self) -> list[int]:
        """Where each line begins in the text; the last may be empty."""
        return [0, *(found.end() for found in LINE_END.finditer(self.text))]

    @cached_property
    def newline(self) -> str:
        """How the file ends its lines."""
        found = LINE_END.search(self.text)
        return found[0] if found else "\n"

    def at(self, offset: int) -> At:
        """Line and column of a place in the text."""
        line = sum(1 for start in self.line_starts if start <= offset)
        return At(self.file, line, offset - self.line_starts[line - 1] + 1)

    def span(self, node: Node) -> tuple[int, int]:
        """Where a node begins and ends in the text."""
        return self._offset(node.start_mark.line, node.start_mark.column), self._offset(node.end_mark.line, node.end_mark.column)

    def _offset(self, line: int, column: int) -> int:
        line += self._first_line - 1
        return self.line_starts[line] + column if line < len(self.line_starts) else len(self.text)

    def scalars(self) -> Iterator[ScalarNode]:
        """Every text value of the YAML, keys left out."""
        yield from _values_below(self.root) if self.root is not None else ()

    def find_keys(self) -> Iterator[ScalarNode]:
        """Every key of the YAML."""
        yield from _keys_below(self.root) if self.root is not None else ()

    def place(self, node: Node) -> tuple[int, int]:
        """Line and column of a node as findings tell them."""
        return node.start_mark.line + self._first_line, node.start_mark.column + 1

    def child(self, *path: str) -> tuple[ScalarNode, Node] | None:
        """Key and value of a path of keys."""
        found: tuple[ScalarNode, Node] | None = None
        here: Node | None = self.root
        for step in path:
            pairs = here.value if isinstance(here, MappingNode) else ()
            found = next((pair for pair in pairs if isinstance(pair[0], ScalarNode) and pair[0].value == step), None)
            here = found[1] if found else None
        return found

    def replace_scalar(self, node: ScalarNode, text: str) -> Edit:
        """Another text for a value, in the quotation marks that it has; raises NotChangeableError where it is not found as typed."""
        start, end = self.span(node)
        typed = self.text[start:end].rstrip()
        if typed == node.value:
            in_list = not _NEEDS_QUOTES_IN_LISTS.search(typed)  # else these signs may stand there
            return Edit(start, start + len(typed), write_scalar(text, in_list=in_list))
        if len(typed) > 1 and typed[0] == typed[-1] and typed[0] in "\"'":
            return Edit(start, start + len(typed), _quote(text, typed[0]))
        raise NotChangeableError(f"{self.at(start)}: “{node.value}” cannot be changed as it stands. Write it on one line, plainly.")

    def end_line_of(self, node: Node) -> int:
        """Where the line begins that follows the last one of a value. Blank lines after a text are not its own."""
        last = _last_of(node)
        start, end = self.span(last)
        if isinstance(last, ScalarNode) and last.style in ("|", ">"):
            end = start + len(self.text[start:end].rstrip())
        number = bisect_right(self.line_starts, end)
        return self.line_starts[number] if number < len(self.line_starts) else len(self.text)

    def changed(self, edits: list[Edit]) -> bytes:
        """The bytes of the file with the edits made."""
        text = self.text
        for edit in sorted(edits, key=lambda e: (e.start, e.end), reverse=True):
            text = text[: edit.start] + edit.text + text[edit.end :]
        return self._mark + text.encode()


def write_scalar(text: str, *, in_list: bool = True) -> str:
    """A text as a value, in quotation marks where it has signs of YAML in it; in a list between brackets there are more of them."""
    needs = _NEEDS_QUOTES.search(text) or (in_list and _NEEDS_QUOTES_IN_LISTS.search(text))
    return _quote(text, '"') if needs else text


def _quote(text: str, sign: str) -> str:
    inside = text.replace("'", "''") if sign == "'" else text.replace("\\", "\\\\").replace('"', '\\"')
    return f"{sign}{inside}{sign}"


def _last_of(node: Node) -> Node:
    """The value that ends last in a list or in keys and values over several lines."""
    if isinstance(node, SequenceNode | MappingNode) and not node.flow_style and node.value:
        last = node.value[-1]
        return _last_of(last[1] if isinstance(last, tuple) else last)
    return node


def _values_below(node: Node) -> Iterator[ScalarNode]:
    if isinstance(node, ScalarNode):
        yield node
    elif isinstance(node, SequenceNode):
        for item in node.value:
            yield from _values_below(item)
    elif isinstance(node, MappingNode):
        for _, value in node.value:
            yield from _values_below(value)


def _keys_below(node: Node) -> Iterator[ScalarNode]:
    if isinstance(node, SequenceNode):
        for item in node.value:
            yield from _keys_below(item)
    elif isinstance(node, MappingNode):
        for key, value in node.value:
            if isinstance(key, ScalarNode):
                yield key
            yield from _keys_below(value)


def open_typed(root: Path, file: str) -> TypedFile:
    """The file as it stands on disk; raises NotChangeableError as `TypedFile` does."""
    try:
        return TypedFile(file, (root / file).read_bytes())
    except OSError as error:
        raise NotChangeableError(f"{file} cannot be opened: {error.strerror}.") from error


def _cannot_read(notes: Notes) -> NotChangeableError:
    first = next(found for found in notes.findings if found.level is Level.ERROR)
    return NotChangeableError(f"{first} Mend that first: what the file names could not all be found.")
