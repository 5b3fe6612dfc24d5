"""Files that hold files: archives and packed files are opened, however deep one lies in another, up to a size and a depth."""

from __future__ import annotations

import bz2
import gzip
import io
import lzma
import tarfile
import zipfile
import zlib
from collections.abc import Iterator
from typing import Protocol

LARGEST = 300_000_000
"""So many bytes of one packed file are looked through; what holds more is held back."""
DEEPEST = 6
_CLOSED = {b"7z\xbc\xaf\x27\x1c": "7z", b"Rar!": "RAR", b"\x28\xb5\x2f\xfd": "Zstandard", b"MSCF": "cabinet"}
_PACKED = (b"\x1f\x8b", b"BZh", b"\xfd7zXZ\x00")
"""How gzip, bzip2 and xz begin."""
DAMAGED = (
    zipfile.BadZipFile,
    tarfile.TarError,
    lzma.LZMAError,
    zlib.error,
    EOFError,
    OSError,
    RuntimeError,
    NotImplementedError,
    ValueError,
)
"""All that is known to be raised by damaged archives and those with a password."""


class Readable(Protocol):
    """What can be read up to a size."""

    def read(self, size: int, /) -> bytes:
        """The next bytes."""


class CannotUnpackError(ValueError):
    """A packed file that cannot be looked through: damaged, too large, too deep, with a password, or of a kind that is not known."""


def is_packed(content: bytes) -> bool:
    """Whether some bytes are a packed file or an archive, of a kind that can be opened or not."""
    return _closed_kind(content) != "" or content.startswith(_PACKED) or _is_tar(content) or zipfile.is_zipfile(io.BytesIO(content))


def unpack(content: bytes) -> Iterator[tuple[str, bytes]]:
    """What stands in an archive: the name of each piece and its bytes. The words that some archives carry themselves have no name."""
    if kind := _closed_kind(content):
        raise CannotUnpackError(f"a {kind} archive")
    try:
        if content.startswith(_PACKED):
            with _opened(content) as packed:
                yield "unpacked", _read(packed, LARGEST)
        elif _is_tar(content):
            yield from _from_tar(content)
        else:
            yield from _from_zip(content)
    except DAMAGED as trouble:
        if isinstance(trouble, CannotUnpackError):
            raise
        raise CannotUnpackError(type(trouble).__name__) from trouble


def _closed_kind(content: bytes) -> str:
    return next((kind for head, kind in _CLOSED.items() if content.startswith(head)), "")


def _opened(content: bytes) -> gzip.GzipFile | bz2.BZ2File | lzma.LZMAFile:
    stream = io.BytesIO(content)
    if content.startswith(b"BZh"):
        return bz2.BZ2File(stream)
    return lzma.LZMAFile(stream) if content.startswith(b"\xfd7z") else gzip.GzipFile(fileobj=stream)


def _is_tar(content: bytes) -> bool:
    return content[257:262] == b"ustar"


def _read(packed: Readable, most: int) -> bytes:
    held = packed.read(most + 1)
    if len(held) > most:
        raise CannotUnpackError("it is too large once it is unpacked")
    return held


def _from_tar(content: bytes) -> Iterator[tuple[str, bytes]]:
    left = LARGEST
    with tarfile.open(fileobj=io.BytesIO(content), mode="r:") as archive:
        for member in archive:
            packed = archive.extractfile(member) if member.isfile() else None
            held = _read(packed, left) if packed else b""
            left -= len(held)
            yield member.name, held


def _from_zip(content: bytes) -> Iterator[tuple[str, bytes]]:
    left = LARGEST
    with zipfile.ZipFile(io.BytesIO(content)) as archive:
        yield "", archive.comment
        for member in archive.infolist():
            yield "", member.comment + b"\n\n" + member.extra
            with archive.open(member) as packed:
                held = _read(packed, left)
            left -= len(held)
            yield member.filename, held
