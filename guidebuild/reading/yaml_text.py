"""YAML text → Block, with every mistake found in one run.

libyaml composes the nodes and a resolver that knows no types leaves every plain value as typed: `no`, `12:30`, `007`
and `1758` stay text. A line that breaks the syntax is noted, mended in memory and read again, so that one missing
quotation mark does not hide all other findings.
"""

from __future__ import annotations

import operator
import re
from sys import intern
from typing import Any

import yaml
from yaml.cyaml import CParser  # type: ignore[attr-defined]  # in the stubs by another way
from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.guide.findings import At
from guidebuild.reading.anchors import refuse_anchors
from guidebuild.reading.block import Block, Plain
from guidebuild.reading.line_faults import mend_hashtags, mend_line, mend_short_answers, mend_spaces, note_lost_text
from guidebuild.reading.notes import Notes
from guidebuild.reading.text_file import shown_signs

DEEPEST = 24  # lists and mappings inside one another; a facts block needs five
_MOST_MENDS = 40
_NO_TAG = "none"
_SHORT = 40
# Two levels a column of indent at most, and one a bracket: less than this together cannot use up the parser's stack.
_FLAT_INDENT, _FLAT_BRACKETS = 40, 320
_DEEP_INDENT = re.compile(rf"\n[ ?-]{{{_FLAT_INDENT}}}")
_CURLY = (("“", "”"), ("‘", "’"), ("„", "“"), ("«", "»"))
_OPENING = frozenset(opening for opening, _ in _CURLY)


class _TooDeepError(Exception):
    """More levels than DEEPEST; carries the line, from 0."""

    def __init__(self, line: int) -> None:
        super().__init__(line)
        self.line = line


class _Composer(CParser):
    """Composes nodes and resolves nothing: every value has the same tag, unless one is written."""

    # Called for every node: the cheapest callables there are that take what is given and answer one tag, or nothing of use.
    resolve: Any = _NO_TAG.format
    descend_resolver: Any = operator.is_
    ascend_resolver: Any = tuple


