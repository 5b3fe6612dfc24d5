"""All patterns of the codes of one place, which are looked for together only in tests."""

from __future__ import annotations

import re

from guidebuild.fieldwork.codes_of_places import other_patterns, plus_patterns
from guidebuild.guide.records import Position


def code_patterns(position: Position, step: float) -> tuple[re.Pattern[str], ...]:
    """Patterns of codes that point at a position more exactly than `step` degrees."""
    return (*plus_patterns(position, step), *other_patterns(position, step))
