"""What is wanted of a file: which value is set, added, removed or moved; and what the file says then, as plain data.

A value is named by its path: keys, and places in lists from 0, as `("diagnostics", 0, "mark")`; in a list file the record's id
comes first. A section of Markdown is named by its heading as typed, `("## How to know it",)`; `("##",)` is what stands before
the first. Values are plain: texts, lists and keys with values, as the author would type them.
"""

from __future__ import annotations

import copy
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeAlias

from guidebuild.errors import SaidInOneLineError
from guidebuild.reading.block import Plain, Step
from guidebuild.reading.notes import Notes
from guidebuild.reading.text_file import clean_text

Path: TypeAlias = tuple[Step, ...]
SECTION = "##"
"""How the only step of a path begins that leads to a section."""


class RefusedError(SaidInOneLineError):
    """What was wanted cannot be written; the message says why and what to write instead. Nothing has changed."""


@dataclass(frozen=True, slots=True)
class SetValue:
    """Another value, or a first one. None takes the value away, with its key."""

    path: Path
    value: Plain


@dataclass(frozen=True, slots=True)
class AddItem:
    """A further item of the list that the path leads to: before the one at the place `at`, or as the last."""

    path: Path
    value: Plain
    at: int | None = None


@dataclass(frozen=True, slots=True)
class MoveItem:
    """An item of a list, or a key with its value, at another place among its neighbours, counted without it."""

    path: Path
    to: int


Change: TypeAlias = SetValue | AddItem | MoveItem


def read_change(asked: Mapping[str, Any]) -> Change:
    """A change as a page sends it: `path`, and `value`; or `value` and `do: add` (with `at`); or `do: remove`; or `do: move` and `to`.

    Raises RefusedError where it is none of these.
    """
    path, do, value = asked.get("path"), asked.get("do", "set"), asked.get("value")
    if not isinstance(path, list) or not path or not all(isinstance(step, str) or _is_place(step) for step in path):
        raise RefusedError("The page did not say which value it means. Load the page anew.")
    steps, at, to = tuple(path), asked.get("at"), asked.get("to")
    if do == "remove":
        return SetValue(steps, None)
    if do == "move" and _is_place(to):
        return MoveItem(steps, int(to or 0))
    if not _is_plain(value):
        raise RefusedError("The page sent a value that is no text, list or keys with values. Load the page anew.")
    if do == "add" and (at is None or _is_place(at)):
        return AddItem(steps, value, at)
    if do == "set":
        return SetValue(steps, value)
    raise RefusedError("The page did not say what is to be done. Load the page anew.")


def _is_place(step: object) -> bool:
    return isinstance(step, int) and not isinstance(step, bool) and step >= 0


def _is_plain(value: object) -> bool:
    if isinstance(value, list):
        return all(map(_is_plain, value))
    if isinstance(value, dict):
        return all(isinstance(key, str) and _is_plain(inner) for key, inner in value.items())
    return value is None or isinstance(value, str)


def clean_value(value: Plain) -> Plain:
    """The value with line feeds only; raises RefusedError for signs that no file of a guide may hold."""
    if isinstance(value, list):
        return [clean_value(item) for item in value]
    if isinstance(value, dict):
        return {str(clean_value(key)): clean_value(inner) for key, inner in value.items()}
    if value is None:
        return None
    notes = Notes()
    text = clean_text(value, "", notes)
    for finding in notes.findings:
        raise RefusedError(f"{finding.message} {finding.mend}".strip())
    return text


def value_at(data: Plain, path: Path) -> Plain:
    """The value that a path leads to, None where there is none; a value that stands alone is its own first item."""
    here: Plain = data
    for step in path:
        if isinstance(here, list) and isinstance(step, int):
            here = here[step] if step < len(here) else None
        elif isinstance(here, dict) and isinstance(step, str):
            here = here.get(step)
        elif step != 0:
            return None
    return here


def change_data(data: dict[str, Plain], change: Change) -> dict[str, Plain]:
    """What the data are after a change. A list or keys of which nothing is left go with their key."""
    made: dict[str, Plain] = _change(copy.deepcopy(data), change) or {}
    return made


def _change(changed: Any, change: Change) -> Any:
    if isinstance(change, MoveItem):
        return _set(changed, change.path[:-1], _moved(value_at(changed, change.path[:-1]), change.path[-1], change.to))
    if isinstance(change, AddItem):
        items = value_at(changed, change.path)
        listed: list[Plain] = list(items) if isinstance(items, list) else [] if items is None else [items]
        listed.insert(len(listed) if change.at is None else change.at, change.value)
        return _set(changed, change.path, listed)
    return _set(changed, change.path, change.value)


def _set(data: Any, path: Path, value: Plain) -> Any:
    """The data with another value at a path; what is missing on the way is made."""
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(step, str):
        if data is not None and not isinstance(data, dict):
            raise RefusedError(f"“{data if isinstance(data, str) else 'A list'}” stands where “{step}” should be a key.")
        inner = _set((data or {}).get(step), rest, value)
        kept = {**(data or {}), step: inner}
        return {key: said for key, said in kept.items() if key != step or said is not None} or None
    if isinstance(data, list):
        if step > len(data):
            raise RefusedError(f"There is no item {step + 1} in this list. Load the page anew.")
        inner = _set(data[step] if step < len(data) else None, rest, value)
        return [*data[:step], *([] if inner is None else [inner]), *data[step + 1 :]] or None
    if step:
        return _set([] if data is None else [data], path, value)
    inner = _set(data, rest, value)
    return inner if data is not None or inner is None else [inner]


def _moved(owner: Plain, step: Step, to: int) -> Plain:
    """A list or keys with one of them at another place."""
    if isinstance(owner, list) and isinstance(step, int) and step < len(owner):
        return _placed(owner, step, to)
    if isinstance(owner, dict) and step in owner:
        names = list(owner)
        return {name: owner[name] for name in _placed(names, names.index(str(step)), to)}
    raise RefusedError("What should be moved is not there any more. Load the page anew.")


def _placed(items: Sequence[Any], index: int, to: int) -> list[Any]:
    rest = [*items[:index], *items[index + 1 :]]
    return [*rest[:to], items[index], *rest[to:]]


def say_plainly(value: Plain) -> Plain:
    """A value as two are compared: without what is empty, and without the line ends after the last line of a text."""
    if isinstance(value, list):
        return [said for item in value if (said := say_plainly(item)) is not None]
    if isinstance(value, dict):
        return {key: said for key, inner in value.items() if (said := say_plainly(inner)) is not None} or None
    if value is None:
        return None
    return value.rstrip("\n") if value.strip() else None
