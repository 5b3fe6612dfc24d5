"""Where a file names other records by id: in its facts as its fields declare, in links, in the marks and slots of scripts."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from yaml.nodes import MappingNode, Node, ScalarNode, SequenceNode

from guidebuild.reading.file_shapes import LIST_FILES, shape_of_file
from guidebuild.reading.kinds import Shape
from guidebuild.reading.prose import lines_without_code
from guidebuild.reading.shaping import fields_of, shape_in
from guidebuild.reading.sighting_words import FILE as WORDS
from guidebuild.reading.typed_file import Edit, TypedFile


@dataclass(frozen=True, slots=True)
class NamedId:
    """An id as a field names it, and the kind of record that it is one of."""

    kind: str
    node: ScalarNode


def find_named_ids(typed: TypedFile) -> Iterator[NamedId]:
    """Every id in the facts of a file, those of the records themselves included."""
    if typed.root is None:
        return
    if typed.file in LIST_FILES:
        kind, shape = LIST_FILES[typed.file]
        for key, value in typed.root.value:
            if isinstance(key, ScalarNode):
                yield NamedId(kind, key)
            yield from _in_shape(value, shape)
        return
    if typed.file == WORDS:
        yield from _in_words(typed.root)
        return
    own = shape_of_file(typed.file)
    yield from _in_shape(typed.root, own) if own and issubclass(own, Shape) else ()


def _in_words(root: MappingNode) -> Iterator[NamedId]:
    """The places that words in tables of sightings mean, and the sources that their files come from."""
    for key, value in root.value:
        kind = {"places": "place", "data sets": "source"}.get(key.value)
        if kind and isinstance(value, MappingNode):
            yield from (NamedId(kind, named) for _, named in value.value if isinstance(named, ScalarNode))


def _in_shape(node: Node, shape: type[Shape]) -> Iterator[NamedId]:
    """Through a value of a shape: its own keys, a list of such values, words with such values, or the text of its first key alone."""
    if isinstance(node, SequenceNode):
        for item in node.value:
            yield from _in_shape(item, shape)
    elif isinstance(node, ScalarNode):
        if shape.declared[0].names:
            yield NamedId(shape.declared[0].names, node)
    elif isinstance(node, MappingNode):
        declared = {field.key: field for field in shape.declared}
        by_word = not any(key.value in declared for key, _ in node.value)
        for key, value in node.value:
            field = declared.get(key.value) if isinstance(key.value, str) else None
            if by_word:
                yield from _in_shape(value, shape)
            elif field is not None:
                yield from _named_by(value, field.names) if field.names else ()
                inner = shape_in(fields_of(shape)[field.key])
                yield from _in_shape(value, inner) if inner and issubclass(inner, Shape) else ()


def _named_by(node: Node, kind: str) -> Iterator[NamedId]:
    if isinstance(node, ScalarNode):
        yield NamedId(kind, node)
    elif isinstance(node, SequenceNode):
        yield from (NamedId(kind, item) for item in node.value if isinstance(item, ScalarNode))
    elif isinstance(node, MappingNode):
        yield from (NamedId(kind, key) for key, _ in node.value if isinstance(key, ScalarNode))


def find_written_ids(typed: TypedFile, kind: str, record_id: str, new: str) -> Iterator[Edit]:
    """Edits for an id in the texts of a file: in Markdown links, and in marks and slots of scripts. Code stays as it is."""
    patterns = [re.compile(rf"(?:\]\(\s*<?|\]:\s*<?|<){kind}:(?P<id>{re.escape(record_id)})(?=[>\s)\"']|$)")]
    if kind == "photo" and typed.file.startswith("episodes/"):
        patterns.append(re.compile(rf"\[show\s+(?P<id>{re.escape(record_id)})(?=[\s\]])", re.IGNORECASE))
    if kind == "account":
        patterns.append(re.compile(rf"\{{\s*difference\s+from\s+(?P<id>{re.escape(record_id)})\s*\}}"))
    stretches = [typed.span(node) for node in typed.scalars()]
    for start, end in [*stretches, (typed.prose, len(typed.text))]:
        yield from _written_in(typed.text[start:end], start, patterns, new)


def _written_in(text: str, start: int, patterns: list[re.Pattern[str]], new: str) -> Iterator[Edit]:
    lines = text.split("\n")
    offsets = [0]
    for line in lines:
        offsets.append(offsets[-1] + len(line) + 1)
    for number, line in lines_without_code(lines):
        if number < 0:
            continue
        for found in (found for pattern in patterns for found in pattern.finditer(line)):
            at = start + offsets[number]
            yield Edit(at + found.start("id"), at + found.end("id"), new)
