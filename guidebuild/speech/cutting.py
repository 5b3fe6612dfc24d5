"""Captions from a script: cut at clauses, set in lines, shown long enough to be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from guidebuild.speech.chunks import Measured
from guidebuild.speech.cues import DEFAULT_LIMITS, Cue, Limits
from guidebuild.speech.language import DEFAULT
from guidebuild.speech.runs import Run, timed_runs
from guidebuild.speech.timing import DEFAULT_PACE, Pace, Timing

# Costs on one scale with those of `chunks`: what one more cue, a cue too long or too fast, a sentence's end inside one cost.
_EACH_CUE = 2.0
_TOO_LONG = 40.0
_TOO_FAST = 3.0
_TOO_SHORT = 4.0
_FULL_STOP_INSIDE = 1.5


def captions(
    timing: Timing,
    pace: Pace = DEFAULT_PACE,
    *,
    limits: Limits = DEFAULT_LIMITS,
    code: str = DEFAULT,
    names: Iterable[str] = (),
    phrases: Iterable[str] = (),
) -> list[Cue]:
    """The captions of a timed script. `pace` is the one it was timed with; `names` and `phrases` are never cut."""
    return cues_of(timed_runs(timing, pace, code=code, names=names, phrases=phrases), limits)


def cues_of(runs: Iterable[Run], limits: Limits = DEFAULT_LIMITS) -> list[Cue]:
    """Cuts runs of timed chunks into cues and gives each its time on the screen."""
    return _shown_in_time([cue for run in runs for cue in _cut(run, limits)], limits)


@dataclass(frozen=True, slots=True)
class _Way:
    """The best way to cut a run's first chunks: its cost, where its last cue starts and where that cue's lines end."""

    cost: float
    since: int
    rows: tuple[int, ...]


def _cut(run: Run, limits: Limits) -> list[Cue]:
    """The cheapest cutting of a run, found from its start chunk by chunk."""
    measured = Measured([timed.chunk for timed in run])
    ways = [_Way(0.0, 0, ())]
    for end in range(1, len(run) + 1):
        # A single chunk wider than the screen is shown all the same: nothing may be left out.
        alone = ways[end - 1].cost + _cue_cost(run, measured, end - 1, end, limits)
        best = _Way(alone, end - 1, (end,))
        for since in range(end - 2, -1, -1):
            fitted = measured.rows(since, end, width=limits.line, most=limits.lines)
            if fitted is None:
                break
            cost = ways[since].cost + fitted[0] + _cue_cost(run, measured, since, end, limits)
            if cost < best.cost:
                best = _Way(cost, since, fitted[1])
        ways.append(best)
    cues: list[Cue] = []
    end = len(run)
    while end:
        way = ways[end]
        lines = (measured.text(since, until) for since, until in pairwise((way.since, *way.rows)))
        cues.append(Cue(run[way.since].start, run[end - 1].end, "\n".join(lines)))
        end = way.since
    return cues[::-1]


def _cue_cost(run: Run, measured: Measured, since: int, end: int, limits: Limits) -> float:
    start, last = run[since].start, run[end - 1]
    seconds = last.end - start
    # The time until the next cue's words is there to be read in.
    room = (run[end].start if end < len(run) else last.end + limits.close) - start
    need = max(limits.shortest, limits.reading_seconds(measured.width(since, end), measured.words(since, end)))
    cost = _EACH_CUE + last.chunk.cost
    cost += _TOO_LONG * max(0.0, seconds - limits.longest)
    cost += _TOO_FAST * max(0.0, need - room)
    cost += _TOO_SHORT * max(0.0, limits.shortest - seconds)
    return cost + _FULL_STOP_INSIDE * measured.costs[since : end - 1].count(0.0)


def _shown_in_time(cues: Sequence[Cue], limits: Limits) -> list[Cue]:
    """Lets cues run on into the pauses, and trail their words a little, where they would else be too fast to read."""
    shown: list[Cue] = []
    free_from = 0.0
    for cue, following in [*pairwise(cues), *((last, None) for last in cues[-1:])]:
        start = max(cue.start, free_from)
        wanted = max(cue.end, start + limits.least_seconds(cue))
        latest = min(start + limits.longest, cue.end + max(limits.lag, limits.close))
        if following is not None:
            latest = min(latest, following.start + _lag(following, limits) - limits.gap)
            if 0 <= following.start - wanted < limits.close:
                # A short gap reads as a flicker: the earlier cue stays until the next.
                wanted = following.start - limits.gap
        end = max(min(wanted, latest), start + 0.001)
        shown.append(replace(cue, start=start, end=end, number=len(shown) + 1))
        free_from = end + limits.gap
    return shown


def _lag(following: Cue, limits: Limits) -> float:
    """How late the next cue may come: it has to end near its own words as well."""
    return max(0.0, min(limits.lag, following.end + limits.lag - following.start - limits.shortest))


@dataclass(frozen=True, slots=True)
class Chapter:
    """A stretch of the film with a title, in seconds."""

    title: str
    start: float
    end: float


def chapters(timing: Timing, *, opening: str, shortest: float = 10.0) -> list[Chapter]:
    """The sections as chapters; `opening` is the title of what comes before the first heading.

    One shorter than `shortest` seconds joins the one before it, or the next where it is the first: pages that show chapters want
    the first at 0:00 and none under ten seconds (common practice, no source).
    """
    found: list[Chapter] = []
    for section in timing.sections:
        end = section.start + section.seconds
        if found and (section.seconds < shortest or found[-1].end - found[-1].start < shortest):
            first = found[-1]
            title = first.title if first.end - first.start >= section.seconds else section.title or first.title
            found[-1] = Chapter(title, first.start, end)
        elif section.seconds:
            found.append(Chapter(section.title or opening, section.start, end))
    return found


def chapter_cues(found: Iterable[Chapter]) -> list[Cue]:
    """Chapters as cues, to be written as a WebVTT file of chapters."""
    return [Cue(chapter.start, chapter.end, chapter.title, number) for number, chapter in enumerate(found, 1)]
