"""The name of a guide that another is most like; a library does it, which only tables with unknown names need."""

from __future__ import annotations

from collections.abc import Sequence

from rapidfuzz import fuzz, process

_ALIKE = 80
"""How like in a hundred a name must be to one of the guide's to be taken for a slip."""
_ALIKE_IN_PART = 75
"""The same where a choice is only offered."""


def find_nearest_name(wanted: str, known: Sequence[str]) -> str:
    """The known name most like one, or nothing."""
    near = process.extractOne(wanted, known, scorer=fuzz.ratio, score_cutoff=_ALIKE)
    return near[0] if near else ""


def find_nearest_words(wanted: str, known: Sequence[str]) -> str:
    """The known words most like some, which may stand in another order or beside others; or nothing."""
    near = process.extractOne(wanted, known, scorer=fuzz.token_set_ratio, score_cutoff=_ALIKE_IN_PART)
    return near[0] if near else ""
