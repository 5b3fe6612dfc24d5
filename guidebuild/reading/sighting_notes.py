"""Findings of one file of sightings, gathered so that a million bad rows make a few lines."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

from guidebuild.guide.findings import At, Finding
from guidebuild.reading.sighting_codes import BY_SIGHTING_CODE

ROWS_NAMED = 10  # row numbers listed in one finding
KINDS_NAMED = 100  # different findings of one code in one file


@dataclass(slots=True)
class _Trouble:
    message: str
    mend: str
    rows: list[int] = field(default_factory=list)
    count: int = 0

    def add(self, row: int) -> None:
        self.count += 1
        if len(self.rows) < ROWS_NAMED:
            self.rows.append(row)

    @property
    def where(self) -> str:
        """`row 7`, `rows 7, 9 and 12`, `rows 7, 9, … and 80 more`."""
        if not self.rows:
            return ""
        if self.count == 1:
            return f" (row {self.rows[0]})"
        more = self.count - len(self.rows)
        named = [str(row) for row in self.rows]
        last = f"{more} more" if more else named.pop()
        return f" (rows {', '.join(named)} and {last})"


class SightingNotes:
    """Troubles of one file, each told once with the rows that have it."""

    def __init__(self, file: str) -> None:
        """Start with nothing found in `file`."""
        self.file = file
        self._troubles: dict[str, dict[str, _Trouble]] = {}

    def add(self, code: str, message: str, row: int, *, mend: str = "") -> None:
        """Note a trouble of a row; the same message of other rows joins it. `row` 0 is the whole file."""
        kinds = self._troubles.setdefault(code, {})
        if message not in kinds and len(kinds) >= KINDS_NAMED:
            message, mend = f"More of the same: {BY_SIGHTING_CODE[code].title.lower()}", ""
        trouble = kinds.setdefault(message, _Trouble(message, mend))
        if row:
            trouble.add(row)

    def findings(self) -> Iterator[Finding]:
        """All findings, in order of their first row."""
        findings = [
            known.finding(f"{trouble.message.rstrip('.')}{trouble.where}.".replace("?.", "?"),
                          At(self.file, trouble.rows[0] if trouble.rows else 0), mend=trouble.mend)
            for code, kinds in self._troubles.items()
            for known in (BY_SIGHTING_CODE[code],)
            for trouble in kinds.values()
        ]  # fmt: skip
        yield from sorted(findings, key=lambda finding: finding.at)
