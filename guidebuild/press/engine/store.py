"""What was made before, kept by the digest of what it was made from.

The store is a convenience: whatever is missing, damaged or evicted is made again, and a store that cannot be written
slows a run down but never fails it.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import struct
import time
from pathlib import Path

from guidebuild.press.engine.digest import digest_file
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import read_problem

_MAGIC = b"guidebuild store 2\n"
_SUM_SIZE = 16
_LENGTH = struct.Struct(">Q")
DEFAULT_LIMIT = 2_000_000_000
"""Bytes that a store may hold after a run."""
_TRIM_TO = 0.9
_USED_AGAIN_AFTER = 3600.0
_TOO_FRESH_NS = 2_000_000_000
_DIGESTS = "originals.json"


class Store:
    """Made things in a folder of the guide, least recently used out first."""

    def __init__(self, folder: Path, limit: int = DEFAULT_LIMIT) -> None:
        self._folder = folder
        self._limit = limit
        self._written = 0
        self._hindrance: OSError | None = None
        self._originals: dict[str, tuple[list[int], str]] | None = None
        self._originals_changed = False

    @property
    def hindrance(self) -> str | None:
        """Why nothing could be written, for one line at the end of a run."""
        return None if self._hindrance is None else f"nothing is kept for the next run: {self._hindrance.strerror}"

    def get(self, key: str) -> Made | None:
        """What was made under this key; a damaged entry is removed and counts as absent."""
        path = self._path(key)
        try:
            data = path.read_bytes()
        except OSError:
            return None
        made = _unpacked(data)
        if made is None:
            _remove(path)
            return None
        _touch(path)
        return made

    def has(self, key: str) -> bool:
        """Whether there is an entry, sound or not."""
        return self._path(key).exists()

    def put(self, key: str, made: Made) -> None:
        """Keep what was made; in one step, so that no reader ever sees half of it."""
        if self._hindrance is not None:
            return
        path = self._path(key)
        coming = path.with_name(f"{path.name}.{os.getpid()}.coming")
        data = _packed(made)
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            coming.write_bytes(data)
            coming.replace(path)
            self._written += len(data)
        except OSError as error:
            self._hindrance = error
            _remove(coming)

    def original_digest(self, path: Path) -> str:
        """Digest of an author's file, read again only when its state on the disk has changed; raises `OSError` if unreadable.

        The state holds the time of the last change of the file's entry and its number on the disk: size and time of the
        content can be the same for another photo, as copying programs set them.
        """
        known = self._known_originals()
        stat = path.stat()
        state = [stat.st_size, stat.st_mtime_ns, stat.st_ctime_ns, stat.st_ino]
        name = str(path)
        before = known.get(name)
        if before is not None and before[0] == state:
            return before[1]
        mark = digest_file(path)
        # A file changed within the clock's grain of now could change again and look the same.
        if time.time_ns() - max(stat.st_mtime_ns, stat.st_ctime_ns) > _TOO_FRESH_NS:
            known[name] = (state, mark)
            self._originals_changed = True
        return mark

    def close(self) -> None:
        """Write down what is known of originals, and bring the store back under its limit."""
        self._save_originals()
        if self._written:
            self._trim()
            self._written = 0

    def empty(self) -> int:
        """Remove everything; the number of bytes freed."""
        freed = sum(size for _, size, _ in self._entries())
        shutil.rmtree(self._folder, ignore_errors=True)
        self._originals = None
        self._originals_changed = False
        return freed

    def _path(self, key: str) -> Path:
        return self._folder / key[:2] / key[2:]

    def _entries(self) -> list[tuple[float, int, Path]]:
        entries = []
        for folder in self._folder.glob("??"):
            for entry in folder.iterdir():
                try:
                    state = entry.stat()
                except OSError:
                    continue
                entries.append((state.st_mtime, state.st_size, entry))
        return entries

    def _trim(self) -> None:
        entries = sorted(self._entries())
        total = sum(size for _, size, _ in entries)
        if total <= self._limit:
            return
        for _, size, path in entries:
            _remove(path)
            total -= size
            if total <= self._limit * _TRIM_TO:
                return

    def _known_originals(self) -> dict[str, tuple[list[int], str]]:
        if self._originals is None:
            try:
                read = json.loads((self._folder / _DIGESTS).read_text(encoding="utf-8"))
                self._originals = {name: (list(map(int, state)), str(mark)) for name, (state, mark) in read.items()}
            except (OSError, ValueError, TypeError, AttributeError):
                self._originals = {}
        return self._originals

    def _save_originals(self) -> None:
        if not self._originals_changed or self._hindrance is not None:
            return
        path = self._folder / _DIGESTS
        coming = path.with_name(f"{_DIGESTS}.{os.getpid()}.coming")
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            coming.write_text(json.dumps(self._originals), encoding="utf-8")
            coming.replace(path)
            self._originals_changed = False
        except OSError as error:
            self._hindrance = error


class NoStore(Store):
    """Keeps nothing, for work whose result is only told."""

    def __init__(self) -> None:
        super().__init__(Path(), 0)

    def get(self, key: str) -> Made | None:
        """Nothing."""
        return None

    def has(self, key: str) -> bool:
        """No."""
        return False

    def put(self, key: str, made: Made) -> None:
        """Forget it."""


def _packed(made: Made) -> bytes:
    told = json.dumps([problem.as_list() for problem in made.problems]).encode()
    body = b"".join(piece for part in (told, *made.parts) for piece in (_LENGTH.pack(len(part)), part))
    return _MAGIC + _sum(body) + body


def _unpacked(data: bytes) -> Made | None:
    start = len(_MAGIC) + _SUM_SIZE
    body = memoryview(data)[start:]
    if not data.startswith(_MAGIC) or data[len(_MAGIC) : start] != _sum(body):
        return None
    parts, place = [], 0
    while place < len(body):
        (length,) = _LENGTH.unpack_from(body, place)
        place += _LENGTH.size
        parts.append(bytes(body[place : place + length]))
        place += length
    return Made(tuple(parts[1:]), tuple(map(read_problem, json.loads(parts[0]))))


def _sum(body: bytes | memoryview) -> bytes:
    return hashlib.blake2b(body, digest_size=_SUM_SIZE).digest()


def _touch(path: Path) -> None:
    try:
        if time.time() - path.stat().st_mtime > _USED_AGAIN_AFTER:
            os.utime(path)
    except OSError:
        return


def _remove(path: Path) -> None:
    try:
        path.unlink()
    except OSError:
        return
