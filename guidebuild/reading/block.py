"""Values read from YAML, all as text, and where each of them stands."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.guide.findings import At

Step: TypeAlias = str | int
Plain: TypeAlias = "str | None | list[Plain] | dict[str, Plain]"


@dataclass(frozen=True, slots=True)
class Block:
    """`data` holds text, lists and mappings of text (keys with nothing after them are left out); positions are looked up by path."""

    data: dict[str, Plain]
    root: Node | None
    file: str
    first_line: int = 1

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
        node = self.root
        for step in path:
            found = _child(node, step)
            if found is None:
                break
            node = found[1]
        return self._position(node)

    def key_at(self, *path: Step) -> At:
        """Where the key itself stands, for a path that ends in a key; else the value."""
        node = self.root
        for step in path[:-1]:
            found = _child(node, step)
            if found is None:
                return self._position(node)
            node = found[1]
        last = _child(node, path[-1]) if path else None
        return self._position(last[0] if last else node)

    def _position(self, node: Node | None) -> At:
        if node is None:
            return At(self.file, self.first_line)
        mark = node.start_mark
        return At(self.file, mark.line + self.first_line, mark.column + 1)


def _child(node: Node | None, step: Step) -> tuple[Node, Node] | None:
    """Key node and value node of a step (an item of a list is its own key)."""
    if isinstance(node, SequenceNode):
        if isinstance(step, int) and 0 <= step < len(node.value):
            return node.value[step], node.value[step]
        return None
    if not isinstance(node, MappingNode):
        return None
    merged: list[Node] = []
    for key, value in node.value:
        if isinstance(key, ScalarNode):
            if key.value == step:
                return key, value
            if key.value == "<<":
                merged += value.value if isinstance(value, SequenceNode) else [value]
    return next((found for found in (_child(other, step) for other in merged) if found), None)
