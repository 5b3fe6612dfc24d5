"""The files that an author offers: found in folders, each told what it is. Links, pipes and what is hidden stay outside."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from enum import Enum
from pathlib import Path, PurePath

from guidebuild.bringing.plan import Unused
from guidebuild.reading.folder import PICTURES, SIGHTINGS

_CAPTIONS = (".vtt", ".srt")
_PASSED_BY = frozenset({"thumbs.db", "desktop.ini", "autorun.inf"})
_BESIDE_PICTURES = frozenset({".thm", ".ctg", ".xmp", ".aae", ".pp3", ".dop", ".lrv", ".wpl"})
"""What cameras and picture programs put beside their pictures."""


class OfferedKind(Enum):
    """What a file seems to be by its name."""

    PICTURE = "a picture"
    TABLE = "a table"
    CAPTIONS = "captions"
    OTHER = "something else"


@dataclass(frozen=True, slots=True)
class Offered:
    """A file that was offered, and the names that may say what it shows: its own, then those of its folders, the nearest first."""

    path: Path
    shown: str
    kind: OfferedKind
    words: tuple[str, ...]


def find_offered(given: Iterable[Path]) -> tuple[tuple[Offered, ...], tuple[Unused, ...]]:
    """Every file of what was given, once, and what of it is no file that can be read."""
    files: dict[Path, Offered] = {}
    unused: list[Unused] = []
    for path in given:
        # A folder speaks by its name, and so does one that holds a file which was given alone.
        above = path.absolute().parent if not path.is_dir() else path.absolute().parent.parent
        for found in _walk(path):
            if isinstance(found, Unused):
                unused.append(found)
            elif found not in files:
                files[found] = _offer(found, above)
    return tuple(files.values()), tuple(unused)


def _walk(path: Path) -> Iterator[Path | Unused]:
    """The files of a path, in the order of their names."""
    shown = _show(path)
    if not shown.isprintable():
        yield Unused(shown.encode("unicode_escape").decode(), "its name has signs that cannot be shown; give it another name")
        return
    try:
        mode = path.lstat().st_mode
        if stat.S_ISLNK(mode):
            yield Unused(shown, "is a link; give the file itself")
        elif stat.S_ISDIR(mode):
            for inner in sorted(path.iterdir(), key=lambda inner: _in_order(inner.name)):
                if not inner.name.startswith((".", "~$")) and inner.name.casefold() not in _PASSED_BY:
                    yield from _walk(inner)
        elif not stat.S_ISREG(mode):
            yield Unused(shown, "is no file that can be read, but a pipe or device")
        elif path.suffix.lower() not in _BESIDE_PICTURES:
            yield path
    except OSError as error:
        yield Unused(shown, _lower_first(error.strerror or str(error)))


def _in_order(name: str) -> tuple[tuple[int, str], ...]:
    """Names in the order of people: `redshank 2` before `redshank 10`."""
    pieces = "".join(sign if sign.isdigit() else f"\0{sign}\0" for sign in name.casefold()).split("\0")
    return tuple((int(piece), "") if piece.isdecimal() else (-1, piece) for piece in pieces if piece)


def _offer(path: Path, above: Path) -> Offered:
    whole = path.absolute()
    folders = [folder.name for folder in whole.parents if folder != above and folder.is_relative_to(above)]
    return Offered(path, _show(path), find_kind(path), (path.stem, *folders))


def find_kind(path: PurePath) -> OfferedKind:
    """What a file seems to be by its name."""
    ending = path.suffix.lower()
    if ending in PICTURES:
        return OfferedKind.PICTURE
    if ending in SIGHTINGS:
        return OfferedKind.TABLE
    return OfferedKind.CAPTIONS if ending in _CAPTIONS else OfferedKind.OTHER


def _show(path: Path) -> str:
    """A path as it is printed; bytes that are no text are shown as such."""
    return os.fsencode(path).decode("utf-8", errors="backslashreplace")


def _lower_first(text: str) -> str:
    return text[:1].lower() + text[1:]
