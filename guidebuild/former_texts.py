"""What files held before they were changed: the last fifty changes, in the workshop folder, so that each can be taken back.

A change may be to several files: all that were brought at once, or a value said of many accounts. They are kept as one batch.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.press.engine.durable import sync_folder, write_safely
from guidebuild.press.engine.own_places import WORKSHOP

MOST_KEPT = 50
_KEPT = "edited"


def digest_of(raw: bytes | None) -> str:
    """What a file's bytes are known by; nothing for a file that is not there."""
    return "" if raw is None else hashlib.sha256(raw).hexdigest()


@dataclass(frozen=True, slots=True)
class Former:
    """What one file held before a change, and what that change made of it (by digest); `raw` is None where there was no file.

    `batch` is the number of the first file that was changed along with it.
    """

    number: int
    file: str
    raw: bytes | None
    became: str
    batch: int = 0


class FormerTexts:
    """The former texts of one guide. Each is one file: a line that says of what, and the bytes."""

    def __init__(self, folder: Path) -> None:
        """`folder` is the guide's."""
        self.place = folder / WORKSHOP / _KEPT

    def keep(self, file: str, raw: bytes | None, became: str) -> None:
        """Keep what a file held; the oldest change goes. It is on the disk when this answers."""
        self.keep_batch([Former(0, file, raw, became)])

    def keep_batch(self, formers: Sequence[Former]) -> tuple[Former, ...]:
        """Keep what several files held that are changed at once; answers them with their numbers."""
        self.place.mkdir(parents=True, exist_ok=True)
        names = self._names()
        batch = max((number for number, _ in names), default=0) + 1
        for number, former in enumerate(formers, batch):
            head = json.dumps({"file": former.file, "was there": former.raw is not None, "became": former.became}, ensure_ascii=False)
            write_safely(self._path(number, batch), head.encode() + b"\n" + (former.raw or b""))
        sync_folder(self.place)
        kept = sorted({*(first for _, first in names), batch})[-MOST_KEPT:]
        for number, first in names:
            if first not in kept:
                self._path(number, first).unlink(missing_ok=True)
        return tuple(replace(former, number=number, batch=batch) for number, former in enumerate(formers, batch))

    def latest_first(self) -> list[tuple[Former, ...]]:
        """All changes that are kept, each with its files; what cannot be read is left out."""
        batches: dict[int, list[Former]] = {}
        for number, batch in reversed(self._names()):
            if (former := self._read(number, batch)) is not None:
                batches.setdefault(batch, []).append(former)
        return [tuple(reversed(batches[batch])) for batch in sorted(batches, reverse=True)]

    def forget(self, formers: Iterable[Former]) -> None:
        """Let go of what has been put back, or was never made."""
        for former in formers:
            self._path(former.number, former.batch).unlink(missing_ok=True)

    def _names(self) -> list[tuple[int, int]]:
        """The numbers that are taken, each with that of its batch: a file is called `12`, or `13-12` where it belongs to 12."""
        names = [path.name.partition("-") for path in self.place.iterdir()] if self.place.is_dir() else []
        return sorted((int(one), int(first or one)) for one, _, first in names if one.isdigit() and (not first or first.isdigit()))

    def _path(self, number: int, batch: int) -> Path:
        return self.place / (str(number) if number == batch else f"{number}-{batch}")

    def _read(self, number: int, batch: int) -> Former | None:
        try:
            head, _, raw = self._path(number, batch).read_bytes().partition(b"\n")
            said = json.loads(head)
            return Former(number, str(said["file"]), raw if said["was there"] else None, str(said["became"]), batch)
        except (OSError, ValueError, KeyError, TypeError):
            return None
