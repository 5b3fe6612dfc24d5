"""MP3 (ISO/IEC 11172-3, 13818-3, layer III): the frames stay, whatever stands before, between or behind them goes."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.press.media.pieces import CannotCleanError, Piece
from guidebuild.press.media.tags import find_head_tags, find_tail_tags

_KBITS_1 = (0, 32, 40, 48, 56, 64, 80, 96, 112, 128, 160, 192, 224, 256, 320)
_KBITS_2 = (0, 8, 16, 24, 32, 40, 48, 56, 64, 80, 96, 112, 128, 144, 160)
_RATES = {3: (44100, 48000, 32000), 2: (22050, 24000, 16000), 0: (11025, 12000, 8000)}
"""Samples a second by the version's two bits (3: MPEG-1, 2: MPEG-2, 0: MPEG-2.5)."""
_FEWEST = 2
"""So many frames in a row show that bytes which look like a head are one."""


def take_apart_mp3(content: bytes) -> Iterator[Piece]:
    """The frames of an MP3 file and what lies around them."""
    head = find_head_tags(content)
    start = head[-1].end if head else 0
    tail = find_tail_tags(content, start)
    end = tail[0].start if tail else len(content)
    runs = list(_runs_of_frames(content, start, end))
    if not runs:
        raise CannotCleanError("has no sound in it that is MP3 (layer III); export it again as MP3")
    yield from head
    place = start
    for first, behind in runs:
        yield from [Piece(place, first, b"", "bytes between the frames")] if place < first else ()
        yield Piece(first, behind)
        place = behind
    yield from [Piece(place, end, b"", "bytes behind the sound")] if place < end else ()
    yield from tail


def _runs_of_frames(content: bytes, place: int, end: int) -> Iterator[tuple[int, int]]:
    while (place := content.find(b"\xff", place, end)) != -1:
        behind, frames = _run_end(content, place, end)
        if frames >= _FEWEST:
            yield place, behind
        place = behind if frames >= _FEWEST else place + 1


def _run_end(content: bytes, place: int, end: int) -> tuple[int, int]:
    """Where the frames that begin here end, and how many there are."""
    frames = 0
    while (size := _frame_size(content[place : place + 4])) and place + size <= end:
        place += size
        frames += 1
    return place, frames


def _frame_size(head: bytes) -> int:
    """The bytes of a frame of layer III by its head; 0 where it is none."""
    if len(head) < 4 or head[0] != 0xFF or head[1] & 0xE0 != 0xE0 or head[1] & 0x06 != 0x02:
        return 0
    version, rate, coded = head[1] >> 3 & 3, head[2] >> 2 & 3, head[2] >> 4
    if version == 1 or rate == 3 or coded in (0, 15):
        return 0
    kbits = (_KBITS_1 if version == 3 else _KBITS_2)[coded]
    return (144 if version == 3 else 72) * kbits * 1000 // _RATES[version][rate] + (head[2] >> 1 & 1)
