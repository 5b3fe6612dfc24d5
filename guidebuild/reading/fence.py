"""A Markdown file → its facts block and its body, each with the line it starts on."""

from __future__ import annotations

import re
from dataclasses import dataclass

from guidebuild.guide.findings import At
from guidebuild.reading.notes import Notes

_FENCE = re.compile(r"-{3,}[ \t\u00a0]*$")
_CLOSING = re.compile(r"\n-{3,}[ \t\u00a0]*(?=\n|\Z)")
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
    first_sign = len(text) - len(text.lstrip())
    if first_sign == len(text):
        notes.add("no-facts", "The file is empty.", At(file, 1))
        return None
    start = text.rfind("\n", 0, first_sign) + 1
    opening = text[start : _end_of_line(text, start)]
    facts_line = text.count("\n", 0, start) + 2
    if not _FENCE.fullmatch(opening):
        _no_fence(opening, At(file, facts_line - 1, 1), notes)
        return None
    closing = _CLOSING.search(text, start + len(opening))
    if closing is None:
        notes.add("facts-not-closed", f"The facts block opened on line {facts_line - 1} is never closed.", At(file, facts_line - 1, 1))
        return None
    facts = text[start + len(opening) + 1 : closing.start()]
    return Parts(facts, facts_line, text[closing.end() + 1 :], text.count("\n", 0, closing.start()) + 3)


def _end_of_line(text: str, start: int) -> int:
    end = text.find("\n", start)
    return len(text) if end < 0 else end


def _no_fence(line: str, at: At, notes: Notes) -> None:
    shown = line.strip()[:60]
    if _LIKE_A_FENCE.fullmatch(line.strip()):
        notes.add("no-facts", f"The facts block opens with '{shown}', which is not three hyphens.", at)
    else:
        notes.add("no-facts", f"The file starts with '{shown}' and not with a facts block.", at)
