"""The fields of an account, of another record or of guide.yaml as controls of a form, made of their declarations and of the file."""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Any, get_origin

from guidebuild.desk.editing.wanted import Path
from guidebuild.desk.editing.written_values import ValueWriter
from guidebuild.guide.field_declaration import Field
from guidebuild.guide.guide import Guide
from guidebuild.guide.ids import make_id
from guidebuild.guide.life_stages import StageSet
from guidebuild.reading.account_shape import AccountShape
from guidebuild.reading.block import Plain
from guidebuild.reading.kinds import LISTED, Shape
from guidebuild.reading.markers import is_denied
from guidebuild.reading.shaping import fields_of, shape_in

_LONG_EXAMPLE, _LONG_VALUE = 48, 60


@dataclass(frozen=True, slots=True)
class Control:
    """One value, or several that belong together.

    `kind` is line, prose, commas (several words on a line), typed (as it is typed in the file), list, records, record or keyed; the
    last four have `inner` controls. `path` is as the desk's script sends it. A record that is not `there` yet is sent as a whole,
    once what it `needs` is given.
    """

    id: str
    path: str
    kind: str
    label: str
    help: str = ""
    example: str = ""
    value: str = ""
    known: str = ""
    """The list of words to choose from."""
    words: tuple[str, ...] = ()
    """Words to choose from that are no record's."""
    inner: tuple[Control, ...] = ()
    blank: Control | None = None
    """A further record, or item, as it is filled in."""
    there: bool = True
    needed: bool = False
    findings: tuple[str, ...] = field(default=())


def make_field_id(path: Path) -> str:
    """The id, on the page, of the control for a path."""
    return "-".join(["field", *(str(step) if isinstance(step, int) else make_id(step.removeprefix("##"), "words") for step in path)])


