"""Marks in a script's lines: `[pause 2 s]`, `[show parent-adult-1 4 s]` and `[say el-az-MOO-ka GRIZ-ee-a]`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from difflib import get_close_matches

from guidebuild.guide.findings import At, Finding
from guidebuild.guide.records import Section
from guidebuild.guide.text.blocks import read_blocks
from guidebuild.speech.codes import SCRIPT_MARK
from guidebuild.speech.signs import close_up

KINDS = ("pause", "show", "say")
PAUSE_DEFAULT = 1.0  # seconds, of a plain `[pause]`

# Square brackets before a round one are a Markdown link.
MARK = re.compile(r"\[(?P<kind>[^\W\d_]+)(?::|\b)(?P<rest>[^\]\[]*)\](?!\()")
_OTHER = re.compile(r"\[[^\[\]]*\]")
_SHOW = "Write [show PHOTO 4 s]."
_MINUS = re.compile(r"\s[-−–]\s?\d")
_FIGURE = re.compile(r"(\d+(?:\.\d+)?)([a-z]*)")
_UNITS = {"s": 1, "sec": 1, "secs": 1, "second": 1, "seconds": 1, "": 1, "min": 60, "minute": 60, "minutes": 60}


@dataclass(frozen=True, slots=True)
class Mark:
    """One mark. `what` is the photo of a `show` and the hint of a `say`; `seconds` is None where none are given."""

    kind: str
    what: str = ""
    seconds: float | None = None


def read_mark(match: re.Match[str]) -> Mark:
    """The mark that `MARK` found."""
    kind, rest = match["kind"].lower(), match["rest"].strip()
    if kind == "say":
        return Mark(kind, re.sub(r"^it:?\s+", "", rest))
    what, seconds = _split_seconds(rest)
    return Mark(kind, what, seconds)


def _split_seconds(rest: str) -> tuple[str, float | None]:
    """What a mark names and the seconds at its end: `parent-adult-1 4 s`, `2s`, `1 min`, `parent-adult-1`."""
    words = rest.split()
    unit = words.pop() if len(words) > 1 and words[-1] in _UNITS else ""
    match = _FIGURE.fullmatch(words[-1]) if words else None
    if match is None or (match[2] or unit) not in _UNITS or (match[2] and unit):
        return rest, None
    return " ".join(words[:-1]), float(match[1]) * _UNITS[match[2] or unit]


def find_pieces(line: str) -> Iterator[str | Mark]:
    """A line's text and known marks in the order in which they stand; unknown marks are left out."""
    at = 0
    for match in MARK.finditer(line):
        if text := line[at : match.start()].strip():
            yield text
        at = match.end()
        mark = read_mark(match)
        if mark.kind in KINDS:
            yield mark
    if text := line[at:].strip():
        yield text


def strip_marks(line: str) -> str:
    """A line's text without its marks: what may be shown in a caption."""
    return close_up(re.sub(r"(?<=\s)\s+", "", MARK.sub("", line))).strip()


def strip_brackets(line: str) -> str:
    """A line without its marks, and without anything else in square brackets: neither is said."""
    return _OTHER.sub(" ", strip_marks(line)) if "[" in line else line


def find_marks(section: Section) -> Iterator[tuple[str, Mark, At]]:
    """The marks in what is read out of a section, those that are not known too: each as typed, as read, and where it stands."""
    rows = section.text.split("\n")
    for block in read_blocks(section.text):
        for number, line in enumerate(block.text.split("\n"), block.line):
            row, end = rows[number] if number < len(rows) else "", 0
            for match in MARK.finditer(line):
                start = row.find(match[0], end)
                end = max(end, start + 1)
                yield match[0], read_mark(match), At(section.at.file, section.at.line + number, start + 1)


def find_mark_faults(section: Section, *, account: str = "") -> Iterator[Finding]:
    """What is wrong with the marks of a section: unknown ones, a show without a photo, a pause that cannot be read."""
    for typed, mark, place in find_marks(section):
        if mark.kind not in KINDS:
            near = get_close_matches(mark.kind, KINDS, n=1, cutoff=0.5)
            mend = f"Did you mean [{near[0]} …]?" if near else ""
            yield SCRIPT_MARK.finding(f"The mark {typed} is not known; it is left out.", place, mend=mend, account=account)
        elif mark.kind == "show" and not mark.what:
            message = f"The mark {typed} names no photo."
            yield SCRIPT_MARK.finding(message, place, mend=_SHOW, account=account)
        elif mark.kind == "show" and _MINUS.search(mark.what):
            message = f"The length of {typed} cannot be read; the whole counts as the name of a photo."
            yield SCRIPT_MARK.finding(message, place, mend=_SHOW, account=account)
        elif mark.kind == "pause" and mark.what:
            message = f"The length of {typed} cannot be read; it counts as {PAUSE_DEFAULT:g} s."
            yield SCRIPT_MARK.finding(message, place, mend="Write [pause 2 s].", account=account)
