"""Numbers with their nouns, for messages."""

from __future__ import annotations


def count_of(number: int, one: str, many: str = "") -> str:
    """A number with its noun, in English, for the messages to authors: `1 minute`, `3 minutes`, `2 species`."""
    return f"{number} {one if number == 1 else many or f'{one}s'}"
