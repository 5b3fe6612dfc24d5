"""The passages and whole scripts that the tests of speech share. All are invented."""

from __future__ import annotations

from pathlib import Path

PASSAGES = tuple(
    passage for passage in (Path(__file__).parent / "passages.txt").read_text("utf-8").strip().split("\n\n") if not passage.startswith("#")
)
SCRIPT = "\n\n".join(f"## Part {number}\n{passage}" for number, passage in enumerate(PASSAGES, 1))