class ControlMaker:
    """Makes the controls of one file's values."""

    def __init__(self, file: str, guide: Guide, group: StageSet) -> None:
        """`group` says which stages the life of an account has."""
        self._writer = ValueWriter(file)
        self._guide = guide
        self._group = group

    def make_field(self, declared: Field, value: Plain, shape: type[Shape] = AccountShape, above: Path = ()) -> Control:
        """The control of one key."""
        path = (*above, declared.key)
        told = _told(shape, declared.key)
        kind = declared.names or LISTED.get(declared.key, "")
        words = () if kind else told.words
        example = told.example if above or shape is not AccountShape else dict(self._group.such_as).get(declared.key, told.example)
        base = Control(make_field_id(path), json.dumps(path), "line", declared.key, told.help, example, known=kind, words=words)
        base = replace(base, needed=told.needed, there=value is not None)
        annotation = fields_of(shape)[declared.key]
        inner = shape_in(annotation)
        form = get_origin(annotation[0])
        if form is dict and shape is AccountShape:
            return self._keyed(base, path, value)
        if form is dict:
            return replace(base, kind="typed", value=self._typed(value) if value is not None else "")
        if inner is not None and issubclass(inner, Shape):
            return self._records(base, path, value, inner) if form is tuple else self._group_of(base, path, value, inner)
        return self._list(base, path, value) if form is tuple else self._single(base, value)

    def _single(self, base: Control, value: Plain) -> Control:
        if value is not None and not isinstance(value, str):
            return replace(base, kind="typed", value=self._typed(value))
        text = value or ""
        is_long = not (base.known or base.words) and (len(base.example) > _LONG_EXAMPLE or len(text) > _LONG_VALUE or "\n" in text)
        return replace(base, kind="prose" if is_long else "line", value=text)

    def _typed(self, value: Plain) -> str:
        return self._writer.after_lead(value, -2).strip("\n").removeprefix(" ")

    def _list(self, base: Control, path: Path, value: Plain) -> Control:
        items = value if isinstance(value, list) else [] if value is None else [value]
        if not all(item is None or isinstance(item, str) for item in items):
            return replace(base, kind="typed", value=self._typed(value))
        alone = isinstance(value, str)
        inner = tuple(self._item(base, path if alone else (*path, n), item) for n, item in enumerate(items))
        return replace(base, kind="list", inner=inner, blank=self._item(base, (*path, len(items)), ""))

    def _item(self, base: Control, path: Path, value: Plain) -> Control:
        return Control(
            make_field_id(path), json.dumps(path), "line", base.label, value=str(value or ""), known=base.known, words=base.words
        )

    def _records(self, base: Control, path: Path, value: Plain, shape: type[Shape]) -> Control:
        items = value if isinstance(value, list) else [] if value is None else [value]
        is_reason = isinstance(value, dict) and is_denied(value)
        if is_reason or not all(item is None or isinstance(item, str | dict) for item in items):
            return replace(base, kind="typed", value=self._typed(value))
        alone = value is not None and not isinstance(value, list)
        inner = tuple(self._record(base, path if alone else (*path, n), item, shape) for n, item in enumerate(items))
        after = 0 if isinstance(value, str) and is_denied(value) else len(items)
        return replace(base, kind="records", inner=inner, blank=self._record(base, (*path, after), None, shape))

    def _record(self, base: Control, path: Path, value: Plain, shape: type[Shape]) -> Control:
        if isinstance(value, str):
            known = shape.declared[0].names
            return Control(make_field_id(path), json.dumps(path), "line", base.label, value=value, known=known)
        said = value if isinstance(value, dict) else {}
        inner = tuple(self.make_field(declared, said.get(declared.key), shape, path) for declared in shape.declared)
        return Control(make_field_id(path), json.dumps(path), "record", base.label, inner=inner, there=value is not None)

    def _group_of(self, base: Control, path: Path, value: Plain, shape: type[Shape]) -> Control:
        if isinstance(value, str) or (value is None and base.words):
            return self._single(base, value)  # its main word alone, such as `sensitive: no`
        record = self._record(base, path, value, shape)
        return replace(record, help=base.help, example=base.example)

    def _keyed(self, base: Control, path: Path, value: Plain) -> Control:
        if value is not None and not isinstance(value, dict):
            return replace(base, kind="typed", value=self._typed(value))
        said = value or {}
        rows = tuple(self._row(base, (*path, key.key), key, said.get(key.key)) for key in self._keys_of(base, said))
        return replace(base, kind="keyed", inner=rows)

    def _keys_of(self, base: Control, said: Mapping[str, Plain]) -> Iterator[_Key]:
        """The keys that may stand there, in their order, each with its question and words to choose from; then any others."""
        left = dict.fromkeys(said)
        if base.known == "character":
            for character in self._guide.characters.values():
                key = next((key for key in said if key in (character.id, character.label)), character.label)
                left.pop(key, None)
                yield _Key(key, character.question, tuple(state.id for state in character.states))
        else:
            for stage in dict.fromkeys((*self._group.ids, *said)):
                left.pop(stage, None)
                yield _Key(stage)
        yield from map(_Key, left)

    def _row(self, base: Control, path: Path, key: _Key, value: Plain) -> Control:
        row = Control(make_field_id(path), json.dumps(path), "line", key.key, key.help, words=key.words, there=value is not None)
        if isinstance(value, list) and all(isinstance(item, str) for item in value):
            return replace(row, kind="commas", value=", ".join(map(str, value)))
        if value is not None and not isinstance(value, str):
            return replace(row, kind="typed", value=self._typed(value))
        kind = "prose" if base.label == "life stages" else "commas" if key.words else "line"
        return replace(row, kind=kind, value=value or "")


@dataclass(frozen=True, slots=True)
class _Key:
    """A key that a value may have, its question, and words to choose from."""

    key: str
    help: str = ""
    words: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class _Told:
    help: str
    example: str
    words: tuple[str, ...]
    needed: bool


@cache
def _told(shape: type[Shape], key: str) -> _Told:
    """What the schema tells of a key."""
    schema = shape.model_json_schema(by_alias=True)
    told = schema["properties"][key]
    examples = told.get("examples") or [""]
    meaning = told.get("description", "")
    written = _written_in(told.get("anyOf", ()))
    help_ = meaning if not written or " Write " in meaning else f"{meaning} Write {written}."
    return _Told(help_, textwrap.dedent(str(examples[0]).lstrip("\n")).strip(), tuple(_enum_in(told)), key in schema.get("required", ()))


def _written_in(shapes: Any) -> str:
    """How a value is written, where a schema says so of one of its shapes."""
    return next((str(shape["description"]) for shape in shapes if shape.get("type") != "object" and "description" in shape), "")


def _enum_in(schema: Any) -> list[str]:
    """The first list of words that a schema names."""
    if isinstance(schema, dict):
        if "enum" in schema:
            return [str(word) for word in schema["enum"]]
        return next((found for part in schema.get("anyOf", ()) if (found := _enum_in(part))), [])
    return []
