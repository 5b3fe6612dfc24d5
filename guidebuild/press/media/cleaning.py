"""A recording or film as it may be published: the same sound and picture, and nothing that tells of where, when or whose.

Nothing is coded anew. What is cleaned is read again, and published only where nothing more is found to take off.
"""

from __future__ import annotations

import struct
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path, PurePath

from guidebuild.press.engine.problems import Problem
from guidebuild.press.media.flac import take_apart_flac
from guidebuild.press.media.mpeg import take_apart_mp3
from guidebuild.press.media.mpeg4 import take_apart_mp4
from guidebuild.press.media.ogg import take_apart_ogg
from guidebuild.press.media.pieces import CannotCleanError, Piece, TakeApart, find_changed, join_pieces
from guidebuild.press.media.tags import find_head_tags
from guidebuild.press.media.wave import take_apart_wave
from guidebuild.press.media.webm import take_apart_webm

LARGEST_BYTES = 500_000_000
ENDINGS = {
    "wav": (".wav",),
    "flac": (".flac",),
    "mp3": (".mp3",),
    "ogg": (".ogg", ".oga", ".opus"),
    "mp4": (".mp4", ".m4v", ".m4a", ".mov"),
    "webm": (".webm",),
}
"""The containers that are read, each with the endings of its files."""
_NAMES = {"wav": "WAV", "flac": "FLAC", "mp3": "MP3", "ogg": "Ogg", "mp4": "MP4", "webm": "WebM"}
_DAMAGED = (CannotCleanError, IndexError, struct.error)
"""All that is raised of a file that ends too early or contradicts itself."""
_READERS: dict[str, TakeApart] = {
    "wav": take_apart_wave,
    "flac": take_apart_flac,
    "mp3": take_apart_mp3,
    "ogg": take_apart_ogg,
    "mp4": take_apart_mp4,
    "webm": take_apart_webm,
}


@dataclass(frozen=True, slots=True)
class Remark:
    """Something that a file carries beside sound and picture: what it is, and its bytes."""

    what: str
    held: bytes


def find_container(content: bytes) -> str:
    """Which container some bytes are, by how they begin and not by their name; "" where it is none that is read."""
    tags = find_head_tags(content)
    head = content[tags[-1].end if tags else 0 :][:12]
    if head[:4] in (b"RIFF", b"RF64") and head[8:12] == b"WAVE":
        return "wav"
    if head[:4] in (b"fLaC", b"OggS"):
        return "flac" if head[:1] == b"f" else "ogg"
    if head[:4] == b"\x1a\x45\xdf\xa3":
        return "webm"
    if head[:1] == b"\x00" and head[4:8] in (b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip"):
        return "mp4"
    is_mp3 = bool(tags) or (head[:1] == b"\xff" and len(head) > 1 and head[1] & 0xE6 == 0xE2)
    return "mp3" if is_mp3 else ""


def clean_media(source: Path | bytes, where: str) -> bytes | Problem:
    """The file without all that tells, or why it is not published; `where` is its name as the author wrote it."""
    content = read_media(source, where)
    if isinstance(content, Problem):
        return content
    try:
        cleaned = join_pieces(content, _take_apart(content, where))
        left = next(find_changed(cleaned, _take_apart(cleaned, where)), None)
    except _DAMAGED as trouble:
        return _refused(where, trouble)
    if left is not None:
        return Problem("media-not-cleaned", where, f"the file keeps a {left.what} however it is cleaned; export it again without remarks")
    return cleaned


def read_remarks(source: Path | bytes, where: str) -> tuple[Remark, ...] | Problem:
    """What a file carries that is not published with it."""
    content = read_media(source, where)
    if isinstance(content, Problem):
        return content
    try:
        changed = list(find_changed(content, _take_apart(content, where)))
    except _DAMAGED as trouble:
        return _refused(where, trouble)
    return tuple(Remark(piece.what, content[piece.start : piece.end]) for piece in changed if piece.what and piece.what != "unused room")


def read_media(source: Path | bytes, where: str) -> bytes | Problem:
    """The bytes of a file, or why they are not read."""
    if isinstance(source, bytes):
        return source
    try:
        if (size := source.stat().st_size) > LARGEST_BYTES:
            told = f"the file has {size / 1e6:.0f} MB, more than the {LARGEST_BYTES / 1e6:.0f} MB that are read; export it smaller"
            return Problem("media-too-large", where, told)
        return source.read_bytes()
    except FileNotFoundError:
        return Problem("media-missing", where, "there is no such file; check the name, capitals included")
    except OSError as trouble:
        return Problem("not-readable", where, f"the file cannot be opened ({trouble.strerror}); check its permissions")


def _take_apart(content: bytes, where: str) -> Iterator[Piece]:
    kind, ending = find_container(content), PurePath(where).suffix.lower()
    if not kind:
        raise CannotCleanError("is none that is read (WAV, FLAC, MP3, Ogg, M4A, MP4, WebM); export it as one of these")
    if ending and ending not in ENDINGS[kind]:
        raise CannotCleanError(f"is {_NAMES[kind]} inside, though its name ends in {ending}; give it the ending {ENDINGS[kind][0]}")
    if ending == ".mov":
        raise CannotCleanError("is QuickTime (.mov), which many browsers do not play; export it as MP4")
    return _READERS[kind](content)


def _refused(where: str, trouble: Exception) -> Problem:
    told = str(trouble) if isinstance(trouble, CannotCleanError) else "is damaged; copy it again"
    words, _, mend = told.partition("; ")
    kind = "media-damaged" if "damaged" in words or "cut short" in words else "media-refused"
    return Problem(kind, where, f"the file {words}; {mend or 'export it again'}")
