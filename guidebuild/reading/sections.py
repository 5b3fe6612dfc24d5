"""A Markdown body → its sections, one a second-level heading."""

from __future__ import annotations

import re
from collections.abc import Mapping

from guidebuild.guide.findings import NO_KEYS, At, KeyPlaces
from guidebuild.guide.records import Section

_HEADING = re.compile(r" {0,3}##(?!#)[ \t]*(.*?)[ \t]*#*[ \t]*$")
_CODE = re.compile(r" {0,3}(`{3,}|~{3,})")


def split_sections(body: str, first_line: int, file: str) -> tuple[Section, ...]:
    """The sections in order; text before the first heading comes under an empty heading. Code blocks hold no headings."""
    sections: list[Section] = []
    heading, start, lines = "", first_line, list[str]()
    fence = ""
    has_code = "```" in body or "~~~" in body
    for number, line in enumerate(body.split("\n"), first_line):
        if has_code:
            fence = _fence_after(fence, line)
        match = _HEADING.fullmatch(line) if "##" in line and not fence else None
        if match:
            sections += _section(heading, lines, start, file)
            heading, start, lines = match[1], number + 1, []
        else:
            lines.append(line)
    sections += _section(heading, lines, start, file)
    return tuple(sections)


def _fence_after(fence: str, line: str) -> str:
    """The sign of the code block one is in after this line, or nothing."""
    match = _CODE.match(line)
    if not match:
        return fence
    if not fence:
        return match[1]
    closes = match[1][0] == fence[0] and len(match[1]) >= len(fence) and not line.strip().strip(fence[0])
    return "" if closes else fence


def _section(heading: str, lines: list[str], start: int, file: str) -> list[Section]:
    """The section without blank lines at its ends; none for an empty start of the file."""
    first = next((n for n, line in enumerate(lines) if line.strip()), None)
    if first is None:
        return [Section(heading, "", At(file, start), positions=_heading(heading, start, file))] if heading else []
    text = "\n".join(lines[first:]).rstrip()
    return [Section(heading, text, At(file, start + first), positions=_heading(heading, start, file))]


def _heading(heading: str, start: int, file: str) -> Mapping[str, At]:
    """The heading stands on the line before the text that is kept for its section."""
    return KeyPlaces(file, {"heading": (start - 1, 0)}) if heading else NO_KEYS
