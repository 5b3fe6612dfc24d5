"""Texts that say there is nothing: `none`, and `not here: reason` of what exists elsewhere."""

from __future__ import annotations

import re

_SAID = "none|none known|nothing|n/a|not applicable|does not apply|not here"
_NOTHING = re.compile(rf"(?:{_SAID})(?:\s*[:,(–-].*)?\.?", re.IGNORECASE | re.DOTALL)


def is_nothing(text: str) -> bool:
    """Whether a text says no more than that there is nothing to say, with or without a reason."""
    return _NOTHING.fullmatch(text.strip()) is not None
