"""Files that are dropped on the desk: kept aside until their author has seen what becomes of them, then brought or let go."""

from __future__ import annotations

import re
import shutil
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath
from typing import IO

from guidebuild.bringing.doing import do_bringing
from guidebuild.bringing.offered import OfferedKind, find_kind
from guidebuild.bringing.picture_facts import read_picture_facts
from guidebuild.bringing.planning import Planned, plan_bringing
from guidebuild.changes import undo_broken_change
from guidebuild.desk.refused import NotTakenError
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.info import LARGEST_BYTES
from guidebuild.session import read_for_draft

_ASIDE = "offered"
_MB = 1_000_000
MOST_BYTES = {OfferedKind.PICTURE: LARGEST_BYTES, OfferedKind.TABLE: 200 * _MB, OfferedKind.CAPTIONS: 5 * _MB}
"""By kind: what is read of a picture anywhere, an archive of a region's sightings, a long take. What is no kind of these is not taken."""
MOST_FILES = 500
_DEEPEST = 4
_LONGEST_NAME = 150
_NO_NAME = re.compile(r"[\\:*?\"<>|\x00-\x1f\x7f]|^[.~]|[. ]$")


@dataclass(slots=True)
class Offers:
    """What lies aside for one guide. One author, one desk: there is one heap."""

    folder: Path
    shown: dict[str, int] = field(default_factory=dict)
    """Names of the files with their sizes."""

    @property
    def aside(self) -> Path:
        """The folder where they lie, in the workshop: on the same disk as the guide, and never published."""
        return self.folder / WORKSHOP / _ASIDE

    def clear(self) -> None:
        """Let go of all."""
        shutil.rmtree(self.aside, ignore_errors=True)
        self.shown.clear()

    def take(self, name: str) -> Taking:
        """Begin to take a file; raises NotTakenError for a name or kind that is not taken."""
        parts = split_name(name)
        kind = find_kind(PurePosixPath(name))
        if kind not in MOST_BYTES:
            raise NotTakenError(f"{parts[-1]} is no picture, table or captions; nothing else is taken here.", 415)
        if len(self.shown) >= MOST_FILES:
            raise NotTakenError(f"{MOST_FILES} files lie here already. Bring them, then offer the rest.", 413)
        return Taking(self, "/".join(parts), self.aside.joinpath(*parts), kind)

    def plan(self) -> Planned:
        """What bringing all of them comes to."""
        return plan_bringing(self.folder, read_for_draft(self.folder), sorted(self.aside.iterdir()) if self.aside.is_dir() else ())

    def bring(self) -> Planned:
        """Bring all of them; those that are of no use stay outside. Raises CannotChangeError where it cannot be done."""
        undo_broken_change(self.folder)
        planned = self.plan()
        do_bringing(self.folder, planned.plan)
        self.clear()
        return planned


@dataclass(slots=True)
class Taking:
    """One file on its way. It lies under a name of its own until it is whole and known to be what it says."""

    offers: Offers
    name: str
    place: Path
    kind: OfferedKind
    size: int = 0
    _open: IO[bytes] | None = None

    @property
    def _coming(self) -> Path:
        return self.place.with_name(f".{self.place.name}.coming")

    def write(self, piece: bytes) -> None:
        """Take a piece; raises NotTakenError as soon as the file is larger than its kind may be."""
        self.size += len(piece)
        if self.size > MOST_BYTES[self.kind]:
            most = MOST_BYTES[self.kind] // _MB
            raise NotTakenError(f"{self.name} is larger than the {most} MB that {self.kind.value} may have here.", 413)
        if self._open is None:
            self.place.parent.mkdir(parents=True, exist_ok=True)
            self._open = self._coming.open("wb")
        self._open.write(piece)

    def finish(self) -> None:
        """The file is whole: look at it, and keep it aside if it is what its name says. Raises NotTakenError else."""
        if self._open is None:
            raise NotTakenError(f"{self.name} is empty.", 422)
        self._open.close()
        read = read_picture_facts(self._coming, self.name) if self.kind is OfferedKind.PICTURE else None
        if isinstance(read, Problem):
            raise NotTakenError(f"{self.name}: {read.message}", 422)
        self._coming.replace(self.place)
        self.offers.shown[self.name] = self.size

    def give_up(self) -> None:
        """Nothing of it stays, if it was not finished."""
        if self._open is not None:
            self._open.close()
        self._coming.unlink(missing_ok=True)


def split_name(name: str) -> tuple[str, ...]:
    """A file's name, with those of its folders before it, which may say what it shows. Raises NotTakenError for what leads elsewhere."""
    parts = tuple(name.split("/"))
    if not name.isprintable() or len(parts) > _DEEPEST or not all(map(_is_plain, parts)):
        raise NotTakenError(f"“{name[:_LONGEST_NAME]}” is no name for a file. Give it a plain one.", 400)
    return parts


def _is_plain(part: str) -> bool:
    return 0 < len(part) <= _LONGEST_NAME and not _NO_NAME.search(part)
