"""Every rule of reading and of the checks in one list."""

from __future__ import annotations

from guidebuild.checks.registry import RULES
from guidebuild.guide.findings import Level
from guidebuild.reading.codes import CODES
from guidebuild.reading.sighting_codes import SIGHTING_CODES


def rule_rows() -> list[tuple[str, str, Level, str, str]]:
    """Every rule, those of reading first: code, title, level, why, how to mend."""
    read = [(c.code, c.title, c.level, c.why, c.mend) for c in (*CODES, *SIGHTING_CODES)]
    return read + [(r.code, r.title, r.level, r.why, r.mend) for r in RULES]


def rule_helps() -> list[tuple[str, str, str]]:
    """Code, title and mend of every rule, for SARIF."""
    return [(code, title, mend) for code, title, _, _, mend in rule_rows()]
