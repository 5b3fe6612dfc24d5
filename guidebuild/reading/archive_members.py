"""Files inside a zip, read as streams; what would swell beyond all measure is refused before it is opened."""

from __future__ import annotations

import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path, PurePosixPath
from typing import IO

from guidebuild.reading.table_errors import UnreadableTableError

_SMALL = 50_000_000
_SWELLS = 150
"""How many times a member may be larger than it is packed, once it is large: tables of a million like rows reach some sixty."""
_LARGEST = 20_000_000_000
_BROKEN = (zipfile.BadZipFile, zlib.error, EOFError, RuntimeError, NotImplementedError)
"""What the standard library raises for damaged, encrypted and oddly packed members."""


@contextmanager
def open_zip(path: Path) -> Iterator[zipfile.ZipFile]:
    """A zip whose members are of a size that can be read. Raises UnreadableTableError for all others."""
    try:
        with zipfile.ZipFile(path) as packed:
            for member in packed.infolist():
                _refuse_swelling(member)
            yield packed
    except _BROKEN as trouble:
        raise UnreadableTableError("The archive is damaged, or locked with a password", "Download it again.") from trouble


def _refuse_swelling(member: zipfile.ZipInfo) -> None:
    swollen = member.file_size > _SMALL and member.file_size > _SWELLS * max(member.compress_size, 1)
    if swollen or member.file_size > _LARGEST:
        raise UnreadableTableError(
            f"“{member.filename}” in it would swell to {member.file_size // 1_000_000:,} MB", "Unpack it yourself first."
        )


def find_member(packed: zipfile.ZipFile, name: str) -> str | None:
    """The full name of a member, wherever in the archive its folder is; the outermost of several."""
    found = [member for member in packed.namelist() if PurePosixPath(member).name == name and not member.startswith("__MACOSX/")]
    return min(found, key=lambda member: member.count("/"), default=None)


def member_opener(packed: zipfile.ZipFile, name: str) -> Callable[[], IO[bytes]]:
    """What opens a member. Raises UnreadableTableError where there is none of that name."""
    if name not in packed.namelist():
        raise UnreadableTableError(f"Its meta.xml names “{name}”, which is not in the archive", "Download it again.")
    return lambda: packed.open(name)
