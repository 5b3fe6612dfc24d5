"""MP4, M4A and MOV (ISO/IEC 14496-12): boxes that play stay, all others are written over with zeros in their own length.

So nothing moves inside the file. Tracks that are neither picture nor sound (chapters, positions by the second, timecode) are written over
with their samples; in the room of the samples stays only what a picture or a sound track points at.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.press.media.pieces import CannotCleanError, Piece, fill_gaps
from guidebuild.press.media.samples import find_sample_spans

_INSIDE = {
    b"": {b"ftyp", b"styp", b"moov", b"mdat", b"moof", b"mfra", b"sidx", b"pdin"},
    b"moov": {b"mvhd", b"trak", b"mvex"},
    b"trak": {b"tkhd", b"edts", b"mdia"},
    b"edts": {b"elst"},
    b"mdia": {b"mdhd", b"hdlr", b"minf"},
    b"minf": {b"vmhd", b"smhd", b"nmhd", b"dinf", b"stbl", b"hdlr"},
    b"dinf": {b"dref"},
    b"stbl": {b"stsd", b"stts", b"stss", b"ctts", b"cslg", b"stsc", b"stsz", b"stz2", b"stco", b"co64"}
    | {b"sgpd", b"sbgp", b"sdtp", b"stps", b"subs", b"padb", b"stdp", b"saiz", b"saio"},
    b"mvex": {b"mehd", b"trex"},
    b"moof": {b"mfhd", b"traf"},
    b"traf": {b"tfhd", b"tfdt", b"trun", b"sgpd", b"sbgp", b"subs", b"saiz", b"saio"},
    b"mfra": {b"tfra", b"mfro"},
}
"""What may stand inside each box that holds boxes; the first line is the file itself."""
_CALLED = {b"udta": "user data", b"meta": "metadata", b"uuid": "private box", b"tref": "links between tracks", b"cmov": "packed head"}
_UNUSED = {b"free", b"skip", b"wide"}
_KEPT_TRACKS = {b"vide", b"soun"}
_DATED = {b"mvhd", b"tkhd", b"mdhd"}
_NAME_IN_HANDLER = 24  # version and flags 4, made for 4, kind 4, reserved 12
_COMPRESSOR = 42, 74  # of a picture's sample entry, counted behind its length and name


@dataclass(frozen=True, slots=True)
class Box:
    """One box: its name, where it begins, where its content does, where it ends."""

    name: bytes
    start: int
    body: int
    end: int


def take_apart_mp4(content: bytes) -> Iterator[Piece]:
    """The boxes of an MP4 file, each as it is or written over."""
    top = list(find_boxes(content, 0, len(content)))
    heads = [box for box in top if box.name == b"moov"]
    if len(heads) != 1 or not any(box.name == b"mdat" for box in top):
        raise CannotCleanError("is cut short: its head or its samples are missing; copy it again from the camera")
    tracks = [box for box in find_boxes(content, heads[0].body, heads[0].end) if box.name == b"trak"]
    kept = [track for track in tracks if _kind_of(content, track) in _KEPT_TRACKS]
    if not kept:
        raise CannotCleanError("has neither picture nor sound in it")
    is_whole = not any(box.name == b"moof" for box in top)
    if not is_whole and len(kept) < len(tracks):
        raise CannotCleanError("is in fragments and has tracks beside picture and sound; export it again as one MP4 without them")
    starts = {track.start for track in kept}
    tables, dropped = ([_tables_of(content, track) for track in tracks if (track.start in starts) is stays] for stays in (True, False))
    spans = find_sample_spans(content, tables, dropped) if is_whole else None
    yield from fill_gaps(_walk(content, top, b"", starts, spans), len(content))


def find_boxes(content: bytes, place: int, end: int) -> Iterator[Box]:
    """The boxes of a stretch; four bytes of zeros may end one (QuickTime)."""
    while place + 8 <= end:
        size, name, body = int.from_bytes(content[place : place + 4], "big"), content[place + 4 : place + 8], place + 8
        if size == 1:
            size, body = int.from_bytes(content[place + 8 : place + 16], "big"), place + 16
        elif size == 0:
            size = end - place
        if size < body - place or place + size > end:
            told = "is cut short or damaged: a part of it is longer than the file; copy it again from the camera"
            raise CannotCleanError(told)
        yield Box(name, place, body, place + size)
        place += size


def find_box(content: bytes, inside: Box, *names: bytes) -> Box | None:
    """The first box at the end of a path of names."""
    held: Box | None = inside
    for name in names:
        held = next((box for box in find_boxes(content, held.body, held.end) if box.name == name), None) if held else None
    return held


def _kind_of(content: bytes, track: Box) -> bytes:
    handler = find_box(content, track, b"mdia", b"hdlr")
    return content[handler.body + 8 : handler.body + 12] if handler else b""


def _tables_of(content: bytes, track: Box) -> dict[bytes, bytes]:
    table = find_box(content, track, b"mdia", b"minf", b"stbl")
    return {box.name: content[box.body : box.end] for box in find_boxes(content, table.body, table.end)} if table else {}


def _walk(content: bytes, boxes: list[Box], inside: bytes, kept: set[int], spans: list[tuple[int, int]] | None) -> Iterator[Piece]:
    for box in boxes:
        if box.name not in _INSIDE[inside] or (box.name == b"trak" and box.start not in kept):
            called = "track that is neither picture nor sound" if box.name == b"trak" else _CALLED.get(box.name, "box that is not needed")
            called = "unused room" if box.name in _UNUSED else called
            head = content[box.start : box.start + 4] + b"free" + content[box.start + 8 : box.body]
            yield Piece(box.start, box.end, head + bytes(box.end - box.body), called)
        elif box.name == b"mdat":
            inner = [(max(start, box.body), min(end, box.end)) for start, end in spans or () if start < box.end and end > box.body]
            samples = [Piece(start, end) for start, end in inner]
            yield from (piece for piece in _blank_between(samples, box) if spans is not None)
        elif box.name in _INSIDE:
            held = list(find_boxes(content, box.body, box.end))
            yield from _walk(content, held, box.name, kept, spans)
            tail = held[-1].end if held else box.body
            yield from [Piece(tail, box.end, bytes(box.end - tail), "unused room")] if tail < box.end else ()
        else:
            yield from _mended(content, box)


def _blank_between(samples: list[Piece], box: Box) -> Iterator[Piece]:
    """Samples of a kept track as they are, all between them with zeros."""
    moved = (Piece(piece.start - box.body, piece.end - box.body) for piece in samples)
    for piece in fill_gaps(moved, box.end - box.body, blank=True):
        yield Piece(piece.start + box.body, piece.end + box.body, piece.instead, piece.what)


def _mended(content: bytes, box: Box) -> Iterator[Piece]:
    """What inside a box that stays tells: dates, names of tracks and programs, paths of files."""
    if box.name in _DATED:
        width = 16 if content[box.body] == 1 else 8
        yield Piece(box.body + 4, box.body + 4 + width, bytes(width), "day and time")
    elif box.name == b"hdlr" and box.body + _NAME_IN_HANDLER < box.end:
        start = box.body + _NAME_IN_HANDLER
        yield Piece(start, box.end, bytes(box.end - start), "name of a track")
    elif box.name == b"dref":
        for entry in find_boxes(content, box.body + 8, box.end):
            if not content[entry.body + 3] & 1:
                raise CannotCleanError("points at samples in another file; export it again as one file")
            yield Piece(entry.body + 4, entry.end, bytes(entry.end - entry.body - 4), "path of a file")
    elif box.name == b"stsd":
        for entry in find_boxes(content, box.body + 8, box.end):
            start, end = (entry.body + place for place in _COMPRESSOR)
            if end <= entry.end and content[start] < 32 and _is_picture(entry.name):
                yield Piece(start, end, bytes(end - start), "name of a program")


def _is_picture(coding: bytes) -> bool:
    return coding in {b"avc1", b"avc3", b"hvc1", b"hev1", b"av01", b"vp09", b"vp08", b"mp4v"}
