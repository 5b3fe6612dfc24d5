"""A rule: what is checked, why it matters, and how to mend it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import Guide

Run = Callable[[Guide], Iterator[Finding]]


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule of the registry.

    `code` is unique and kebab-case; `title` says what must hold; `why` and `mend` are shown by `guidebuild check --rules`
    and in SARIF; `run` yields findings whose code is this rule's.
    """

    code: str
    title: str
    level: Level
    why: str
    mend: str
    run: Run

    def finding(self, message: str, at: At, *, mend: str = "", account: str = "") -> Finding:
        """A finding of this rule at its usual level."""
        return Finding(self.code, self.level, message, at, mend or self.mend, account)


def find_nothing(guide: Guide) -> Iterator[Finding]:
    """The run of a rule whose findings come from reading, not from a check."""
    yield from ()
