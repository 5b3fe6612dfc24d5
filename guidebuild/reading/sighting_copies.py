"""Rows that were met before: exact copies, and rows alike in all but the ID. Hashes are kept of them, and not the rows."""

from __future__ import annotations

from collections.abc import Sequence

from guidebuild.reading.sighting_columns import Columns

OWN_NUMBER = 12
"""Signs up to which an ID is taken for a number that each table gives anew."""
_COMPARED = 100_000
"""Rows among which those alike in all but the ID are told: to keep more takes much memory for a remark."""
_BITS = (1 << 60) - 1
"""Bits kept of a hash: Python stores one bit more in half as much memory again."""


class Copies:
    """Knows the rows of one file by those of all files."""

    def __init__(self, met: set[int], alike: set[int], columns: Columns, file: int) -> None:
        """`met` and `alike` are hashes of rows of all files so far, the latter without what only numbers a row."""
        self._met, self._alike, self._file = met, alike, file
        self._identity_at = columns.position("occurrenceID")
        self._without_ids = columns.without_ids() if columns.has("occurrenceID") else None

    def meet(self, rows: Sequence[Sequence[str]]) -> list[bool | None]:
        """Of each row, whether it is alike to an earlier one in all but its ID; None where it is a copy."""
        without_ids = self._without_ids
        marks = [*map(self._mark, rows)]
        if without_ids is None:
            if self._met.isdisjoint(marks) and len(set(marks)) == len(marks):
                self._met.update(marks)
                return [False] * len(marks)
            return [None if self._meet(mark) else False for mark in marks]
        others = [hash(without_ids(row)) & _BITS for row in rows]
        known = [None if self._meet(mark) else self._compare(other) for mark, other in zip(marks, others, strict=True)]
        if len(self._alike) >= _COMPARED:
            self._without_ids = None
        return known

    def _mark(self, row: Sequence[str]) -> int:
        identity = row[self._identity_at]
        if len(identity) > OWN_NUMBER:
            return hash(identity) & _BITS
        return hash((self._file, identity) if identity else tuple(row)) & _BITS

    def _meet(self, mark: int) -> bool:
        met = mark in self._met
        self._met.add(mark)
        return met

    def _compare(self, mark: int) -> bool:
        alike = mark in self._alike
        self._alike.add(mark)
        return alike
