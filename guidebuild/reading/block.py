"""Values read from YAML, all as text, and where each of them stands."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

from yaml.nodes import Node, ScalarNode, SequenceNode

from guidebuild.guide.findings import At, KeyPlaces
from guidebuild.guide.text.inline import NO_TEXT, Inline

Step: TypeAlias = str | int
Plain: TypeAlias = "str | list[Plain] | dict[str, Plain] | None"

_NO_KEYS: Mapping[str, tuple[Node, Node]] = {}


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

    def __reduce__(self) -> str | tuple[object, ...]:
        raise TypeError("a block looks its places up by the identity of nodes, and stays in this process")

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
        return self.place(self.follow(path)[1])

    def inline(self, text: str, *path: Step) -> Inline:
        """The text of a path with where it stands: in a block that keeps its lines (`|`), where its first line stands."""
        return self._inline(text, self.follow(path)[1]) if text else NO_TEXT

    def _inline(self, text: str, node: Node | None) -> Inline:
        if isinstance(node, ScalarNode) and node.style == "|":
            return Inline(text, At(self.file, node.start_mark.line + self.first_line + 1))
        return Inline(text, self.place(node))

    def inlines(self, texts: tuple[str, ...], *path: Step) -> tuple[Inline, ...]:
        """The texts of a list, each with where it stands."""
        return tuple([self.inline(text, *path, number) for number, text in enumerate(texts)])

    def inline_under(self, owner: Node | None, key: str, text: str) -> Inline:
        """The text of a key of a mapping that was looked up before: most of a record's texts share their way."""
        if not text:
            return NO_TEXT
        found = self.children.get(id(owner), _NO_KEYS).get(key)
        return self._inline(text, found[1] if found else owner)

    def place_under(self, owner: Node | None, key: str) -> At:
        """Where the value of a key stands, of a mapping that was looked up before."""
        found = self.children.get(id(owner), _NO_KEYS).get(key)
        return self.place(found[1] if found else owner)

    def key_at(self, *path: Step) -> At:
        """Where the key itself stands, for a path that ends in a key; else the value."""
        return self.place(self.follow(path)[0])

    def has_key(self, *path: Step) -> bool:
        """Whether the last key of a path stands there, with or without a value."""
        return path[-1] in self.children.get(id(self.follow(path[:-1])[1]), _NO_KEYS)

    def follow(self, path: tuple[Step, ...]) -> tuple[Node | None, Node | None]:
        """The nodes of a path's last key and of its value, as deep as the path can be followed; what has no key counts as its own."""
        key = value = self.root
        for step in path:
            child = self._child(value, step)
            if child is not None:
                key, value = child
                continue
            key = value
            if step != 0:  # an item that stands alone is a list of one
                break
        return key, value

    def key_places(self, *path: Step, inside: tuple[str, ...] = ()) -> Mapping[str, At]:
        """Where the keys of a mapping stand, and those of mappings `inside` it, as `key.inner key`."""
        owner = self.follow(path)[1]
        places = self._lines_of_keys(owner, is_whole=not path)
        for key in inside:
            found = self._child(owner, key)
            if found is not None:
                places |= {f"{key}.{inner}": numbers for inner, numbers in self._lines_of_keys(found[1]).items()}
        return KeyPlaces(self.file, places)

    def key_places_of(self, owner: Node | None) -> Mapping[str, At]:
        """The same of a mapping that was looked up before."""
        return KeyPlaces(self.file, self._lines_of_keys(owner, is_whole=owner is self.root))

    def _lines_of_keys(self, owner: Node | None, *, is_whole: bool = False) -> dict[str, tuple[int, int]]:
        """Line and column of each key of a mapping; none where it stands on one line, which its own place tells."""
        if owner is None or not (is_whole or owner.start_mark.line != owner.end_mark.line):
            return {}
        first_line = self.first_line
        return {
            key: ((mark := nodes[0].start_mark).line + first_line, mark.column + 1)
            for key, nodes in self.children.get(id(owner), _NO_KEYS).items()
        }

    def _child(self, node: Node | None, step: Step) -> tuple[Node, Node] | None:
        """Key node and value node of a step (an item of a list is its own key)."""
        if isinstance(step, str):
            return self.children.get(id(node), _NO_KEYS).get(step)
        if isinstance(node, SequenceNode) and 0 <= step < len(node.value):
            return node.value[step], node.value[step]
        return None

    def place(self, node: Node | None) -> At:
        """Where a node stands."""
        if node is None:
            return At(self.file, self.first_line)
        mark = node.start_mark
        return At(self.file, mark.line + self.first_line, mark.column + 1)
