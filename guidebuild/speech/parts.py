"""A script cut into its parts in order: headings, stretches of speech with their counts, marks."""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from enum import StrEnum

from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.marks import KINDS, MARK, PAUSE_DEFAULT, Mark, pieces, read_mark

_ITEM_SIGNS = frozenset("-*+>0123456789")
_ITEM = re.compile(r"^(?:[-*+]|\d+[.)]|>)\s+")
NOTHING = Load()
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
    load: Load = NOTHING
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
    alone = MARK.fullmatch(text)
    if alone:
        mark = read_mark(alone)
        return [_marked(mark, number)] if mark.kind in KINDS else []
    found = list(pieces(text))
    last = next((i for i in range(len(found) - 1, -1, -1) if isinstance(found[i], str)), -1)
    return [
        _marked(piece, number)
        if isinstance(piece, Mark)
        else Part(Kind.TEXT, number, piece, loads.load(piece, ends_paragraph=ends_paragraph and i == last))
        for i, piece in enumerate(found)
    ]


def _marked(mark: Mark, number: int) -> Part:
    if mark.kind == "pause":
        silence = PAUSE_DEFAULT if mark.seconds is None else mark.seconds
        return Part(Kind.PAUSE, number, "", Load(silence=silence), silence)
    if mark.kind == "say":
        return Part(Kind.SAY, number, mark.what, _ONE_SAY)
    return Part(Kind.SHOW, number, mark.what, NOTHING, mark.seconds)


def _without_last_pause(parts: list[Part], loads: WordLoads) -> list[Part]:
    for index in range(len(parts) - 1, -1, -1):
        part = parts[index]
        if part.kind is Kind.PAUSE:
            break
        if part.load.words:
            parts[index] = replace(part, load=loads.without_pause_at_end(part.text, part.load))
            break
    return parts
