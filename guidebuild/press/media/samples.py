"""Where in an MP4 the samples of its tracks lie (ISO/IEC 14496-12, 8.7: sizes, samples of each chunk, places of chunks)."""

from __future__ import annotations

import struct
from collections.abc import Iterator, Mapping, Sequence
from itertools import islice, pairwise

from guidebuild.press.media.pieces import CannotCleanError

_DAMAGED = "is damaged: its table of samples does not fit; copy it again from the camera"


def find_sample_spans(
    content: bytes, tracks: Sequence[Mapping[bytes, bytes]], dropped: Sequence[Mapping[bytes, bytes]]
) -> list[tuple[int, int]]:
    """Stretches of the file with samples of these tracks, in order, joined where they touch.

    Old sound tracks count in frames and not in bytes; a chunk of samples that are all of one size reaches to the next chunk of any
    track, also of one that is `dropped`.
    """
    try:
        chunks = [list(_chunk_places(tables)) for tables in tracks]
        others = [_chunk_places(tables) for tables in dropped if tables.keys() & {b"co64", b"stco"}]
        starts = sorted({start for places in (*chunks, *others) for start in places} | {len(content)})
        following = dict(pairwise(starts))
        spans = [span for tables, places in zip(tracks, chunks, strict=True) for span in _spans_of(tables, places, following)]
    except (struct.error, IndexError, KeyError, ValueError) as trouble:
        raise CannotCleanError(_DAMAGED) from trouble
    return _joined(spans, len(content))


def _chunk_places(tables: Mapping[bytes, bytes]) -> tuple[int, ...]:
    is_long = b"co64" in tables
    held = tables[b"co64"] if is_long else tables[b"stco"]
    count = int.from_bytes(held[4:8], "big")
    return struct.unpack_from(f">{count}{'Q' if is_long else 'I'}", held, 8)


def _spans_of(tables: Mapping[bytes, bytes], chunks: list[int], following: Mapping[int, int]) -> Iterator[tuple[int, int]]:
    sizes = _sizes(tables)
    if sizes is None:
        yield from ((start, following[start]) for start in chunks)
        return
    held = iter(sizes)
    for start, count in zip(chunks, _samples_of_chunks(tables[b"stsc"], len(chunks)), strict=True):
        yield start, start + sum(islice(held, count))


def _sizes(tables: Mapping[bytes, bytes]) -> tuple[int, ...] | None:
    """The size of each sample; None where all have one, or are written in the short form."""
    held = tables.get(b"stsz")
    if held is None or int.from_bytes(held[4:8], "big"):
        return None
    return struct.unpack_from(f">{int.from_bytes(held[8:12], 'big')}I", held, 12)


def _samples_of_chunks(held: bytes, chunks: int) -> Iterator[int]:
    """How many samples each chunk has: one line stands for all chunks up to the first of the next line."""
    count = int.from_bytes(held[4:8], "big")
    lines = [struct.unpack_from(">II", held, 8 + 12 * number) for number in range(count)]
    for (first, samples), (following, _) in pairwise([*lines, (chunks + 1, 0)]):
        yield from (samples for _ in range(max(min(following, chunks + 1) - first, 0)))


def _joined(spans: list[tuple[int, int]], end: int) -> list[tuple[int, int]]:
    joined: list[tuple[int, int]] = []
    for start, stop in sorted(span for span in spans if span[0] < span[1]):
        if stop > end:
            raise CannotCleanError(_DAMAGED.replace("damaged", "cut short or damaged"))
        if joined and start <= joined[-1][1]:
            joined[-1] = joined[-1][0], max(stop, joined[-1][1])
        else:
            joined.append((start, stop))
    return joined
