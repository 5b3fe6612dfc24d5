"""A script cut into its parts in order: headings, stretches of speech with their counts, marks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from enum import StrEnum

from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.marks import PAUSE_DEFAULT, Mark
from guidebuild.speech.script import Script, ScriptLine, Spoken

NOTHING = Load()
_ONE_SAY = Load(says=1)


class PartKind(StrEnum):
    """What a part of a script is."""

    HEADING = "heading"
    TEXT = "text"
    PAUSE = "pause"
    SHOW = "show"
    SAY = "say"


@dataclass(frozen=True, slots=True)
class SpokenPart:
    """One part. `words` are those of a heading or a stretch of speech; `seconds` are those of a mark."""

    kind: PartKind
    words: tuple[Spoken, ...] = ()
    load: Load = NOTHING
    seconds: float | None = None
    opens_line: bool = False


def list_parts(script: Script, loads: WordLoads) -> list[SpokenPart]:
    """The parts of a script. The pause at a paragraph's end replaces that of its sentence; the very last is left out."""
    parts: list[SpokenPart] = []
    for section in script.sections:
        parts.append(SpokenPart(PartKind.HEADING, section.heading))
        for line in section.lines:
            parts += _list_parts_of_line(line, loads)
    return _without_last_pause(parts, loads)


def _list_parts_of_line(line: ScriptLine, loads: WordLoads) -> Iterator[SpokenPart]:
    stretches = line.stretches
    last = next((stretch for stretch in reversed(stretches) if not isinstance(stretch, Mark)), None)
    opens_line = True
    for stretch in stretches:
        if isinstance(stretch, Mark):
            yield _part_of_mark(stretch, opens_line=opens_line)
        else:
            load = loads.load(stretch, ends_paragraph=line.ends_paragraph and stretch is last)
            yield SpokenPart(PartKind.TEXT, stretch, load, opens_line=opens_line)
        opens_line = False


def _part_of_mark(mark: Mark, *, opens_line: bool) -> SpokenPart:
    if mark.kind == "pause":
        silence = PAUSE_DEFAULT if mark.seconds is None else mark.seconds
        return SpokenPart(PartKind.PAUSE, (), Load(silence=silence), silence, opens_line)
    if mark.kind == "say":
        return SpokenPart(PartKind.SAY, (), _ONE_SAY, None, opens_line)
    return SpokenPart(PartKind.SHOW, (), NOTHING, mark.seconds, opens_line)


def _without_last_pause(parts: list[SpokenPart], loads: WordLoads) -> list[SpokenPart]:
    for index in range(len(parts) - 1, -1, -1):
        part = parts[index]
        if part.kind is PartKind.PAUSE:
            break
        if part.load.words:
            parts[index] = replace(part, load=loads.without_pause_at_end(part.words, part.load))
            break
    return parts
