"""What was read of each file, kept while the file stays as it is: so that an edit costs what it changes, and not the whole guide."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, TypeVar

from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.reading.notes import Notes
from guidebuild.reading.sighting_memory import SightingMemory
from guidebuild.reading.sightings import SightingsReading, read_sightings
from guidebuild.reading.text_file import LARGEST

T = TypeVar("T")
MANY = 100
"""A guide of fewer accounts is read as soon as what was kept of it."""


@dataclass(frozen=True, slots=True)
class _Kept:
    data: bytes
    needs: tuple[object, ...]
    value: Any
    found: tuple[Finding, ...]


class Memory:
    """Keeps what was read, by file. Files count by their bytes, not by their time: two edits may fall into one tick of a clock."""

    def __init__(self) -> None:
        self._kept: dict[Path, _Kept] = {}
        self._sightings = SightingMemory()

    def recall(self, path: Path, needs: tuple[object, ...], read: Callable[[], T], notes: Notes) -> T:
        """What `read` gave for this file, with its findings; it is asked again where the file, or anything of `needs`, is another.

        `needs` are the values besides the file that `read` depends on. They count by identity, so those that come from other
        files must be recalled themselves.
        """
        data = read_bytes_of(path)
        kept = self._kept.get(path)
        if kept is not None and kept.data == data and _are_same(kept.needs, needs):
            notes.extend(kept.found)
            value: T = kept.value
            return value
        value, found = notes.note_apart(read)
        if data is None:
            self._kept.pop(path, None)
        else:
            self._kept[path] = _Kept(data, needs, value, found)
        return value

    def recall_sightings(self, folder: Path, files: tuple[str, ...], guide: Guide) -> SightingsReading:
        """The guide's sightings, whose rows are read again only where their files or what they are read with have changed."""
        return self._sightings.recall(folder, files, guide)


class NoMemory(Memory):
    """Keeps nothing, for a guide that is read once."""

    def recall(self, path: Path, needs: tuple[object, ...], read: Callable[[], T], notes: Notes) -> T:
        """What `read` gives now."""
        return read()

    def recall_sightings(self, folder: Path, files: tuple[str, ...], guide: Guide) -> SightingsReading:
        """The sightings as they are now."""
        return read_sightings(folder, files, guide)


def is_worth_keeping(folder: Path) -> bool:
    """Whether a guide has so many accounts that it is read later than what was kept of an earlier reading."""
    return sum(1 for _ in (folder / "accounts").glob("*.md")) >= MANY


def read_bytes_of(path: Path) -> bytes | None:
    """The bytes of a file; None where it cannot be read, or is too large for a text."""
    try:
        return None if path.stat().st_size > LARGEST else path.read_bytes()
    except OSError:
        return None


def _are_same(these: tuple[object, ...], those: tuple[object, ...]) -> bool:
    return len(these) == len(those) and all(this is that for this, that in zip(these, those, strict=True))
