"""A script cut into its parts in order: headings, stretches of speech with their counts, marks."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.marks import PAUSE_DEFAULT, Mark, pieces

_HEADING = re.compile(r"#{1,6}\s+(.*?)\s*#*$")
_ITEM = re.compile(r"(?:[-*+]|\d+[.)]|>)\s+")
_NOTHING = Load()


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
    speech: int | None = None  # the last stretch of speech, while its final pause may still change
    for number, line in enumerate(lines, first_line):
        heading = _HEADING.match(line) if line.startswith("#") else None
        if (not line or heading) and speech is not None:
            parts[speech] = _end_paragraph(parts[speech], loads)
            speech = None
        if heading:
            parts.append(Part(Kind.HEADING, number, heading[1]))
        elif line:
            for part in _line_parts(line, number, loads):
                if part.kind is Kind.TEXT and part.load.words:
                    speech = len(parts)
                parts.append(part)
    return _without_last_pause(parts, loads)


def _line_parts(line: str, number: int, loads: WordLoads) -> Iterator[Part]:
    item = _ITEM.match(line)
    text = line[item.end() :] if item else line
    for piece in pieces(text) if "[" in text else (text,):
        yield _marked(piece, number) if isinstance(piece, Mark) else Part(Kind.TEXT, number, piece, loads.load(piece))


def _marked(mark: Mark, number: int) -> Part:
    if mark.kind == "pause":
        silence = PAUSE_DEFAULT if mark.seconds is None else mark.seconds
        return Part(Kind.PAUSE, number, "", Load(silence=silence), silence)
    if mark.kind == "say":
        return Part(Kind.SAY, number, mark.what, Load(says=1))
    return Part(Kind.SHOW, number, mark.what, _NOTHING, mark.seconds)


def _end_paragraph(part: Part, loads: WordLoads) -> Part:
    return replace(part, load=replace(_without_pause(part, loads), paragraphs=1))


def _without_pause(part: Part, loads: WordLoads) -> Load:
    commas, sentences = loads.pause_at_end(part.text)
    load = part.load
    return replace(load, commas=load.commas - commas, sentences=load.sentences - sentences, paragraphs=0)


def _without_last_pause(parts: list[Part], loads: WordLoads) -> list[Part]:
    for index in range(len(parts) - 1, -1, -1):
        part = parts[index]
        if part.kind is Kind.PAUSE:
            break
        if part.kind is Kind.TEXT and part.load.words:
            # A paragraph that has ended has given its last sentence up already.
            bare = replace(part.load, paragraphs=0) if part.load.paragraphs else _without_pause(part, loads)
            parts[index] = replace(part, load=bare)
            break
    return parts
