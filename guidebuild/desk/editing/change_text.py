"""A file's bytes and what is wanted of them → its new bytes, in which only the lines of the value differ.

After each change the new text is read again: it must say what was wanted and, beside that, what it said before. So a text
that is written in a way not thought of here is refused, and never damaged.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from guidebuild.desk.editing.section_text import edit_section, list_sections
from guidebuild.desk.editing.steps import plan_steps
from guidebuild.desk.editing.wanted import (
    SECTION,
    AddItem,
    Change,
    MoveItem,
    Path,
    RefusedError,
    SetValue,
    change_data,
    clean_value,
    say_plainly,
)
from guidebuild.desk.editing.yaml_lines import YamlLines
from guidebuild.desk.editing.yaml_moves import move_lines
from guidebuild.reading.block import Plain
from guidebuild.reading.file_shapes import shape_of_file
from guidebuild.reading.shaping import shape_at
from guidebuild.reading.typed_file import Edit, NotChangeableError, TypedFile


def read_values(file: str, raw: bytes) -> dict[str, Plain]:
    """All values of a file as typed, those of its sections by heading (`## In brief`); raises RefusedError where it cannot be read."""
    typed = _read_typed(file, raw)
    return {**typed.as_typed, **(list_sections(typed) if file.endswith(".md") else {})}


def change_text(file: str, raw: bytes, changes: Iterable[Change]) -> bytes:
    """The new bytes. Raises RefusedError where a change cannot be made so that all else stays; then none is made."""
    for change in map(_clean_change, changes):
        raw = _change_section(file, raw, change) if _is_section(change.path) else _change_value(file, raw, change)
    return raw


def _clean_change(change: Change) -> Change:
    return change if isinstance(change, MoveItem) else replace(change, value=clean_value(change.value))


def _is_section(path: Path) -> bool:
    return len(path) == 1 and isinstance(path[0], str) and path[0].startswith(SECTION)


def _read_typed(file: str, raw: bytes) -> TypedFile:
    try:
        return TypedFile(file, raw)
    except NotChangeableError as error:
        raise RefusedError(str(error)) from error


def _change_value(file: str, raw: bytes, change: Change) -> bytes:
    before = _read_typed(file, raw)
    wanted = change_data(before.as_typed, change)
    try:
        after = _move_or_rewrite(before, change, wanted)
    except (NotChangeableError, ValueError) as error:
        raise _cannot_change(before, change, str(error)) from error
    if say_plainly(after.as_typed) != say_plainly(wanted) or _words_of(after) != _words_of(before):
        raise _cannot_change(before, change)
    return after.changed([])


def _move_or_rewrite(before: TypedFile, change: Change, wanted: dict[str, Plain]) -> TypedFile:
    """The file with whole lines moved where that is all; else with what differs written anew."""
    if isinstance(change, MoveItem):
        edits = move_lines(before, change)
        if edits is not None:
            return TypedFile(before.file, before.changed(edits))
    typed = before
    for step in plan_steps(before.as_typed, wanted):
        edits = YamlLines(typed, lambda path: find_key_order(before.file, path)).carry_out(step)
        typed = TypedFile(typed.file, typed.changed(edits))
    return typed


def find_key_order(file: str, path: Path) -> Sequence[str]:
    """The keys that may stand at a path of a file, in the order of their declaration."""
    shape = shape_of_file(file)
    found = shape_at(shape, path) if shape else None
    declared = getattr(found, "declared", ())
    return [field.key for field in declared]


def _words_of(typed: TypedFile) -> str:
    return typed.text[typed.prose :] if typed.file.endswith(".md") else ""


def _cannot_change(typed: TypedFile, change: Change, why: str = "") -> RefusedError:
    named = ", ".join(str(step + 1) if isinstance(step, int) else step for step in change.path)
    said = why or f"{typed.file}: the way in which “{named}” is typed cannot be kept when it is changed here."
    return RefusedError(f"{said} Change it in the file itself.")


def _change_section(file: str, raw: bytes, change: Change) -> bytes:
    if isinstance(change, AddItem | MoveItem) or not (change.value is None or isinstance(change.value, str)):
        raise RefusedError("A section holds one text. Load the page anew.")
    if not file.endswith(".md"):
        raise RefusedError(f"{file} has no sections.")
    before = _read_typed(file, raw)
    heading = str(change.path[0])
    edit: Edit = edit_section(before, heading, change.value)
    after = _read_typed(file, before.changed([edit]))
    wanted = {**list_sections(before), _tidy(heading): (change.value or "").strip("\n").rstrip()}
    if change.value is None:
        del wanted[_tidy(heading)]
    if _said(list_sections(after)) != _said(wanted) or after.text[: after.prose].rstrip() != before.text[: before.prose].rstrip():
        raise _cannot_change(before, SetValue(change.path, None))
    return after.changed([])


def _tidy(heading: str) -> str:
    return f"## {heading.removeprefix(SECTION).strip()}".rstrip()


def _said(sections: dict[str, str]) -> dict[str, str]:
    """Texts by heading; nothing before the first heading is as good as no text there."""
    return {heading: text for heading, text in sections.items() if text or heading != SECTION}
