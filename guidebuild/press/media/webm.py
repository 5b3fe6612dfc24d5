"""WebM and Matroska (RFC 8794, RFC 9559): elements that play stay, all others become empty ones of their own length."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.press.media.ogg import empty_vorbis_comment
from guidebuild.press.media.pieces import CannotCleanError, Piece, fill_gaps

_SEGMENT, _SEEK_HEAD, _INFO, _TRACKS, _TRACK, _CLUSTER, _CUES = 0x18538067, 0x114D9B74, 0x1549A966, 0x1654AE6B, 0xAE, 0x1F43B675, 0x1C53BB6B
_EBML, _SEEK, _GROUP, _VOID, _PROGRAM, _WRITER = 0x1A45DFA3, 0x4DBB, 0xA0, 0xEC, 0x4D80, 0x5741
_KIND, _NUMBER, _CODING, _PRIVATE = 0x83, 0xD7, 0x86, 0x63A2
_BLOCK, _SIMPLE, _SEEK_ID = 0xA1, 0xA3, 0x53AB
_INSIDE = {
    0: {_EBML, _SEGMENT},
    _SEGMENT: {_SEEK_HEAD, _INFO, _TRACKS, _CLUSTER, _CUES},
    _SEEK_HEAD: {_SEEK},
    _INFO: {0x2AD7B1, 0x4489, _PROGRAM, _WRITER},
    _TRACKS: {_TRACK},
    # number, id, kind, flags, lacing, durations, language, coding, delays, picture, sound
    _TRACK: {_NUMBER, 0x73C5, _KIND, 0xB9, 0x88, 0x55AA, 0x9C, 0x6DE7, 0x23E383, 0x22B59C, _CODING, _PRIVATE, 0x56AA, 0x56BB, 0xE0, 0xE1},
    _CLUSTER: {0xE7, 0xA7, 0xAB, _SIMPLE, _GROUP},
    _GROUP: {_BLOCK, 0x9B, 0xFB, 0x75A2},
}
_CALLED = {
    0x1254C367: "tags",
    0x1043A770: "chapters",
    0x1941A469: "attachments",
    0x7BA9: "title",
    0x4461: "day and time",
    0x536E: "name of a track",
}
_KEPT_KINDS = {b"\x01", b"\x02"}
_NEVER_ENDS = -1


@dataclass(frozen=True, slots=True)
class Element:
    """One element: its id, where it begins, where its content does, where it ends."""

    id: int
    start: int
    body: int
    end: int


def take_apart_webm(content: bytes) -> Iterator[Piece]:
    """The elements of a WebM file, each as it is or emptied."""
    top = list(_elements(content, 0, len(content), 0))
    segments = [element for element in top if element.id == _SEGMENT]
    if not top or top[0].id != _EBML or len(segments) != 1:
        raise CannotCleanError("is damaged: it does not begin as WebM does; export it again")
    inside = list(_elements(content, segments[0].body, segments[0].end, _SEGMENT))
    found = [track for tracks in inside if tracks.id == _TRACKS for track in _elements(content, tracks.body, tracks.end, _TRACKS)]
    tracks = [{held.id: content[held.body : held.end] for held in _elements(content, track.body, track.end, _TRACK)} for track in found]
    kept = {int.from_bytes(track.get(_NUMBER, b"")): track.get(_CODING, b"") for track in tracks if track.get(_KIND) in _KEPT_KINDS}
    if not kept:
        raise CannotCleanError("has neither picture nor sound in it")
    yield from fill_gaps(_walk(content, top, 0, set(kept)), len(content))


def _elements(content: bytes, place: int, end: int, inside: int) -> Iterator[Element]:
    """The elements of a stretch. One without a length (written while it was recorded) ends where another of its kind or above begins."""
    while place < end:
        ident, body = _read_number(content, place, marked=True)
        size, body = _read_number(content, body)
        behind = _end_of_open(content, body, end, ident) if size == _NEVER_ENDS else body + size
        if behind > end:
            raise CannotCleanError("is cut short or damaged: a part of it is longer than the file; copy it again")
        yield Element(ident, place, body, behind)
        place = behind


def _end_of_open(content: bytes, place: int, end: int, ident: int) -> int:
    if ident == _SEGMENT:
        return end
    if ident != _CLUSTER:
        raise CannotCleanError("is damaged: a part of it has no length; export it again")
    while place < end:
        inner, body = _read_number(content, place, marked=True)
        if inner > 0xFFFFFF:  # all elements at the level of a cluster have ids of four bytes, none inside one has
            return place
        size, body = _read_number(content, body)
        place = body + size
    return end


def _read_number(content: bytes, place: int, marked: bool = False) -> tuple[int, int]:
    """A number of variable length and where it ends (RFC 8794, 4); with its marker where it is an id."""
    first = content[place] if place < len(content) else 0
    length = 9 - first.bit_length()
    if not first or length > (4 if marked else 8) or place + length > len(content):
        raise CannotCleanError("is cut short or damaged: a part of it cannot be read; copy it again")
    value = int.from_bytes(content[place : place + length])
    if marked:
        return value, place + length
    most = (1 << 7 * length) - 1
    return (_NEVER_ENDS if value & most == most else value & most), place + length


def _walk(content: bytes, elements: list[Element], inside: int, kept: set[int]) -> Iterator[Piece]:
    for element in elements:
        held = content[element.body : element.end] if element.id in (_SEEK, _TRACK, _SIMPLE, _GROUP) else b""
        if element.id not in _INSIDE[inside] or not _is_needed(element, held, kept):
            yield Piece(element.start, element.end, _void(element.end - element.start), _called(element.id))
        elif element.id in (_PROGRAM, _WRITER):
            yield Piece(element.body, element.end, b" " * (element.end - element.body), "name of a program")
        elif element.id in _INSIDE and element.id != _SEEK:
            yield from _walk(content, list(_elements(content, element.body, element.end, element.id)), element.id, kept)
        elif element.id == _PRIVATE and content[element.body : element.body + 1] == b"\x02":
            yield from _private_of_vorbis(content, element)


def _called(ident: int) -> str:
    return "unused room" if ident == _VOID else _CALLED.get(ident, "element that is not needed")


def _is_needed(element: Element, held: bytes, kept: set[int]) -> bool:
    if element.id == _TRACK:
        return any(inner.id == _KIND and held[inner.body : inner.end] in _KEPT_KINDS for inner in _elements(held, 0, len(held), _TRACK))
    if element.id == _SIMPLE:
        return _read_number(held, 0)[0] in kept
    if element.id == _GROUP:
        blocks = [inner for inner in _elements(held, 0, len(held), _GROUP) if inner.id == _BLOCK]
        return bool(blocks) and _read_number(held, blocks[0].body)[0] in kept
    if element.id == _SEEK:
        asked = [held[inner.body : inner.end] for inner in _elements(held, 0, len(held), _SEEK) if inner.id == _SEEK_ID]
        return bool(asked) and int.from_bytes(asked[0]) in _INSIDE[_SEGMENT]
    return True


def _private_of_vorbis(content: bytes, element: Element) -> Iterator[Piece]:
    """The comments among the three packets that Vorbis begins with (RFC 9559, and the mapping of Vorbis: two lengths, then the packets)."""
    place, sizes = element.body + 1, []
    for _ in range(2):
        size = 0
        while content[place] == 255 and place < element.end:
            size, place = size + 255, place + 1
        sizes.append(size + content[place])
        place += 1
    start, end = place + sizes[0], place + sum(sizes)
    if content[place : place + 7] == b"\x01vorbis" and end <= element.end:
        yield Piece(start, end, empty_vorbis_comment(content[start:end]), "Vorbis comment")


def _void(size: int) -> bytes:
    """An empty element of some bytes (RFC 8794, 11.3.2)."""
    if size < 9:
        return bytes([_VOID, 0x80 | (size - 2)]) + bytes(size - 2)
    return bytes([_VOID, 0x01]) + (size - 9).to_bytes(7, "big") + bytes(size - 9)
