"""A shape → the record of it: every declared field goes into the attribute that its declaration names."""

from __future__ import annotations

from collections.abc import Mapping
from enum import Enum
from functools import cache
from typing import Any, NamedTuple, TypeVar, get_type_hints

from guidebuild.guide.text.inline import Inline
from guidebuild.reading.block import Block, Step
from guidebuild.reading.kinds import Shape

R = TypeVar("R")


class _Kept(Enum):
    """How a record keeps what was read."""

    AS_READ = "as read"
    TEXT = "text"  # Markdown with its place
    TEXTS = "texts"


_AS_READ, _TEXT = _Kept.AS_READ, _Kept.TEXT  # an attribute of an Enum is looked up slowly, and a check asks for a hundred thousand


class _Step(NamedTuple):
    """From a key of the file to an attribute of the record."""

    key: str
    read_as: str
    attribute: str
    kept: _Kept


def build_record(kind: type[R], shape: Shape, block: Block | None, /, *path: Step, **built: Any) -> R:
    """The record of what was read at a path of a file.

    `built` holds by attribute what is more than the value as it was read. Without a block it is a record that the tool ships,
    which stands nowhere in the guide.
    """
    if block is None:
        return kind(**collect_shipped(kind, shape, without=frozenset(built)), **built)
    return kind(**_collect_read(kind, shape, block, path, built), **built)


def collect_shipped(kind: type, shape: Shape, *, without: frozenset[str] = frozenset()) -> dict[str, Any]:
    """What was read of a list that the tool ships, by the attributes of the record that keep it."""
    return {step.attribute: _keep_shipped(getattr(shape, step.read_as), step) for step in _plan_steps(kind, type(shape), without)}


def _collect_read(kind: type, shape: Shape, block: Block, path: tuple[Step, ...], built: Mapping[str, Any]) -> dict[str, Any]:
    """What was read of a file, by attributes, and where the record and its keys stand, as far as it knows its place."""
    key, owner = block.follow(path)
    read: dict[str, Any] = {}
    for name, read_as, attribute, kept in _plan_steps(kind, type(shape), frozenset(built)):
        value = getattr(shape, read_as)
        if kept is _AS_READ:
            read[attribute] = value
        elif kept is _TEXT:
            read[attribute] = block.inline_under(owner, name, value)
        else:
            read[attribute] = block.inlines(value, *path, name)
    types = _types_of(kind)
    if "at" in types and "at" not in built:
        read["at"] = block.place(key)
    if "positions" in types and "positions" not in built:
        read["positions"] = block.key_places_of(owner)
    return read


def _keep_shipped(value: Any, step: _Step) -> Any:
    if step.kept is _Kept.AS_READ:
        return value
    return Inline(value) if step.kept is _Kept.TEXT else tuple(map(Inline, value))


@cache
def _plan_steps(kind: type, shape: type[Shape], without: frozenset[str]) -> tuple[_Step, ...]:
    """Each kept field of a shape but those `without`; a text in Markdown is known by the type that the record gives it."""
    ways: dict[Any, _Kept] = {Inline: _Kept.TEXT, tuple[Inline, ...]: _Kept.TEXTS}
    types = _types_of(kind)
    return tuple(
        _Step(field.key, field.shape_attribute, field.attribute, ways.get(types.get(field.attribute), _Kept.AS_READ))
        for field in shape.declared
        if not field.unstored and field.attribute not in without
    )


@cache
def _types_of(kind: type) -> dict[str, Any]:
    return get_type_hints(kind)
