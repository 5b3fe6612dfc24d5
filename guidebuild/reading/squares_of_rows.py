"""Squares for very many rows at once: one by one they take longer than all else that is read of a row."""

from __future__ import annotations

from array import array
from collections.abc import Mapping

import numpy as np

from guidebuild.guide.projection import Packed, pack_array
from guidebuild.guide.region import MapGrid, PackedSquare
from guidebuild.reading.packed_rows import DAY, FILE, FILE_BITS, ROW_BITS

_NONE = np.iinfo(np.int64).min
Known = dict[int, Packed]
"""The square of each row, by the number of its file and its own."""


def find_by_number(grid: MapGrid, numbers: array[int], norths: array[float], easts: array[float]) -> Packed:
    """The squares of a file's rows by their numbers; the last is for those that come after all that have one."""
    known = np.full(max(numbers, default=0) + 2, _NONE, dtype=np.int64)
    if numbers:
        known[np.frombuffer(numbers, dtype=np.int64)] = pack_array(grid, np.frombuffer(easts), np.frombuffer(norths))
    return known


def find_latest(known: Mapping[int, Packed], rows: array[int]) -> tuple[tuple[PackedSquare | None, int], ...]:
    """The squares of packed rows in the order of the grid, each with its latest day."""
    packed = np.sort(np.frombuffer(rows, dtype=np.uint64))  # the days of our years fill it to the last bit
    days, files, numbers = ((packed >> np.uint64(bits)).astype(np.int64) for bits in (DAY, FILE, 0))
    files, numbers = files & FILE_BITS, numbers & ROW_BITS
    squares = np.full(len(packed), _NONE, dtype=np.int64)
    for file in np.unique(files).tolist():
        if file in known:
            mine = files == file
            squares[mine] = known[file][np.minimum(numbers[mine], len(known[file]) - 1)]
    order = np.argsort(squares, kind="stable")  # rows are in the order of days, so the last of a square is its latest
    squares, days = squares[order], days[order]
    last = np.append(squares[1:] != squares[:-1], [True])
    found = zip(squares[last].tolist(), days[last].tolist(), strict=True)
    return tuple((None if square == _NONE else square, day) for square, day in found)
