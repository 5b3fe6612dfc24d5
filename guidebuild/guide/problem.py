"""What a parser of typed text answers where the text cannot be read."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Unreadable:
    """Text that cannot be read: what is wrong with it, and what to write instead. `code` names the rule."""

    message: str
    mend: str = ""
    code: str = "unreadable-value"
