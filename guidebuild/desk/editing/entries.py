"""Where the entries of a YAML text stand: keys with their values, items of lists, and the lines that are theirs."""

from __future__ import annotations

import re
from bisect import bisect_right
from dataclasses import dataclass

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.desk.editing.wanted import Path
from guidebuild.reading.typed_file import NotChangeableError, TypedFile

_REMARK = re.compile(r"[ \t]+#[^\r\n]*|[ \t]+(?=[\r\n]|$)")
_LINE = re.compile(r"[^\r\n\x85\u2028\u2029]*")


@dataclass(frozen=True, slots=True)
class Entry:
    """One entry of a list or of keys with values."""

    owner: Node
    index: int
    key: Node | None
    value: Node


def find_entry(typed: TypedFile, path: Path) -> Entry | None:
    """The entry at a path, None where there is none; a value that stands alone is its own first item."""
    found: Entry | None = None
    here: Node | None = typed.root
    for step in path:
        if isinstance(here, SequenceNode) and isinstance(step, int):
            found = Entry(here, step, None, here.value[step]) if step < len(here.value) else None
        elif isinstance(here, MappingNode) and isinstance(step, str):
            keys = [key.value if isinstance(key, ScalarNode) else None for key, _ in here.value]
            index = keys.index(step) if step in keys else -1
            found = Entry(here, index, *here.value[index]) if index >= 0 else None
        elif step != 0:
            found = None
        if found is None:
            return None
        here = found.value
    return found


def entries_of(owner: Node) -> list[Entry]:
    """All entries of a list, or of keys with values."""
    return [Entry(owner, n, *p) if isinstance(p, tuple) else Entry(owner, n, None, p) for n, p in enumerate(owner.value)]


def path_at(typed: TypedFile, line: int) -> Path:
    """The path to the deepest value that stands on a line, as far as there is one."""
    places = Places(typed)
    path: Path = ()
    here: Node | None = typed.root
    while isinstance(here, MappingNode | SequenceNode) and here.value:
        begins = [(typed.at(places.lead(entry)).line, entry) for entry in entries_of(here)]
        above = [entry for start, entry in begins if start <= line]
        if not above or line >= typed.at(places.below(above[-1])).line > typed.at(places.lead(above[-1])).line:
            break
        step = above[-1].key.value if above[-1].key is not None else above[-1].index
        path, here = (*path, step), above[-1].value
        if is_flow(here):
            break
    return path


def is_flow(node: Node) -> bool:
    """Whether a list or keys stand between brackets."""
    return bool(getattr(node, "flow_style", False)) and not isinstance(node, ScalarNode)


class Places:
    """Where the parts of a file's entries begin and end in its text."""

    def __init__(self, typed: TypedFile) -> None:
        """The places are those of one text: they count for no other."""
        self.typed = typed
        self.text = typed.text

    def line_start(self, offset: int) -> int:
        """Where the line of a place begins."""
        return self.typed.line_starts[bisect_right(self.typed.line_starts, offset) - 1]

    def line_end(self, offset: int) -> int:
        """Where the line of a place ends, before its line end."""
        found = _LINE.match(self.text, offset)
        return found.end() if found else offset

    def column(self, offset: int) -> int:
        """How many signs stand before a place on its line."""
        return offset - self.line_start(offset)

    def below(self, entry: Entry) -> int:
        """Where the line begins that follows an entry's last, with remarks below it that are indented further than the entry."""
        end = self.typed.end_line_of(entry.value)
        inside = re.compile(rf"(?:[ \t]*(?:\r\n|[\r\n]))*[ ]{{{self.column(self.lead(entry)) + 1},}}#")
        while end < self.typed.facts_end and (found := inside.match(self.text, end)):
            end = self.next_line(found.end())
        return end

    def next_line(self, offset: int) -> int:
        """Where the line after a place's own begins."""
        end = self.line_end(offset)
        return end + (2 if self.text[end : end + 2] == "\r\n" else 1 if end < len(self.text) else 0)

    @staticmethod
    def is_block_text(node: Node) -> bool:
        """Whether a value is a text below a `|` or `>`."""
        return isinstance(node, ScalarNode) and node.style in ("|", ">")

    def is_below(self, node: Node) -> bool:
        """Whether a value is a list or keys on lines of its own."""
        return not isinstance(node, ScalarNode) and not is_flow(node)

    def value_span(self, entry: Entry) -> tuple[int, int]:
        """Where a value begins and ends, as it is typed: without what follows it on its line or on blank ones."""
        start, end = self.typed.span(entry.value)
        if isinstance(entry.value, ScalarNode) and not entry.value.value and start == end and not is_flow(entry.owner):
            # Nothing, or what is read as nothing, such as a question mark.
            start = self.lead_end(entry)
            rest = self.text[start : self.line_end(start)]
            remark = _REMARK.search(rest)
            return start, start + (remark.start() if remark and not rest[: remark.start()].strip() else len(rest.rstrip()))
        if getattr(entry.value, "style", None) == '"' and self.text[start : start + 1] != '"' and not is_flow(entry.owner):
            # Quotation marks were put round the rest of the line so that it could be read.
            return start, start + len(self.text[start : self.line_end(start)].rstrip())
        return start, start + len(self.text[start:end].rstrip())

    def lead(self, entry: Entry) -> int:
        """Where an entry begins: its key, or its hyphen."""
        if entry.key is not None:
            return self.typed.span(entry.key)[0]
        start, _ = self.typed.span(entry.value)
        if is_flow(entry.owner):
            return start
        first = self.typed.span(entry.owner)[0]
        column = self.column(first)
        line = self.line_start(start)
        while line > first:
            if re.match(rf"[ ]{{{column}}}-(?=[\s]|$)", self.text[line:]):
                return line + column
            line = self.line_start(line - 1)
        if self.text[first : first + 1] != "-":
            raise NotChangeableError(f"{self.typed.at(start)}: the hyphen of this item is not found.")
        return first

    def lead_end(self, entry: Entry) -> int:
        """Where an entry's key ends, with its colon, or its hyphen."""
        if entry.key is None:
            return self.lead(entry) + 1
        end = self.typed.span(entry.key)[1]
        return self.text.index(":", end) + 1

    def leads_line(self, entry: Entry) -> bool:
        """Whether nothing stands before an entry on its line."""
        lead = self.lead(entry)
        return not self.text[self.line_start(lead) : lead].strip()

    def remark_after(self, offset: int) -> str:
        """The remark that ends a line, with the spaces before it."""
        rest = self.text[offset : self.line_end(offset)]
        found = _REMARK.fullmatch(rest)
        return found[0] if found else ""


def list_indent(typed: TypedFile) -> int:
    """By how many columns the hyphens of lists are indented below their key in this file: as in its first list."""
    pending: list[Node] = [typed.root] if typed.root is not None else []
    while pending:
        node = pending.pop(0)
        pairs = node.value if isinstance(node, MappingNode) else ()
        for key, value in pairs:
            if isinstance(value, SequenceNode) and not value.flow_style:
                return max(0, int(value.start_mark.column) - int(key.start_mark.column))
        pending += [value for _, value in pairs] if isinstance(node, MappingNode) else node.value if isinstance(node, SequenceNode) else []
    return 2
