"""Tags that stand before or behind the sound, whatever the container: ID3 (versions 1 and 2), APE and Lyrics3."""

from __future__ import annotations

import re

from guidebuild.press.media.pieces import Piece

_LYRICS = re.compile(rb"(\d{6})LYRICS200$")


def find_head_tags(content: bytes, place: int = 0) -> list[Piece]:
    """ID3v2 tags in a row (ID3v2.4, 3.1: ten bytes of head, seven bits in each byte of the size, ten more behind if bit 4 says so)."""
    found = []
    while content[place : place + 3] == b"ID3" and place + 10 <= len(content):
        size = sum((byte & 0x7F) << shift for byte, shift in zip(content[place + 6 : place + 10], (21, 14, 7, 0), strict=True))
        end = min(place + 10 + size + (10 if content[place + 5] & 0x10 else 0), len(content))
        found.append(Piece(place, end, b"", "ID3 tag"))
        place = end
    return found


def find_tail_tags(content: bytes, start: int = 0) -> list[Piece]:
    """Tags behind the sound, in the file's order."""
    found: list[Piece] = []
    end = len(content)
    while (tag := _tail_tag(content, end)) and tag.start >= start:
        found.insert(0, tag)
        end = tag.start
    return found


def _tail_tag(content: bytes, end: int) -> Piece | None:
    if end >= 128 and content[end - 128 : end - 125] == b"TAG":
        return Piece(end - 128, end, b"", "ID3 tag")
    if end >= 32 and content[end - 32 : end - 24] == b"APETAGEX":  # its size counts the footer and not the head
        size = int.from_bytes(content[end - 20 : end - 16], "little")
        head = 32 if content[end - 9] & 0x80 else 0
        return Piece(end - size - head, end, b"", "APE tag") if 32 <= size <= end - head else None
    if end >= 15 and (found := _LYRICS.match(content[end - 15 : end])) and int(found[1]) + 15 <= end:
        return Piece(end - int(found[1]) - 15, end, b"", "Lyrics3 tag")
    return None
