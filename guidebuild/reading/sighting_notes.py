"""Findings of one file of sightings, gathered so that a million bad rows make a few lines."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field

from guidebuild.guide.findings import At, Finding
from guidebuild.guide.sightings import UnknownWord
from guidebuild.reading.sighting_codes import BY_SIGHTING_CODE

ROWS_NAMED = 10  # row numbers listed in one finding
KINDS_NAMED = 10  # different findings of one code in one file
WORDS_NAMED = 10  # words of one kind that have findings of their own; more share one

_MANY: Mapping[str, str] = {
    "sighting-name-unknown": "{count} names are no species of this guide",
    "sighting-place": "{count} localities are no place of this guide",
    "sighting-place-by-position": "{count} localities count for a place by their position",
    "sighting-stage": "{count} words for a life stage are none of the guide",
    "sighting-sex": "{count} words for a sex are not known",
    "sighting-word": "{count} words for the standing of an identification are not known",
    "sighting-datum": "{count} datums are not known",
}
"""How several words are told in one finding."""
_KINDS: Mapping[str, str] = {"sighting-name-unknown": "name", "sighting-place": "place", "sighting-stage": "stage"}
"""Words that the guide can be told the meaning of."""


@dataclass(slots=True)
class Trouble:
    """What is said of rows that have the same trouble."""

    message: str
    mend: str
    rows: list[int] = field(default_factory=list)
    count: int = 0
    of_file: bool = False
    """Whether it is of the file as a whole, and so told though no row has it."""

    def add(self, row: int) -> None:
        """One row more."""
        self.count += 1
        if len(self.rows) < ROWS_NAMED:
            self.rows.append(row)

    @property
    def where(self) -> str:
        """`row 7`, `rows 7, 9 and 12`, `rows 7, 9, … and 80 more`."""
        if not self.count:
            return ""
        if self.count == 1:
            return f" (row {self.rows[0]})"
        more = self.count - len(self.rows)
        named = [str(row) for row in self.rows]
        last = f"{more:,} more" if more else named.pop()
        return f" (rows {', '.join(named)} and {last})"


class SightingNotes:
    """Troubles of one file, each told once with the rows that have it."""

    def __init__(self, file: str) -> None:
        """Start with nothing found in `file`."""
        self.file = file
        self._troubles: dict[str, dict[str, Trouble]] = {}
        self._words: dict[str, dict[str, Trouble]] = {}
        self._columns: dict[str, None] = {}

    def add(self, code: str, message: str, row: int, *, mend: str = "") -> None:
        """Note a trouble of a row; the same message of other rows joins it. `row` 0 is the whole file."""
        trouble = self.trouble(code, message, mend=mend)
        if row:
            trouble.add(row)
        else:
            trouble.of_file = True

    def trouble(self, code: str, message: str, *, mend: str = "") -> Trouble:
        """The trouble of that message, for rows to join it."""
        kinds = self._troubles.setdefault(code, {})
        if message not in kinds and len(kinds) >= KINDS_NAMED:
            message, mend = f"More of the same: {BY_SIGHTING_CODE[code].title.lower()}", ""
        return kinds.setdefault(message, Trouble(message, mend))

    def word(self, code: str, word: str, message: str, *, mend: str = "") -> Trouble:
        """The trouble of a word that the guide does not know: words of one kind are told together where they are many."""
        return self._words.setdefault(code, {}).setdefault(word, Trouble(message, mend))

    def note_column(self, heading: str) -> None:
        """A heading that is not read, for the author to say what it means."""
        self._columns[heading] = None

    def list_unknown(self) -> Iterator[UnknownWord]:
        """Every heading, name, place and stage that the guide has none for, however many they are."""
        yield from (UnknownWord("column", heading, 0, 1) for heading in self._columns)
        for code, kind in _KINDS.items():
            for word, trouble in self._words.get(code, {}).items():
                if trouble.count:
                    yield UnknownWord(kind, word, trouble.count, trouble.rows[0])

    def findings(self) -> Iterator[Finding]:
        """All findings, in order of their first row."""
        known = ((code, trouble) for code, kinds in self._troubles.items() for trouble in kinds.values())
        told = [(code, trouble) for code, trouble in known if trouble.count or trouble.of_file]
        told += [(code, trouble) for code, words in self._words.items() for trouble in _gather(code, words)]
        found = []
        for code, trouble in told:
            message = f"{trouble.message.rstrip('.')}{trouble.where}.".replace("?.", "?")
            found.append(BY_SIGHTING_CODE[code].finding(message, At(self.file, min(trouble.rows, default=0)), mend=trouble.mend))
        yield from sorted(found, key=lambda finding: finding.at)


def _gather(code: str, known: Mapping[str, Trouble]) -> Iterator[Trouble]:
    """Few words one by one; of many, those that have a mend of their own, and one trouble for all the rest."""
    words = {word: trouble for word, trouble in known.items() if trouble.count}
    hinted = [trouble for trouble in words.values() if trouble.mend and code == "sighting-name-unknown"]
    rest = {word: trouble for word, trouble in words.items() if trouble not in hinted}
    yield from hinted[:KINDS_NAMED]
    rest |= {word: trouble for word, trouble in words.items() if trouble in hinted[KINDS_NAMED:]}
    if len(words) <= WORDS_NAMED or len(rest) < 2:
        yield from rest.values()
        return
    most = sorted(rest.items(), key=lambda item: (-item[1].count, item[1].rows))
    named = [f"“{word}” ({trouble.count:,})" for word, trouble in most[:WORDS_NAMED]]
    more = len(most) - len(named)
    rows = sum(trouble.count for trouble in rest.values())
    counted = _MANY[code].format(count=len(rest))
    ending = f" and {more} more" if more else ""
    yield Trouble(f"{counted}, in {rows:,} rows: {', '.join(named)}{ending}", "", [min(trouble.rows[0] for trouble in rest.values())])
