"""What became of every row of a file of sightings: counted, or left out for a reason that has a number and an example."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from guidebuild.guide.sightings import FileCount, RowGroup

_SHOWN = 110
"""Signs of an example row."""

LEFT_OUT: Mapping[str, str] = {
    "other species": "no species of this guide",
    "name missing": "no name",
    "name not species": "the name says more or other than one species",
    "names differ": "two names of two species",
    "kingdom": "of another kingdom",
    "doubtful": "the identification is in doubt",
    "absence": "looked for and not found",
    "date missing": "no date, or a day without its month",
    "date unread": "the date cannot be read",
    "date order": "day or month first?",
    "date of nothing": "the date that a spreadsheet shows for an empty cell",
    "date future": "the date lies in the future",
    "outside region": "the position lies outside the region",
    "copy": "a copy of an earlier row",
    "cells": "more cells than columns",
    "empty": "no cell is filled in",
    "left out": "left out by a word",
}
"""Why a row is not counted."""

REMARKS: Mapping[str, str] = {
    "year only": "for no season: known to the year alone",
    "month only": "for no season: known to the month alone",
    "long interval": "for no season: an interval of more than ten days",
    "alike": "though alike to an earlier row in all but the ID",
    "zero position": "without the position 0, 0",
    "by position": "at a place known by the position",
    "other day": "on the local day of a time of another zone",
}
"""What is to be known of rows besides."""


@dataclass(slots=True)
class Fate:
    """Rows that share a fate, while they are met."""

    code: str
    words: str
    rows: int = 0
    first: int = 0
    example: str = ""

    def add(self, number: int, row: Sequence[str]) -> None:
        """One row more."""
        if not self.rows:
            self.first = number
            self.example = _shorten(row)
        self.rows += 1


class Ledger:
    """The fates of one file's rows."""

    def __init__(self, file: str) -> None:
        """Start with nothing read of `file`."""
        self._file = file
        self._left_out: dict[tuple[str, str], Fate] = {}
        self._remarks: dict[str, Fate] = {}

    def left_out(self, code: str, more: str = "") -> Fate:
        """The rows left out for a reason; `more` tells apart what the reason has many of."""
        words = f"{LEFT_OUT[code]}: {more}" if more else LEFT_OUT[code]
        return self._left_out.setdefault((code, more), Fate(code, words))

    def remark(self, code: str) -> Fate:
        """The rows of which this is to be known."""
        return self._remarks.setdefault(code, Fate(code, REMARKS[code]))

    def close(self, rows: int, counted: int) -> FileCount:
        """The file's totals, most rows first. `rows` and `counted` are counted apart from the reasons, so that a lost row shows."""
        return FileCount(self._file, rows, counted, _groups(self._left_out.values()), _groups(self._remarks.values()))


def _groups(fates: Iterable[Fate]) -> tuple[RowGroup, ...]:
    met = (RowGroup(fate.code, fate.words, fate.rows, fate.first, fate.example) for fate in fates if fate.rows)
    return tuple(sorted(met, key=lambda group: (-group.rows, group.first)))


def _shorten(row: Sequence[str]) -> str:
    """The filled cells of a row in one line."""
    line = ", ".join(text for cell in row if (text := " ".join(cell[: 2 * _SHOWN].split())))
    return line if len(line) <= _SHOWN else f"{line[:_SHOWN]}…"
