"""What was read of each file of a large guide, kept for the next command: a file that stays as it was is not read again.

It stands in the guide's own workshop folder, as nothing of a guide, and least of all its secrets, should lie about elsewhere. But
a guide may come from others, and values are kept as pickles, which can do anything when they are read: so each carries a seal made
with a key that stands among the author's own settings, and whatever was not sealed here with it is not looked into. A value
counts for the bytes of its file, for what it was read with, and for the tool as it is.
"""

from __future__ import annotations

import hashlib
import hmac
import json
import os
import pickle
import secrets
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import TypeVar

from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.reading.memory import Memory, NoMemory, read_bytes_of
from guidebuild.reading.notes import Notes
from guidebuild.reading.sightings import SightingsReading, read_sightings

T = TypeVar("T")
FILE = "readings"
_KEY_SIZE = 32
_SEAL_SIZE = 32
_OTHERS = 0o077
_LARGEST = 1 << 30


@dataclass(frozen=True, slots=True)
class _Row:
    name: str
    """Digest of the tool, of the file, and of what it was read with."""
    seal: bytes
    value: bytes


class KeptReadings(Memory):
    """Recalls what an earlier process read of files that are as they were then."""

    def __init__(self, root: Path, known: Mapping[str, _Row], key: bytes, tool: str) -> None:
        """`known` are rows by path, as they were found; `tool` is another wherever files may be read otherwise."""
        self._root = root
        self._known = known
        self._key = key
        self._tool = tool
        self._names: dict[int, str] = {}
        self._held: list[object] = []  # so that no number is used again
        self.now: dict[str, _Row] = {}
        """The rows of this run by path."""

    def recall(self, path: Path, needs: tuple[object, ...], read: Callable[[], T], notes: Notes) -> T:
        """What was read of this file by an earlier process, or what `read` gives now."""
        file, data, named = path.relative_to(self._root).as_posix(), read_bytes_of(path), self._name_needs(needs)
        if data is None or named is None:
            return read()
        name = _digest(self._tool.encode(), file.encode(), named.encode(), data)
        row = self._known.get(file)
        found: tuple[Finding, ...]
        if row and row.name == name and hmac.compare_digest(row.seal, self._seal(name, row.value)):
            value, found = pickle.loads(row.value)  # noqa: S301 - sealed by this author's own key
            notes.extend(found)
        else:
            value, found = notes.note_apart(read)
            row = self._keep(name, (value, found))
        if row:
            self.now[file] = row
        self._name(value, name)
        given: T = value
        return given

    def recall_sightings(self, folder: Path, files: tuple[str, ...], guide: Guide) -> SightingsReading:
        """The sightings as they are now: a kept tally would have to be believed."""
        return read_sightings(folder, files, guide)

    def _keep(self, name: str, given: object) -> _Row | None:
        try:
            kept = pickle.dumps(given, pickle.HIGHEST_PROTOCOL)
        except (TypeError, AttributeError, pickle.PicklingError):  # it holds what only this process knows
            return None
        return _Row(name, self._seal(name, kept), kept)

    def _seal(self, name: str, value: bytes) -> bytes:
        return hashlib.blake2b(name.encode() + value, key=self._key, digest_size=_SEAL_SIZE).digest()

    def _name(self, value: object, name: str) -> None:
        """Have a value, and those it consists of, known as what was read under this name."""
        for number, one in enumerate((value, *value) if isinstance(value, tuple) else (value,)):
            self._names[id(one)] = f"{name}.{number}"
            self._held.append(one)

    def _name_needs(self, needs: tuple[object, ...]) -> str | None:
        """By what names these are known; None where one is not, so that nothing is kept of what is read with it."""
        names = ["none" if isinstance(need, Mapping) and not need else self._names.get(id(need)) for need in needs]
        return None if None in names else " ".join(name for name in names if name)


@contextmanager
def kept_readings(folder: Path, workshop: Path, key_file: Path, tool: str) -> Iterator[Memory]:
    """A memory of what was read of a guide before, which is written down at the end of the block; none where no key can be kept."""
    key = _find_key(key_file)
    if key is None:
        yield NoMemory()
        return
    known = _read_rows(workshop / FILE)
    memory = KeptReadings(folder, known, key, tool)
    yield memory
    if memory.now != known:
        with suppress(OSError):
            workshop.mkdir(exist_ok=True)
            if not workshop.is_symlink():
                _write_rows(workshop / FILE, memory.now)


def _find_key(file: Path) -> bytes | None:
    """The author's own key, which is made where there is none; None where it could not be kept from others."""
    with suppress(OSError):
        file.parent.mkdir(parents=True, exist_ok=True)
        with suppress(FileExistsError):
            handle = os.open(file, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
            with os.fdopen(handle, "wb") as out:
                out.write(secrets.token_bytes(_KEY_SIZE))
        state, key = file.stat(), file.read_bytes()
        # Windows keeps a user's own folder from others by itself.
        is_own = os.name == "nt" or (state.st_uid == os.getuid() and not state.st_mode & _OTHERS)
        return key if is_own and len(key) == _KEY_SIZE else None
    return None


def _read_rows(file: Path) -> dict[str, _Row]:
    """What stands in the file, by path; nothing where it is damaged, or a link."""
    try:
        if file.is_symlink() or not file.is_file() or file.stat().st_size > _LARGEST:
            return {}
        data = file.read_bytes()
        listed, at, rows = json.loads(data[: data.index(b"\n")]), data.index(b"\n") + 1, {}
        for path, name, seal, size in listed:
            rows[str(path)] = _Row(str(name), bytes.fromhex(seal), data[at : at + size])
            at += size
    except (OSError, ValueError, TypeError):
        return {}
    return rows


def _write_rows(file: Path, rows: Mapping[str, _Row]) -> None:
    """Write all down in one step. What a failing power spoils of it has no seal, and is read anew."""
    listed = [[path, row.name, row.seal.hex(), len(row.value)] for path, row in rows.items()]
    coming = file.with_suffix(".coming")
    coming.unlink(missing_ok=True)
    with os.fdopen(os.open(coming, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600), "wb") as out:
        out.write(json.dumps(listed).encode() + b"\n")
        out.writelines(row.value for row in rows.values())
    coming.replace(file)


def _digest(*parts: bytes) -> str:
    told = hashlib.blake2b(digest_size=20)
    for part in parts:
        told.update(len(part).to_bytes(8, "big") + part)
    return told.hexdigest()