class _CarefulComposer(_Composer):
    """Stops at a depth that no guide needs, before the parser's own stack is used up."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self._depth = 0

    def descend_resolver(self, parent: Node | None, index: Any) -> None:
        """One level down."""
        self._depth += 1
        if self._depth > 2 * DEEPEST:
            raise _TooDeepError(parent.start_mark.line if parent is not None else 0)

    def ascend_resolver(self) -> None:
        """One level up."""
        self._depth -= 1


def _composer(text: str) -> type[_Composer]:
    """The careful one where indents or brackets would allow for too deep a text."""
    is_flat = text.count("[") + text.count("{") < _FLAT_BRACKETS and not _DEEP_INDENT.search(f"\n{text}")
    return _Composer if is_flat else _CarefulComposer


def read_block(text: str, file: str, notes: Notes, *, first_line: int = 1) -> Block | None:
    """Read YAML that holds keys and values; None, with findings, where it holds anything else or cannot be read."""
    mended = mend_hashtags(mend_spaces(text, file, first_line, notes), file, first_line, notes)
    if file.startswith("accounts/"):
        mended = mend_short_answers(mended, file, first_line, notes)
    root = _compose(mended, file, first_line, notes)
    if root is None:
        return None
    if isinstance(root, ScalarNode) and not root.value:
        return Block({}, None, file, first_line)
    if not isinstance(root, MappingNode):
        at = At(file, root.start_mark.line + first_line, root.start_mark.column + 1)
        notes.add("not-keys", "This is not a list of keys and values.", at)
        return None
    if "\\" in text:
        _show_escaped(root, file, first_line, notes)
    converter = _Converter(file, first_line, notes)
    data = converter.mapping(root, 0)
    note_lost_text(mended, data, file, first_line, notes)
    with_empty = data if converter.has_empty else None
    filled = _filled(data) if with_empty else data
    return Block(filled, root, file, first_line, converter.children, with_empty, has_all_keys=not converter.has_noted)


def _show_escaped(root: Node, file: str, first_line: int, notes: Notes) -> None:
    """Take out hidden signs that quotation marks brought in as escapes: the text itself was looked through before."""
    waiting = [root]
    while waiting:
        node = waiting.pop()
        if isinstance(node, ScalarNode) and node.style == '"':
            at = At(file, node.start_mark.line + first_line, node.start_mark.column + 1)
            node.value = shown_signs(node.value, at, notes)
        elif isinstance(node, SequenceNode):
            waiting += node.value
        elif isinstance(node, MappingNode):
            waiting += [part for pair in node.value for part in pair]


def _filled(data: dict[str, Plain]) -> dict[str, Plain]:
    """Without the keys and items that have nothing after them: the author has still to fill them in."""
    return {key: _filled_value(value) for key, value in data.items() if value is not None}


def _filled_value(value: Plain) -> Plain:
    if isinstance(value, list):
        filled = [_filled_value(item) for item in value if item is not None]
        return [item for item in filled if item != {}]
    return _filled(value) if isinstance(value, dict) else value


def _compose(text: str, file: str, first_line: int, notes: Notes) -> Node | None:
    """The root node (an empty scalar for an empty text), or None with findings."""
    for _ in range(_MOST_MENDS):
        # Again after each mend: anchors cannot be seen in a text that does not parse.
        if not refuse_anchors(text, file, first_line, notes):
            return None
        try:
            node: Node | None = _composer(text)(text).get_single_node()
        except _TooDeepError as trouble:
            at = At(file, trouble.line + first_line)
            notes.add("too-deep", f"More than {DEEPEST} levels of lists and keys inside one another.", at)
            return None
        except (yaml.YAMLError, RecursionError) as trouble:
            mended = mend_line(text, trouble, file, first_line, notes)
            if mended is None:
                return None
            text = mended
        else:
            return node if node is not None else ScalarNode(_NO_TAG, "")
    return None


class _Converter:
    """Nodes → plain values, noting what YAML allows but a guide does not."""

    def __init__(self, file: str, first_line: int, notes: Notes) -> None:
        self._file = file
        self._line = first_line
        self._notes = notes
        self.children: dict[int, dict[str, tuple[Node, Node]]] = {}
        self.has_empty = False
        self.has_noted = False

    def value(self, node: Node, depth: int) -> Plain:
        if node.tag != _NO_TAG:
            self._note("yaml-tag", f"'{node.tag}' is a YAML type sign.", node)
        if isinstance(node, ScalarNode):
            return self._text(node)
        if depth > DEEPEST:
            self.has_empty = True
            self._note("too-deep", f"More than {DEEPEST} levels of lists and keys inside one another.", node)
            return None
        if isinstance(node, SequenceNode):
            return [self.value(item, depth + 1) for item in node.value]
        return self.mapping(node, depth + 1) if isinstance(node, MappingNode) else None

    def mapping(self, node: MappingNode, depth: int) -> dict[str, Plain]:
        plain: dict[str, Plain] = {}
        known: dict[str, tuple[Node, Node]] = {}
        self.children[id(node)] = known
        merges: list[Node] = []
        for key, value in node.value:
            if not isinstance(key, ScalarNode):
                self._note("key-not-text", "A list or a set of keys stands where a key should be.", key)
            elif key.value == "<<" and not key.style:
                merges += value.value if isinstance(value, SequenceNode) else [value]
            elif key.value in known:
                self._duplicate(key, known[key.value][0])
            else:
                name = intern(key.value)
                known[name] = key, value
                plain[name] = self.value(value, depth)
        for other in merges:
            if isinstance(other, MappingNode):
                plain = self.mapping(other, depth + 1) | plain
                for word, nodes in self.children[id(other)].items():
                    known.setdefault(word, nodes)
            else:
                self._note("yaml-merge", "The key << takes keys and values only.", other)
        return plain

    def _text(self, node: ScalarNode) -> str | None:
        text: str = node.value
        if len(text) < _SHORT:
            text = intern(text)  # words of vocabularies stand in every account
        if not text or text.isspace() or (text == "~" and not node.style):
            # Quotation marks round nothing are nothing too: an empty name would leave a hole in every sentence it stands in.
            self.has_empty = True
            return None
        if node.style or text[0] not in _OPENING:
            return text
        for opening, closing in _CURLY:
            inside = text[1:-1]
            if text[0] == opening and text[-1] == closing and opening not in inside and closing not in inside:
                self._note("curly-quotes", f"{text} has curly quotation marks round it; they were left out.", node)
                return inside
        return text

    def _duplicate(self, key: ScalarNode, first: Node) -> None:
        line, line_before = key.start_mark.line + self._line, first.start_mark.line + self._line
        self._note("duplicate-key", f"The key '{key.value}' stands on line {line_before} and again on line {line}.", key)

    def _note(self, code: str, message: str, node: Node) -> None:
        self.has_noted = True
        at = At(self._file, node.start_mark.line + self._line, node.start_mark.column + 1)
        self._notes.add(code, message, at)
