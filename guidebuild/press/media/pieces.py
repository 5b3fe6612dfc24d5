"""A media file in pieces: what stays as it is, and what is taken out or written over.

Every container is read by what may stay, never by what must go: a piece that is not known to be needed for playing is not published.
Sound and picture themselves are never touched.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass


class CannotCleanError(ValueError):
    """A media file that cannot be read or cleaned; the text is a sentence without its subject, and what to do behind a semicolon."""


@dataclass(frozen=True, slots=True)
class Piece:
    """Some bytes of a file. `instead` takes their place; None: they stay. `what` is what an author would call them."""

    start: int
    end: int
    instead: bytes | None = None
    what: str = ""


TakeApart = Callable[[bytes], Iterator[Piece]]
"""The pieces of one file, in its order and without a gap."""


def join_pieces(content: bytes, pieces: Iterable[Piece]) -> bytes:
    """The file as it may be published."""
    held = memoryview(content)
    return b"".join(held[piece.start : piece.end] if piece.instead is None else piece.instead for piece in pieces)


def fill_gaps(pieces: Iterable[Piece], end: int, blank: bool = False) -> Iterator[Piece]:
    """The pieces in their order, and what lies between them as it is, or written over with zeros."""
    place = 0
    for piece in sorted(pieces, key=lambda piece: piece.start):
        if piece.start < place:
            raise CannotCleanError("has parts that overlap")
        yield from _gap(place, piece.start, blank)
        yield piece
        place = piece.end
    yield from _gap(place, end, blank)


def _gap(start: int, end: int, blank: bool) -> Iterator[Piece]:
    if start < end:
        yield Piece(start, end, bytes(end - start) if blank else None, "bytes of no track" if blank else "")


def find_changed(content: bytes, pieces: Iterable[Piece]) -> Iterator[Piece]:
    """The pieces that are not published as they are."""
    for piece in pieces:
        if piece.instead is not None and content[piece.start : piece.end] != piece.instead:
            yield piece
