"""A Markdown body → its sections, one a second-level heading."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from guidebuild.guide.findings import NO_KEYS, At, KeyPlaces
from guidebuild.guide.records import Section

_HEADING = re.compile(r" {0,3}##(?!#)[ \t]*(.*?)[ \t]*#*[ \t]*$")
_HEADING_LINE = re.compile(r"\n {0,3}##(?!#)[ \t]*(.*?)[ \t]*#*[ \t]*(?=\n|\Z)")  # begins with a plain sign: found many times faster
_CODE = re.compile(r" {0,3}(`{3,}|~{3,})")


def split_sections(body: str, first_line: int, file: str) -> tuple[Section, ...]:
    """The sections in order; text before the first heading comes under an empty heading. Code blocks hold no headings."""
    sections: list[Section] = []
    heading, line, start = "", first_line, 0
    for begins, ends, words in _find_headings(body):
        text = body[start:begins]
        sections += _section(heading, text, line, file)
        heading, line, start = words, line + text.count("\n") + 1, ends
    sections += _section(heading, body[start:], line, file)
    return tuple(sections)


def _find_headings(body: str) -> Iterator[tuple[int, int, str]]:
    """Where the line of each heading begins, where the line after it begins, and the heading."""
    if "```" not in body and "~~~" not in body:
        # In a text with one sign more before it, the line feed before a heading stands where its line begins in the body.
        yield from ((found.start(), found.end(), found[1]) for found in _HEADING_LINE.finditer(f"\n{body}"))
        return
    fence, begins = "", 0
    for line in body.split("\n"):
        fence = _fence_after(fence, line)
        found = _HEADING.fullmatch(line) if "##" in line and not fence else None
        ends = begins + len(line) + 1
        if found:
            yield begins, ends, found[1]
        begins = ends


def _fence_after(fence: str, line: str) -> str:
    """The sign of the code block one is in after this line, or nothing."""
    match = _CODE.match(line)
    if not match:
        return fence
    if not fence:
        return match[1]
    closes = match[1][0] == fence[0] and len(match[1]) >= len(fence) and not line.strip().strip(fence[0])
    return "" if closes else fence


def _section(heading: str, text: str, line: int, file: str) -> list[Section]:
    """The section without blank lines at its ends; none for an empty start of the file."""
    blank = len(text) - len(text.lstrip())
    if blank == len(text):
        return [Section(heading, "", At(file, line), positions=_heading(heading, line, file))] if heading else []
    first = text.rfind("\n", 0, blank) + 1
    place = At(file, line + text.count("\n", 0, first))
    return [Section(heading, text[first:].rstrip(), place, positions=_heading(heading, line, file))]


def _heading(heading: str, start: int, file: str) -> Mapping[str, At]:
    """The heading stands on the line before the text that is kept for its section."""
    return KeyPlaces(file, {"heading": (start - 1, 0)}) if heading else NO_KEYS
