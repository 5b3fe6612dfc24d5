"""FLAC (RFC 9639): the stream's own figures and its table of places stay, comments, pictures, cue sheets and all else go."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.press.media.pieces import CannotCleanError, Piece
from guidebuild.press.media.tags import find_head_tags, find_tail_tags

_STREAMINFO, _SEEKTABLE = 0, 3
_CALLED = {1: "unused room", 2: "application block", 4: "Vorbis comment", 5: "cue sheet", 6: "picture"}


def take_apart_flac(content: bytes) -> Iterator[Piece]:
    """The blocks of a FLAC file; the last that stays says that it is the last."""
    head = find_head_tags(content)
    yield from head
    place = head[-1].end if head else 0
    if content[place : place + 4] != b"fLaC" or content[place + 4 : place + 5] not in {b"\x00", b"\x80"}:
        raise CannotCleanError("is damaged: it does not begin as FLAC does; copy it again from the recorder")
    yield Piece(place, place + 4)
    blocks = list(_blocks(content, place + 4))
    last_kept = max(start for start, _, kind in blocks if kind in (_STREAMINFO, _SEEKTABLE))
    for start, end, kind in blocks:
        if kind in (_STREAMINFO, _SEEKTABLE):
            yield Piece(start, start + 1, bytes([kind | (0x80 if start == last_kept else 0)]), "")
            yield Piece(start + 1, end)
        else:
            yield Piece(start, end, b"", _CALLED.get(kind, "block that is not known"))
    sound = blocks[-1][1]
    if content[sound : sound + 1] != b"\xff":
        raise CannotCleanError("is cut short: there is no sound in it; copy it again from the recorder")
    tail = find_tail_tags(content, sound)
    yield Piece(sound, tail[0].start if tail else len(content))
    yield from tail


def _blocks(content: bytes, place: int) -> Iterator[tuple[int, int, int]]:
    """Where each block before the sound begins and ends, and its kind."""
    is_last = False
    while not is_last:
        head = content[place : place + 4]
        end = place + 4 + int.from_bytes(head[1:], "big")
        if len(head) < 4 or end > len(content):
            raise CannotCleanError("is cut short: it ends before its sound; copy it again from the recorder")
        is_last = bool(head[0] & 0x80)
        yield place, end, head[0] & 0x7F
        place = end
