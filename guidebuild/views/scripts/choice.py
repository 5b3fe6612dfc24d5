"""Which lines of a draft are said: those that must be, then as many of the others as the slot has time for."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from guidebuild.guide.guide import EpisodeSlot
from guidebuild.speech.script import Script, ScriptLine, ScriptSection, Spoken
from guidebuild.speech.timing import Pace, time_script
from guidebuild.views.scripts.draft import DraftSection


def choose_lines(drafts: Sequence[DraftSection], slot: EpisodeSlot, pace: Pace, code: str) -> tuple[ScriptSection, ...]:
    """The sections with the lines that are kept: all of rank 0, those of rank 1 as the slot allows, then others by rank.

    The others leave room for the spread of the estimate, so that the draft fits a slower take too.
    """
    timed = {(n, k): (draft, _time_line(draft.line, pace, code)) for n, s in enumerate(drafts) for k, draft in enumerate(s.lines)}
    # Each section ends with a longer pause than a sentence does.
    total = len(drafts) * max(0.0, pace.paragraph - pace.sentence)
    roomy = max(slot.shortest, slot.longest / (1 + pace.spread))
    kept: set[tuple[int, int]] = set()
    seen: set[str] = set()
    for place, (draft, seconds) in sorted(timed.items(), key=lambda item: (item[1][0].rank, item[0])):
        most = slot.longest if draft.rank == 1 else roomy
        leans = draft.follows and (place[0], place[1] - 1) not in kept
        said = draft.line.text.casefold()
        if draft.rank == 0 or (total + seconds <= most and not leans and said not in seen):
            kept.add(place)
            seen.add(said)
            total += seconds
    sections = ((s.heading, [draft.line for k, draft in enumerate(s.lines) if (n, k) in kept]) for n, s in enumerate(drafts))
    return tuple(_section(heading, lines) for heading, lines in sections if lines)


def _section(heading: str, lines: Sequence[ScriptLine]) -> ScriptSection:
    return ScriptSection((Spoken(heading),), (*lines[:-1], replace(lines[-1], ends_paragraph=True)))


def _time_line(line: ScriptLine, pace: Pace, code: str) -> float:
    """A line's time, with the pause that follows it."""
    return time_script(Script((ScriptSection((), (line,)),), code), pace).seconds + pace.sentence
