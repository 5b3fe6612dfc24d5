"""The findings of one run of reading, in the order met."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TypeVar

from guidebuild.guide.findings import At, Finding
from guidebuild.guide.problem import Unreadable
from guidebuild.reading.codes import BY_CODE

T = TypeVar("T")


class Notes:
    """Collects findings; level and usual mend come from the table of codes."""

    def __init__(self) -> None:
        """Start with nothing found."""
        self._found: dict[Finding, None] = {}

    def add(self, code: str, message: str, at: At, *, mend: str = "", account: str = "") -> None:
        """Note a finding once, however often it is met."""
        known = BY_CODE[code]
        self._found[known.finding(message, at, mend=mend, account=account)] = None

    def extend(self, findings: Iterable[Finding]) -> None:
        """Note what was found before."""
        self._found |= dict.fromkeys(findings)

    def note_apart(self, read: Callable[[], T]) -> tuple[T, tuple[Finding, ...]]:
        """What `read` gives, and what it finds, which is noted here too."""
        before, self._found = self._found, {}
        try:
            value = read()
        finally:
            met, self._found = self._found, before
            self.extend(met)
        return value, tuple(met)

    def unreadable(self, problem: Unreadable, at: At, *, account: str = "") -> None:
        """Note what a parser of typed text answered."""
        self.add(self.known(problem.code), problem.message, at, mend=problem.mend, account=account)

    @staticmethod
    def known(code: str) -> str:
        """The code of a parser's answer, or the general one where reading has no such code."""
        return code if code in BY_CODE else "unreadable-value"

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All findings, in order of file and line."""
        return tuple(sorted(self._found, key=lambda f: f.at))
