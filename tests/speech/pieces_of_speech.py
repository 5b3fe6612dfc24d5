"""The passages and whole scripts that the tests of speech share. All are invented."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from guidebuild.speech.loads import Load, latin_words, word_loads

PASSAGES = tuple(
    passage for passage in (Path(__file__).parent / "passages.txt").read_text("utf-8").strip().split("\n\n") if not passage.startswith("#")
)
SCRIPT = "\n\n".join(f"## Part {number}\n{passage}" for number, passage in enumerate(PASSAGES, 1))


def load_of(text: str, names: Iterable[str] = ()) -> Load:
    """The counts of a text without marks, for a guide with these scientific names."""
    return word_loads(latin=latin_words(names)).load(text)
