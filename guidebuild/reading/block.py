"""Values read from YAML, all as text, and where each of them stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from yaml.nodes import Node, ScalarNode, SequenceNode

from guidebuild.guide.findings import At
from guidebuild.guide.text.inline import NO_TEXT, Inline

Step: TypeAlias = str | int
Plain: TypeAlias = "str | list[Plain] | dict[str, Plain] | None"


@dataclass(frozen=True, slots=True)
class Block:
    """`data` holds text, lists and mappings of text (keys with nothing after them are left out); positions are looked up by path."""

    data: dict[str, Plain]
    root: Node | None
    file: str
    first_line: int = 1
    children: Mapping[int, Mapping[str, tuple[Node, Node]]] = field(default_factory=dict)  # by id of a mapping's node
    with_empty: dict[str, Plain] | None = None  # the data with its empty keys, where there are any
    has_all_keys: bool = False  # whether `children` hold every key of the file: none stands twice, or where none could be read

    def data_at(self, *path: Step) -> Plain:
        """The plain value of a path, None where it does not lead anywhere."""
        here: Plain = self.data
        for step in path:
            if isinstance(here, dict) and isinstance(step, str):
                here = here.get(step)
            elif isinstance(here, list) and isinstance(step, int) and step < len(here):
                here = here[step]
            else:
                return None
        return here

    def at(self, *path: Step) -> At:
        """Where the value of a path stands, as deep as the path can be followed."""
        return self._position(self.node_at(*path))

    def inline(self, text: str, *path: Step) -> Inline:
        """The text of a path with where it stands: in a block that keeps its lines (`|`), where its first line stands."""
        return self._inline(text, self.node_at(*path)) if text else NO_TEXT

    def _inline(self, text: str, node: Node | None) -> Inline:
        if isinstance(node, ScalarNode) and node.style == "|":
            return Inline(text, At(self.file, node.start_mark.line + self.first_line + 1))
        return Inline(text, self._position(node))

    def inlines(self, texts: tuple[str, ...], *path: Step) -> tuple[Inline, ...]:
        """The texts of a list, each with where it stands."""
        return tuple([self.inline(text, *path, number) for number, text in enumerate(texts)])

    def inline_under(self, owner: Node | None, key: str, text: str) -> Inline:
        """The text of a key of a mapping that was looked up before: most of a record's texts share their way."""
        if not text:
            return NO_TEXT
        found = self.children.get(id(owner), {}).get(key)
        return self._inline(text, found[1] if found else owner)

    def node_at(self, *path: Step) -> Node | None:
        """The node of a path, as deep as the path can be followed."""
        node = self.root
        for step in path:
            child = self._child(node, step)
            if child is None and step == 0:
                continue  # an item that stands alone is a list of one
            if child is None:
                break
            node = child[1]
        return node

    def key_at(self, *path: Step) -> At:
        """Where the key itself stands, for a path that ends in a key; else the value."""
        node = self.root
        for step in path[:-1]:
            child = self._child(node, step)
            if child is None:
                return self._position(node)
            node = child[1]
        last = self._child(node, path[-1]) if path else None
        return self._position(last[0] if last else node)

    def key_positions(self, *path: Step) -> tuple[tuple[str, At], ...]:
        """The keys of a mapping and where each stands; none where it stands on one line, which its own place tells."""
        node = self.node_at(*path)
        if node is None or (path and node.start_mark.line == node.end_mark.line):
            return ()
        return tuple([(key, self._position(nodes[0])) for key, nodes in self.children.get(id(node), {}).items()])

    def inner_positions(self, *path: str) -> tuple[tuple[str, At], ...]:
        """The keys of the mapping under the last key of the path, as `key.inner key`."""
        if self.data_at(*path) is None:
            return ()
        return tuple((f"{path[-1]}.{inner}", at) for inner, at in self.key_positions(*path))

    def _child(self, node: Node | None, step: Step) -> tuple[Node, Node] | None:
        """Key node and value node of a step (an item of a list is its own key)."""
        if isinstance(step, str):
            return self.children.get(id(node), {}).get(step)
        if isinstance(node, SequenceNode) and 0 <= step < len(node.value):
            return node.value[step], node.value[step]
        return None

    def _position(self, node: Node | None) -> At:
        if node is None:
            return At(self.file, self.first_line)
        mark = node.start_mark
        return At(self.file, mark.line + self.first_line, mark.column + 1)
