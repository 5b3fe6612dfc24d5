"""A script cut into its parts in order: headings, stretches of speech with their counts, marks."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from enum import StrEnum

from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.marks import PAUSE_DEFAULT, Mark, pieces

_ITEM_SIGNS = frozenset("-*+>0123456789")
_ITEM = re.compile(r"^(?:[-*+]|\d+[.)]|>)\s+")
_NOTHING = Load()
_ONE_SAY = Load(says=1)


class Kind(StrEnum):
    """What a part of a script is."""

    HEADING = "heading"
    TEXT = "text"
    PAUSE = "pause"
    SHOW = "show"
    SAY = "say"


@dataclass(frozen=True, slots=True)
class Part:
    """One part. `text` is the heading, the words as written, a show's photo or a say-it hint; `seconds` those of a mark."""

    kind: Kind
    number: int
    text: str = ""
    load: Load = _NOTHING
    seconds: float | None = None


def script_parts(script: str, loads: WordLoads, *, first_line: int = 1) -> list[Part]:
    """The parts of a script. The pause at a paragraph's end replaces that of its sentence; the very last is left out."""
    lines = [line.strip() for line in script.split("\n")]
    parts: list[Part] = []
    for number, (line, following) in enumerate(zip(lines, [*lines[1:], ""], strict=True), first_line):
        if not line:
            continue
        if line[0] == "#" and line.lstrip("#")[:1] in ("", " ", "\t"):
            parts.append(Part(Kind.HEADING, number, line.strip("# \t")))
            continue
        text = _ITEM.sub("", line, count=1) if line[0] in _ITEM_SIGNS else line
        ends_paragraph = not following or following[0] == "#"
        if "[" in text:
            parts.extend(_marked_line(text, number, loads, ends_paragraph=ends_paragraph))
        else:
            parts.append(Part(Kind.TEXT, number, text, loads.load(text, ends_paragraph=ends_paragraph)))
    return _without_last_pause(parts, loads)


def _marked_line(text: str, number: int, loads: WordLoads, *, ends_paragraph: bool) -> list[Part]:
    parts: list[Part] = []
    ending = ends_paragraph
    for piece in reversed(list(pieces(text))):
        if isinstance(piece, Mark):
            parts.append(_marked(piece, number))
        else:
            parts.append(Part(Kind.TEXT, number, piece, loads.load(piece, ends_paragraph=ending)))
            ending = False
    return parts[::-1]


def _marked(mark: Mark, number: int) -> Part:
    if mark.kind == "pause":
        silence = PAUSE_DEFAULT if mark.seconds is None else mark.seconds
        return Part(Kind.PAUSE, number, "", Load(silence=silence), silence)
    if mark.kind == "say":
        return Part(Kind.SAY, number, mark.what, _ONE_SAY)
    return Part(Kind.SHOW, number, mark.what, _NOTHING, mark.seconds)


def _without_last_pause(parts: list[Part], loads: WordLoads) -> list[Part]:
    for index in range(len(parts) - 1, -1, -1):
        part = parts[index]
        if part.kind is Kind.PAUSE:
            break
        if part.load.words:
            parts[index] = replace(part, load=loads.without_pause_at_end(part.text, part.load))
            break
    return parts
