"""A Markdown file → its facts block and its body, each with the line it starts on."""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidebuild.guide.findings import At
from guidebuild.reading.notes import Notes

_FENCE = re.compile(r"-{3,}[ \t\u00a0]*$")
# What a word processor makes of three hyphens.
_LIKE_A_FENCE = re.compile(r"[\u2010-\u2015\u2212-]+[ \t\u00a0]*$|[*_=~]{3,}\s*$")


@dataclass(frozen=True, slots=True)
class Parts:
    """Facts (YAML) and body (Markdown); the lines count from 1 in the file."""

    facts: str
    facts_line: int
    body: str
    body_line: int


def split_fence(text: str, file: str, notes: Notes) -> Parts | None:
    """Part the facts block from the body; None, with a finding, where there is no complete block. Blank lines first are fine."""
    lines = text.split("\n")
    start = next((n for n, line in enumerate(lines) if line.strip()), None)
    if start is None:
        notes.add("no-facts", "The file is empty.", At(file, 1))
        return None
    if not _FENCE.fullmatch(lines[start]):
        _no_fence(lines[start], At(file, start + 1, 1), notes)
        return None
    end = next((n for n in range(start + 1, len(lines)) if lines[n].startswith("---") and _FENCE.fullmatch(lines[n])), None)
    if end is None:
        notes.add("facts-not-closed", f"The facts block opened on line {start + 1} is never closed.", At(file, start + 1, 1))
        return None
    return Parts("\n".join(lines[start + 1 : end]), start + 2, "\n".join(lines[end + 1 :]), end + 2)


def _no_fence(line: str, at: At, notes: Notes) -> None:
    shown = line.strip()[:60]
    if _LIKE_A_FENCE.fullmatch(line.strip()):
        notes.add("no-facts", f"The facts block opens with '{shown}', which is not three hyphens.", at)
    else:
        notes.add("no-facts", f"The file starts with '{shown}' and not with a facts block.", at)
