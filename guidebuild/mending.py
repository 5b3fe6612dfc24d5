"""Keys of an older guide get their names of today: only the keys change, and every other byte stays."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guidebuild.reading.file_shapes import shape_of_file
from guidebuild.reading.folder import look_into
from guidebuild.reading.notes import Notes
from guidebuild.reading.one_file import find_old_keys_in
from guidebuild.reading.typed_file import NotChangeableError, TypedFile

_MOST_ROUNDS = 8
"""Keys inside a key with a former name are known once that has its name of today."""


@dataclass(frozen=True, slots=True)
class Mended:
    """A file whose keys have their names of today: what it holds, what it would hold, and how many keys that changes."""

    file: str
    before: bytes
    after: bytes
    keys: int


@dataclass(frozen=True, slots=True)
class Mending:
    """All that would change, and a line for each file in which that cannot be done."""

    files: tuple[Mended, ...]
    refused: tuple[str, ...]


def differ(one: Mended) -> Iterator[str]:
    """The lines that change in a file, before and after, as a unified diff."""
    old, new = (raw.decode("utf-8").splitlines() for raw in (one.before, one.after))
    return difflib.unified_diff(old, new, one.file, f"{one.file}, mended", lineterm="", n=1)


def plan_mending(folder: Path) -> Mending:
    """Which keys get which names; nothing is written."""
    mended: list[Mended] = []
    refused: list[str] = []
    for file in look_into(folder, Notes()).files:
        if shape_of_file(file) is None:
            continue
        try:
            mended += _mend_file(file, (folder / file).read_bytes())
        except NotChangeableError as error:
            refused.append(str(error))
        except OSError as error:
            refused.append(f"{file} cannot be opened: {error.strerror}.")
    return Mending(tuple(mended), tuple(refused))


def _mend_file(file: str, before: bytes) -> Iterator[Mended]:
    after, keys = before, 0
    for _ in range(_MOST_ROUNDS):
        old = find_old_keys_in(file, after)
        if not old:
            break
        typed = TypedFile(file, after)
        named = {(at.line, at.column): key for at, key in old}
        edits = [typed.replace_scalar(node, key) for node in typed.find_keys() if (key := named.get(typed.place(node)))]
        after, keys = typed.changed(edits), keys + len(edits)
    if keys:
        yield Mended(file, before, after, keys)
