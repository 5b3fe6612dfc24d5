"""One step in a YAML text: the lines of one value are written anew, all others stay as they are."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence

from yaml.nodes import MappingNode, Node, ScalarNode

from guidebuild.desk.editing.entries import Entry, Places, entries_of, find_entry, is_flow, list_indent
from guidebuild.desk.editing.steps import Insert, Remove, Replace, Step
from guidebuild.desk.editing.wanted import Path
from guidebuild.desk.editing.written_values import STEP, ValueWriter, marks_of
from guidebuild.reading.block import Plain
from guidebuild.reading.typed_file import Edit, NotChangeableError, TypedFile

KeyOrder = Callable[[Path], Sequence[str]]
"""The keys that may stand at a path, in the order in which authors usually write them."""
_SPACES = re.compile(r"[ ]*")
_HEADER = re.compile(r"(?P<sign>[|>])(?P<more>[-+0-9]*)")


class YamlLines:
    """The steps that can be made in one text."""

    def __init__(self, typed: TypedFile, order: KeyOrder) -> None:
        """`order` tells where a new key is put among the others."""
        self._typed = typed
        self._places = Places(typed)
        self._writer = ValueWriter(typed.file, typed.newline)
        self._order = order

    def carry_out(self, step: Step) -> list[Edit]:
        """The edits of a step; raises NotChangeableError where its place is not found."""
        if isinstance(step, Insert):
            return [self._insert(step)]
        entry = find_entry(self._typed, step.path)
        if entry is None:
            raise NotChangeableError(f"{self._typed.file}: {step.path[-1]!r} is not found as it is typed.")
        if isinstance(step, Remove):
            return [self._remove(entry)]
        return [self._replace(entry, step)]

    # A value in place of another

    def _replace(self, entry: Entry, step: Replace) -> Edit:
        start, end = self._places.value_span(entry)
        value, old = step.value, entry.value
        typed = self._typed.text[start:end]
        if is_flow(entry.owner):
            inside = self._writer.one_line(value, in_flow=True, marks=marks_of(typed)) or ""
            return Edit(start, end, f" {inside}" if start == end and entry.key is not None else inside)
        if Places.is_block_text(old) and isinstance(value, str):
            edit = self._block_text(entry, value)
            if edit is not None:
                return edit
        line = self._writer.one_line(value, marks=marks_of(typed)) if isinstance(value, str) else self._writer.one_line(value)
        if line is None and is_flow(old) and isinstance(value, list | dict):
            line = self._writer.one_line(value, in_flow=True)
        if line is not None and not Places.is_block_text(old) and not self._places.is_below(old):
            return Edit(start, end, f" {line}" if start == self._places.lead_end(entry) else line)
        return self._write_anew(entry, value)

    def _block_text(self, entry: Entry, value: str) -> Edit | None:
        """Other lines below the header that is there; None where they cannot be told so."""
        start, _ = self._typed.span(entry.value)
        header = _HEADER.match(self._typed.text, start)
        first, below = self._places.next_line(start), self._typed.end_line_of(entry.value)
        old = self._typed.text[first:below]
        indent = min((len(line) - len(line.lstrip(" ")) for line in old.splitlines() if line.strip()), default=self._column(entry) + 2)
        width = max((len(line) for line in old.splitlines()), default=100) - indent
        if header is None or any(sign.isdigit() for sign in header["more"]):
            return None
        for wide in (max(width, 40), 0) if header["sign"] == ">" else (0,):
            lines = self._writer.block_lines(value, header[0], " " * indent, wide)
            if lines is not None:
                return Edit(first, below, lines)
        return None

    def _write_anew(self, entry: Entry, value: Plain) -> Edit:
        """A value of another kind: all that follows the key or the hyphen, to the end of the old value's lines."""
        lead, below, text = self._places.lead_end(entry), self._places.below(entry), self._typed.text
        start, end = self._places.value_span(entry)
        begins_below = self._places.line_start(start) > lead and self._places.is_below(entry.value)
        remark = self._places.remark_after(lead if begins_below or start == end else end)
        between = text[self._places.next_line(lead) : self._places.line_start(start)] if begins_below else ""
        column = self._column(entry)
        if entry.key is None and isinstance(value, dict):
            return Edit(lead, below, self._writer.item(value, column))
        lists_at = self._typed.span(entry.value)[0] if self._places.is_below(entry.value) and begins_below else None
        at = (
            self._places.column(lists_at)
            if lists_at is not None
            else column + (list_indent(self._typed) if entry.key is not None else STEP)
        )
        written = self._writer.after_lead(value, column, remark=remark, lists_at=at)
        if between:
            head, newline, rest = written.partition(self._typed.newline)
            written = f"{head}{newline}{between}{rest}"
        return Edit(lead, below, written if below < len(text) or text.endswith(("\n", "\r")) else written.removesuffix(self._typed.newline))

    def _column(self, entry: Entry) -> int:
        return self._places.column(self._places.lead(entry))

    # An entry less

    def _remove(self, entry: Entry) -> Edit:
        entries = entry.owner.value
        if is_flow(entry.owner):
            return self._remove_from_flow(entry, len(entries))
        lead, below = self._places.lead(entry), self._places.below(entry)
        if self._places.leads_line(entry):
            return Edit(self._places.line_start(lead), below, "")
        if len(entries) == 1:
            raise NotChangeableError(f"{self._typed.at(lead)}: this is the only entry here. Take away what it belongs to.")
        # The next entry moves up behind the hyphen that the first stood behind.
        spaces = _SPACES.match(self._typed.text, below)
        return Edit(lead, spaces.end() if spaces else below, "")

    def _remove_from_flow(self, entry: Entry, count: int) -> Edit:
        start, end = self._flow_span(entry.owner, entry.index)
        if entry.index + 1 < count:
            return Edit(start, self._flow_span(entry.owner, entry.index + 1)[0], "")
        return Edit(self._flow_span(entry.owner, entry.index - 1)[1] if entry.index else start, end, "")

    def _flow_span(self, owner: Node, index: int) -> tuple[int, int]:
        item = owner.value[index]
        first, last = item if isinstance(item, tuple) else (item, item)
        return self._typed.span(first)[0], max(self._typed.span(last)[1], self._typed.span(first)[1])

    # An entry more

    def _insert(self, step: Insert) -> Edit:
        *above, last = step.path
        owner_path = tuple(above)
        found = find_entry(self._typed, owner_path) if above else None
        owner = found.value if found else self._typed.root
        if owner is None:
            return self._at_end(self._new_line(last, step.value, 0))
        if isinstance(owner, ScalarNode):
            raise NotChangeableError(f"{self._typed.file}: {owner_path[-1]!r} is a text, to which nothing can be added.")
        index = int(last) if isinstance(last, int) else self._place_of(owner, owner_path, str(last))
        if is_flow(owner):
            return self._insert_into_flow(owner, index, last, step.value)
        return self._insert_line(owner, index, last, step.value)

    def _place_of(self, owner: Node, path: Path, key: str) -> int:
        """Behind the last of those keys that usually stand before it, else behind all."""
        order = list(self._order(path))
        before = set(order[: order.index(key)]) if key in order else set()
        places = [n for n, (known, _) in enumerate(owner.value) if known.value in before]
        if places:
            return places[-1] + 1
        return 0 if key in order and owner.value and order.index(key) == 0 else len(owner.value)

    def _new_line(self, step: str | int, value: Plain, column: int, *, inner: int | None = None) -> str:
        indent = " " * column
        if isinstance(step, int):
            return f"{indent}-{self._writer.item(value, column, inner=inner)}"
        lists_at = column + list_indent(self._typed)
        return f"{indent}{self._writer.key(step)}:{self._writer.after_lead(value, column, lists_at=lists_at)}"

    def _insert_line(self, owner: Node, index: int, last: str | int, value: Plain) -> Edit:
        entries = entries_of(owner)
        column = self._column(entries[0])
        keyed = [e for e in entries if e.key is None and isinstance(e.value, MappingNode) and e.value.value and not e.value.flow_style]
        inner = self._places.column(self._typed.span(keyed[0].value)[0]) if keyed else None
        line = self._new_line(last, value, column, inner=inner)
        if isinstance(last, str) and owner is self._typed.root:
            unread = self._find_unread(last)
            if unread is not None:
                return Edit(*unread, line)
            asked = self._below_question(last)
            if asked is not None:
                return self._line_at(asked, line)
        if index == 0 and self._places.leads_line(entries[0]):
            at = self._places.line_start(self._places.lead(entries[0]))
            return Edit(at, at, line)
        if index == 0:
            at = self._places.lead(entries[0])
            return Edit(at, at, line[column:] + " " * column)
        at = self._places.below(entries[min(index, len(entries)) - 1])
        if index >= len(entries) > 1 and self._has_gap(entries[-1]):
            line = self._typed.newline + line
        return self._line_at(at, line)

    def _has_gap(self, entry: Entry) -> bool:
        """Whether a blank line stands before an entry, as between records in many files."""
        start = self._places.line_start(self._places.lead(entry))
        above = self._places.line_start(start - 1) if start else 0
        return start > 0 and not self._typed.text[above:start].strip()

    def _find_unread(self, key: str) -> tuple[int, int] | None:
        """A line of this key that is read as saying nothing, such as `status: ?`."""
        facts = self._typed.text[: self._typed.facts_end]
        found = re.search(rf"^{re.escape(key)}:", facts, re.MULTILINE)
        return (found.start(), self._places.next_line(found.start())) if found else None

    def _below_question(self, key: str) -> int | None:
        """The line below the remark in which a draft asks for this key, with what is to be filled in; None where none does."""
        asked = re.search(rf"^# {re.escape(key)}:", self._typed.text[: self._typed.facts_end], re.MULTILINE)
        if asked is None:
            return None
        here = self._places.next_line(asked.start())
        while here < self._typed.facts_end and self._typed.text.startswith("#  ", here):
            here = self._places.next_line(here)
        return here

    def _line_at(self, at: int, line: str) -> Edit:
        """Whole lines at the beginning of a line, or behind a last line that has no end."""
        if at == 0 or self._typed.text[at - 1] in "\n\r\x85\u2028\u2029":
            return Edit(at, at, line)
        return Edit(at, at, self._typed.newline + line.removesuffix(self._typed.newline))

    def _at_end(self, line: str) -> Edit:
        return self._line_at(self._typed.facts_end, line)

    def _insert_into_flow(self, owner: Node, index: int, last: str | int, value: Plain) -> Edit:
        line = self._writer.one_line(value, in_flow=True) or ""
        text = line if isinstance(last, int) else f"{self._writer.key(last, in_flow=True)}: {line}"
        if not owner.value:
            at = self._typed.span(owner)[0] + 1
            return Edit(at, at, text)
        if index < len(owner.value):
            at = self._flow_span(owner, index)[0]
            return Edit(at, at, f"{text}, ")
        start, at = self._flow_span(owner, len(owner.value) - 1)
        typed = self._typed.text[start:at].rstrip()
        # A key without a value needs its space before the comma.
        return Edit(start + len(typed), start + len(typed), f" , {text}" if typed.endswith(":") else f", {text}")
