"""A section of Markdown below its heading: other words in it, a new one in its usual place, or one less."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.desk.editing.wanted import RefusedError
from guidebuild.guide.account_fields import SECTIONS
from guidebuild.reading.sections import split_sections
from guidebuild.reading.typed_file import LINE_END, Edit, TypedFile

_ORDER = tuple(section.key.casefold() for section in SECTIONS)


@dataclass(frozen=True, slots=True)
class _Standing:
    """A section as it stands in the file: where its heading begins, and its text begins and ends."""

    heading: str
    text: str
    start: int
    first: int
    end: int


def list_sections(typed: TypedFile) -> dict[str, str]:
    """The texts of a file's sections by their headings, without blank lines at their ends."""
    return {f"## {s.heading}".rstrip(): s.text for s in _sections_of(typed)}


def heading_at(typed: TypedFile, line: int) -> str | None:
    """The section that stands on a line, as a step of a path."""
    above = [section for section in _sections_of(typed) if typed.at(section.start).line <= line]
    return f"## {above[-1].heading}".rstrip() if above and line >= typed.at(typed.prose).line else None


def _sections_of(typed: TypedFile) -> list[_Standing]:
    starts = [start for start in typed.line_starts if start >= typed.prose]
    body = LINE_END.sub("\n", typed.text[typed.prose :])
    found = []
    for section in split_sections(body, 1, typed.file):
        heading = section.positions["heading"].line if "heading" in section.positions else 0
        first = section.at.line - 1
        after = first + (section.text.count("\n") + 1 if section.text else 0)
        places = [starts[line] if line < len(starts) else len(typed.text) for line in (max(heading - 1, 0), first, after)]
        found.append(_Standing(section.heading, section.text, *places))
    return found


def edit_section(typed: TypedFile, heading: str, text: str | None) -> Edit:
    """The section with another text; without one (None), it goes with its heading.

    Raises RefusedError where the words would make a section of their own.
    """
    wanted = heading.removeprefix("##").strip()
    text = None if text is None else text.strip("\n").rstrip()
    if text and any(section.heading for section in split_sections(text, 1, "")):
        said = "A line that begins with ## opens a section of its own."
        raise RefusedError(f"{said} Write ### for a heading inside this one, or add a section.")
    sections = _sections_of(typed)
    number = next((n for n, section in enumerate(sections) if section.heading == wanted), None)
    if number is None:
        return Edit(0, 0, "") if text is None else _new_section(typed, sections, wanted, text)
    section = sections[number]
    if text is None:
        after = sections[number + 1].start if number + 1 < len(sections) else len(typed.text)
        return Edit(section.start, after, "")
    written = text.replace("\n", typed.newline)
    if section.text and text:
        kept_end = typed.text[section.first : section.end].rstrip()
        return Edit(section.first, section.first + len(kept_end), written)
    if section.text:
        return Edit(section.first, section.end, "")
    return _fill_empty(typed, section, written)


def _fill_empty(typed: TypedFile, section: _Standing, written: str) -> Edit:
    """The first text below a heading: a blank line before it, and one after it where something follows."""
    newline = typed.newline
    before = newline if typed.text[: section.first].endswith(("\n", "\r")) else newline * 2
    blank = typed.text[section.first :]
    if not blank.strip():
        return Edit(section.first, len(typed.text), f"{before}{written}{newline}")
    return Edit(section.first, section.first, f"{before}{written}{newline}" if blank[:1] in "\r\n" else f"{before}{written}{newline * 2}")


def _new_section(typed: TypedFile, sections: list[_Standing], heading: str, text: str) -> Edit:
    """Behind the sections that usually stand before it."""
    newline = typed.newline
    head = f"## {heading}{newline}{newline}" if heading else ""
    written = head + text.replace("\n", newline)
    rank = _ORDER.index(heading.casefold()) if heading.casefold() in _ORDER else len(_ORDER)
    after = next((s for s in sections if s.heading and s.heading.casefold() in _ORDER and _ORDER.index(s.heading.casefold()) > rank), None)
    if not heading:
        after = sections[0] if sections else None
    if after is not None:
        return Edit(after.start, after.start, f"{written}{newline}{newline}")
    held = len(typed.text.rstrip())
    if held <= typed.prose:  # nothing stands below the facts yet
        lead = "" if typed.text.endswith(("\n", "\r")) else newline
        return Edit(len(typed.text), len(typed.text), f"{lead}{written}{newline}")
    return Edit(held, len(typed.text), f"{newline}{newline}{written}{newline}")
