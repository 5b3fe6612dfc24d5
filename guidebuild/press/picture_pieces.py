"""What a picture file carries beside its pixels, as pieces of bytes. Pixels are left out: by chance they spell any short word."""

from __future__ import annotations

from collections.abc import Iterator
from io import BytesIO

_EXTENDED_XMP = b"http://ns.adobe.com/xmp/extension/\x00"
_PIXELS_OF_PNG = {b"IDAT", b"fdAT", b"PLTE"}
_PIXELS_OF_WEBP = {b"VP8 ", b"VP8L", b"ALPH", b"ANMF"}
_MARKERS_ALONE = {0x01, *range(0xD0, 0xD9)}


def carried_pieces(content: bytes) -> tuple[bytes, ...]:
    """The pieces of a picture that are no pixels; of a kind that is not known, the whole file."""
    if content.startswith(b"\xff\xd8"):
        segments = list(_jpeg_segments(content))
        return (*(piece for _, piece in segments), *_joined(segments))
    if content.startswith(b"\x89PNG"):
        return tuple(_chunks(content, 8, "big", _PIXELS_OF_PNG))
    if content.startswith(b"RIFF") and content[8:12] == b"WEBP":
        return tuple(_chunks(content, 12, "little", _PIXELS_OF_WEBP))
    if content[4:8] == b"ftyp":
        return tuple(_boxes(content))
    return (content,)


def _jpeg_segments(content: bytes) -> Iterator[tuple[int, bytes]]:
    """Marker and bytes of each segment; what stands behind the picture has the marker of its end."""
    place = 2
    while (place := content.find(b"\xff", place)) != -1 and place + 4 <= len(content):
        marker = content[place + 1]
        if marker == 0xD9:
            yield marker, content[place + 2 :]
            return
        if marker in (0x00, 0xFF) or marker in _MARKERS_ALONE:
            place += 1 if marker == 0xFF else 2
            continue
        size = int.from_bytes(content[place + 2 : place + 4], "big")
        if 0xE0 <= marker <= 0xEF or marker == 0xFE:
            yield marker, content[place + 4 : place + 2 + size]
        place += 2 + size


def _joined(segments: list[tuple[int, bytes]]) -> Iterator[bytes]:
    """What is too long for one segment and goes on in the next: extended XMP (behind its digest, length and place), and boxes of APP11."""
    head = len(_EXTENDED_XMP)
    long = [piece[head:] for marker, piece in segments if marker == 0xE1 and piece.startswith(_EXTENDED_XMP)]
    yield b"".join(piece[40:] for piece in sorted(long, key=lambda piece: (piece[:32], piece[36:40])))
    for overhead in (8, 16):
        yield b"".join(piece[overhead:] for marker, piece in segments if marker == 0xEB and piece.startswith(b"JP"))


def _chunks(content: bytes, start: int, order: str, pixels: set[bytes]) -> Iterator[bytes]:
    """Chunks of PNG (length, name, bytes, sum) and RIFF (name, length, bytes, padded to two)."""
    stream = BytesIO(content)
    stream.seek(start)
    while len(head := stream.read(8)) == 8:
        is_png = order == "big"
        name, length = (head[4:], head[:4]) if is_png else (head[:4], head[4:])
        size = int.from_bytes(length, "big" if is_png else "little")
        held = stream.read(size)
        if name not in pixels:
            yield name + held
        stream.read(4 if is_png else size % 2)
        if is_png and name == b"IEND":
            break
    yield stream.read()


def _boxes(content: bytes) -> Iterator[bytes]:
    """Boxes of AVIF and HEIF at the top, but for the one with the pixels (words that lie there are told by the library)."""
    place = 0
    while place + 8 <= len(content):
        size = int.from_bytes(content[place : place + 4], "big")
        if size == 1:
            size = int.from_bytes(content[place + 8 : place + 16], "big")
        size = size if size >= 8 else len(content) - place
        if content[place + 4 : place + 8] != b"mdat":
            yield content[place : place + size]
        place += size
