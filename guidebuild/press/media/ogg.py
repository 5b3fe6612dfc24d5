"""Ogg (RFC 3533) with Vorbis or Opus (RFC 7845): the comments are written over with nothing, in their own length; all else stays.

So no page moves, and only the sums of the pages that held comments are worked out anew.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from guidebuild.press.media.pieces import CannotCleanError, Piece

_VORBIS, _OPUS = b"\x01vorbis", b"OpusHead"
_VORBIS_COMMENT, _OPUS_COMMENT = b"\x03vorbis", b"OpusTags"
_WHAT = "Vorbis comment"


@dataclass
class _Stream:
    """What was seen of one stream: how it is coded, and the pieces of its second packet, which holds the comments."""

    coding: bytes
    spans: list[tuple[int, int]] = field(default_factory=list)
    is_read: bool = False


@dataclass(frozen=True, slots=True)
class _Page:
    start: int
    body: int
    end: int
    laced: bytes
    serial: bytes
    is_first: bool


def take_apart_ogg(content: bytes) -> Iterator[Piece]:
    """The pages of an Ogg file; where one holds comments, its bytes with none in them."""
    pages, streams = list(_pages(content)), {}
    held: dict[int, list[tuple[int, int, bytes]]] = {}
    for page in pages:
        if page.is_first:
            streams[page.serial] = _Stream(_coding_of(content[page.body : page.end]))
            continue
        stream = streams.get(page.serial)
        if stream is None:
            raise CannotCleanError("is damaged: a page is of no stream; export it again")
        if not stream.is_read and _take_comment(stream, page):
            for start, end, instead in _emptied(content, stream):
                held.setdefault(next(p.start for p in pages if p.start <= start < p.end), []).append((start, end, instead))
    if not all(stream.is_read for stream in streams.values()):
        raise CannotCleanError("is cut short: its comments do not end; copy it again")
    for page in pages:
        yield Piece(page.start, page.end, _page_with(content, page, held[page.start]) if page.start in held else None, _WHAT)
    end = pages[-1].end
    if end < len(content):
        yield Piece(end, len(content), b"", "bytes behind the sound")


def _coding_of(body: bytes) -> bytes:
    coding = next((coding for coding in (_VORBIS, _OPUS) if body.startswith(coding)), b"")
    if not coding:
        raise CannotCleanError("holds something other than Vorbis or Opus sound; export it as Ogg Opus, MP3 or FLAC")
    return coding


def _pages(content: bytes) -> Iterator[_Page]:
    place = 0
    while content[place : place + 4] == b"OggS":
        laced = content[place + 27 : place + 27 + content[place + 26]] if place + 27 <= len(content) else b""
        body = place + 27 + len(laced)
        end = body + sum(laced)
        if not laced or end > len(content):
            if place == 0:
                raise CannotCleanError("is cut short: its first page does not end; copy it again")
            return  # the rest of a page that was never written to its end
        yield _Page(place, body, end, laced, content[place + 14 : place + 18], bool(content[place + 5] & 2))
        place = end


def _take_comment(stream: _Stream, page: _Page) -> bool:
    """Add a page's share of the stream's second packet; whether it ends there."""
    size = 0
    for laced in page.laced:
        size += laced
        if laced < 255:
            stream.is_read = True
            break
    stream.spans.append((page.body, page.body + size))
    return stream.is_read


def _emptied(content: bytes, stream: _Stream) -> Iterator[tuple[int, int, bytes]]:
    """The places of a packet with comments, each with the bytes that say that there are none."""
    packet = b"".join(content[start:end] for start, end in stream.spans)
    empty = empty_vorbis_comment(packet) if stream.coding == _VORBIS else _empty_opus_comment(packet)
    place = 0
    for start, end in stream.spans:
        yield start, end, empty[place : place + end - start]
        place += end - start


def empty_vorbis_comment(packet: bytes) -> bytes:
    """A packet of Vorbis comments of the same length that says nothing: its maker's name is blank, and there are no comments."""
    blank = len(packet) - 16  # packet's name 7, two lengths of 4, the last bit 1
    if not packet.startswith(_VORBIS_COMMENT) or blank < 0:
        raise CannotCleanError("is damaged: its comments are not where they belong; export it again")
    return _VORBIS_COMMENT + blank.to_bytes(4, "little") + b" " * blank + bytes(4) + b"\x01"


def _empty_opus_comment(packet: bytes) -> bytes:
    if not packet.startswith(_OPUS_COMMENT) or len(packet) < 16:
        raise CannotCleanError("is damaged: its comments are not where they belong; export it again")
    return _OPUS_COMMENT.ljust(len(packet), b"\x00")  # zeros behind the comments are padding (RFC 7845, 5.2)


def _page_with(content: bytes, page: _Page, changes: list[tuple[int, int, bytes]]) -> bytes:
    written = bytearray(content[page.start : page.end])
    for start, end, instead in changes:
        written[start - page.start : end - page.start] = instead
    written[22:26] = bytes(4)
    written[22:26] = _sum_of(written).to_bytes(4, "little")
    return bytes(written)


def _table() -> tuple[int, ...]:
    """The sum of each byte by the polynomial 0x04c11db7, the highest bit first (RFC 3533, 6)."""
    sums = []
    for byte in range(256):
        held = byte << 24
        for _ in range(8):
            held = (held << 1 ^ 0x04C11DB7 if held & 0x80000000 else held << 1) & 0xFFFFFFFF
        sums.append(held)
    return tuple(sums)


_SUMS = _table()


def _sum_of(page: bytes | bytearray) -> int:
    held = 0
    for byte in page:
        held = (held << 8 & 0xFFFFFFFF) ^ _SUMS[held >> 24 ^ byte]
    return held
