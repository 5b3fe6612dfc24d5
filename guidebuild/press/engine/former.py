"""What stands from the last run: the list in the published folder, and what the workshop remembers of each of its files."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeAlias

from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.trees import OwnList

Noted: TypeAlias = "Mapping[str, list[Any]]"
"""By path: the key that a file was made under, its digest, its size and the time of its last change."""


@dataclass(frozen=True, slots=True)
class Former:
    """A file of ours in the folder as it was published last."""

    digest: str
    key: str | None
    unchanged: bool
    """Size and time are those that we left behind."""


def read_former(place: Path, listed: OwnList | None, noted: Noted, *, anew: bool = False) -> dict[str, Former]:
    """The files of the last run by path. Where `listed` is None, as the list is damaged, the workshop's notes say which are ours.

    `anew`: none is trusted to be as it was left.
    """
    former = {}
    for path, digest in (read_noted_digests(noted) if listed is None else listed.files).items():
        key, known, *stamp = noted.get(path, (None, None))
        unchanged = not anew and known == digest and bool(stamp) and stamp == read_stamp(f"{place}/{path}")
        former[path] = Former(digest, key if isinstance(key, str) else None, unchanged)
    return former


def read_noted_digests(noted: Noted) -> dict[str, str]:
    """The list of what is ours as the workshop knows it."""
    return {path: state[1] for path, state in noted.items() if isinstance(state[1], str)}


def read_notes(file: Path) -> dict[str, list[Any]]:
    """The workshop's notes; nothing where they are missing or damaged."""
    try:
        read = {path: list(state) for path, state in json.loads(file.read_text(encoding="utf-8")).items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}
    return {path: state for path, state in read.items() if len(state) > 1}


def write_notes(file: Path, noted: Noted) -> None:
    """Write the workshop's notes down, in one step."""
    write_safely(file, json.dumps(noted).encode())


def read_stamp(path: str) -> list[int]:
    """Size and time of a file, by which it is known again; nothing where there is none. Plain text is asked for: there are many."""
    try:
        state = os.lstat(path)
    except OSError:
        return []
    return [state.st_size, state.st_mtime_ns]
