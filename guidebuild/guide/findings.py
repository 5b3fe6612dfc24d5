"""Findings: what is wrong or missing, where, and what to write instead."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple


class Level(StrEnum):
    """How grave a finding is: an error's item is not published, a warning's is."""

    ERROR = "error"
    WARNING = "warning"
    NOTE = "note"

    @property
    def weight(self) -> int:
        """3 for an error, 2 for a warning, 1 for a note: compares levels."""
        return {"error": 3, "warning": 2, "note": 1}[self.value]


@dataclass(frozen=True, slots=True, order=True, init=False)
class At:
    """A position in a file of the guide; line and column count from 1, 0 means the whole file.

    `file` is relative to the guide's folder, with forward slashes.
    """

    file: str
    line: int = 0
    column: int = 0

    def __init__(self, file: str, line: int = 0, column: int = 0) -> None:
        # A check makes a hundred of these for each account: this takes half the time of what a frozen dataclass does by itself.
        _set_file(self, file)
        _set_line(self, line)
        _set_column(self, column)

    def __reduce__(self) -> tuple[type[At], tuple[str, int, int]]:
        """Kept from one command to the next by thousands: without this both ways take twice the time."""
        return At, (self.file, self.line, self.column)

    def __str__(self) -> str:
        """`file:line:column`, leaving out what is not known."""
        return ":".join([self.file, *(str(n) for n in (self.line, self.column) if n)])


_set_file, _set_line, _set_column = (At.__dict__[name].__set__ for name in ("file", "line", "column"))
NOWHERE = At("guide.yaml")


@dataclass(frozen=True, slots=True, eq=False)
class KeyPlaces(Mapping[str, At]):
    """Where each key of a record stands: line and column, of which a position is made when it is asked for, since few ever are."""

    file: str
    numbers: Mapping[str, tuple[int, int]]

    def __reduce__(self) -> tuple[type[KeyPlaces], tuple[str, Mapping[str, tuple[int, int]]]]:
        """As of `At`."""
        return KeyPlaces, (self.file, self.numbers)

    def __getitem__(self, key: str) -> At:
        return At(self.file, *self.numbers[key])

    def __iter__(self) -> Iterator[str]:
        return iter(self.numbers)

    def __len__(self) -> int:
        return len(self.numbers)

    def __hash__(self) -> int:
        return hash(frozenset(self.numbers))


NO_KEYS: Mapping[str, At] = KeyPlaces("", {})
"""Of a record whose keys stand nowhere in particular."""


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing to mend.

    `code` names the rule (a short word in kebab-case, as in `checks`), `message` says what is wrong with the text
    as typed, `mend` what to write instead, `account` whose it is (empty: the whole guide's).
    """

    code: str
    level: Level
    message: str
    at: At
    mend: str = ""
    account: str = ""

    def __str__(self) -> str:
        """`file:line:column: level: message. mend`."""
        return f"{self.at}: {self.level.value}: {self.message}" + (f" {self.mend}" if self.mend else "")


class Code(NamedTuple):
    """One kind of finding, as it is listed for authors.

    `code` is unique and kebab-case, `title` says what must hold, `level` is how grave it usually is, `why` says why it matters
    and `mend` what to do.
    """

    code: str
    title: str
    level: Level
    why: str
    mend: str

    def finding(self, message: str, at: At, *, mend: str = "", account: str = "", level: Level | None = None) -> Finding:
        """A finding of this kind, at its usual level and with its usual mend where no others are given."""
        return Finding(self.code, level or self.level, message, at, mend or self.mend, account)
