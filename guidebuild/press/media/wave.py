"""WAVE files (RIFF and RF64; EBU Tech 3306): the format and the samples stay, every other chunk goes."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.press.media.pieces import CannotCleanError, Piece

_STAY = {b"fmt ", b"fact", b"data", b"ds64"}
_CALLED = {
    b"bext": "broadcast chunk (bext)",
    b"iXML": "iXML chunk",
    b"axml": "axml chunk",
    b"LIST": "list of remarks (LIST)",
    b"cart": "cart chunk",
    b"guan": "recorder's notes (GUANO)",
    b"id3 ": "ID3 tag",
    b"ID3 ": "ID3 tag",
    b"_PMX": "XMP",
}
_PLAYED = {1, 3, 6, 7, 0xFFFE}
"""Formats that browsers play: PCM, floating point, A-law, µ-law, and the long form that names one of these."""
_OPEN_END = 0xFFFFFFFF


def take_apart_wave(content: bytes) -> Iterator[Piece]:
    """The chunks of a WAVE file; the length in its head is written anew."""
    chunks = list(_chunks(content))
    kept = [piece for name, piece in chunks if piece.instead is None and name]
    if not {b"fmt ", b"data"} <= {content[piece.start : piece.start + 4] for piece in kept}:
        raise CannotCleanError("has no sound in it")
    size = 4 + sum(piece.end - piece.start for piece in kept)
    yield Piece(0, 4)
    yield Piece(4, 8, (size if content[:4] == b"RIFF" else _OPEN_END).to_bytes(4, "little"), "")
    yield Piece(8, 12)
    yield from (piece for _, piece in chunks)


def _chunks(content: bytes) -> Iterator[tuple[bytes, Piece]]:
    place, long_data = 12, 0
    while place + 8 <= len(content):
        name, size = content[place : place + 4], int.from_bytes(content[place + 4 : place + 8], "little")
        if name == b"ds64":
            long_data = int.from_bytes(content[place + 16 : place + 24], "little")
        if name == b"data" and size == _OPEN_END:
            size = long_data or len(content) - place - 8
        if name == b"fmt ":
            _refuse_unplayed(int.from_bytes(content[place + 8 : place + 10], "little"))
        end = place + 8 + size + size % 2
        if place + 8 + size > len(content):
            if name == b"data":
                raise CannotCleanError("is cut short: its sound ends before its length says; copy it again from the recorder")
            end = len(content)
        end = min(end, len(content))
        stays = name in _STAY
        yield name, Piece(place, end, None if stays else b"", _CALLED.get(name, "chunk that is not needed"))
        place = end
    if place < len(content):
        yield b"", Piece(place, len(content), b"", "bytes behind the sound")


def _refuse_unplayed(kind: int) -> None:
    if kind not in _PLAYED:
        raise CannotCleanError(f"is coded in a way that browsers do not play (format {kind:#06x}); save it as WAV (PCM), FLAC or MP3")
