"""What files held before the desk changed them: the last fifty, in the workshop folder, so that each change can be taken back."""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
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
    """What one file held before a change, and what that change made of it (by digest); `raw` is None where there was no file."""

    number: int
    file: str
    raw: bytes | None
    became: str


class FormerTexts:
    """The former texts of one guide. Each is one file: a line that says of what, and the bytes."""

    def __init__(self, folder: Path) -> None:
        """`folder` is the guide's."""
        self.place = folder / WORKSHOP / _KEPT

    def keep(self, file: str, raw: bytes | None, became: str) -> None:
        """Keep what a file held; the oldest go. It is on the disk when this answers."""
        self.place.mkdir(parents=True, exist_ok=True)
        numbers = self._numbers()
        head = json.dumps({"file": file, "was there": raw is not None, "became": became}, ensure_ascii=False)
        write_safely(self._path(max(numbers, default=0) + 1), head.encode() + b"\n" + (raw or b""))
        sync_folder(self.place)
        for number in numbers[: max(0, len(numbers) + 1 - MOST_KEPT)]:
            self._path(number).unlink(missing_ok=True)

    def latest_first(self) -> list[Former]:
        """All that are kept; those that cannot be read are left out."""
        return [former for number in reversed(self._numbers()) if (former := self._read(number)) is not None]

    def forget(self, former: Former) -> None:
        """Let go of one that has been put back, or that was never made."""
        self._path(former.number).unlink(missing_ok=True)

    def _numbers(self) -> list[int]:
        names = [path.name for path in self.place.iterdir()] if self.place.is_dir() else []
        return sorted(int(name) for name in names if name.isdigit())

    def _path(self, number: int) -> Path:
        return self.place / str(number)

    def _read(self, number: int) -> Former | None:
        try:
            head, _, raw = self._path(number).read_bytes().partition(b"\n")
            said = json.loads(head)
            return Former(number, str(said["file"]), raw if said["was there"] else None, str(said["became"]))
        except (OSError, ValueError, KeyError, TypeError):
            return None
