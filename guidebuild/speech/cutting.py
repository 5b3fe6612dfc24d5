"""Captions from a script: cut at clauses, set in lines, shown long enough to be read."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from guidebuild.speech.chunks import Measured
from guidebuild.speech.cues import DEFAULT_LIMITS, Cue, Limits
from guidebuild.speech.runs import Run

# Costs on one scale with those of `chunks`: what one more cue, a cue too long or too fast, a sentence's end inside one cost.
_EACH_CUE = 2.0
_TOO_LONG = 40.0
_TOO_FAST = 3.0
_TOO_SHORT = 4.0
_FULL_STOP_INSIDE = 1.5
# A cue that ends one sentence and opens the next without finishing it.
_TORN_SENTENCE = 4.0
_CLAUSE = 1.5  # what breaking after a comma costs: the dearest break that is still between clauses
# Seconds a cue may come before its words; the BBC's guidelines (5.2) allow 1.5.
_MOST_LEAD = 0.5


def cut_cues(runs: Iterable[Run], limits: Limits = DEFAULT_LIMITS) -> list[Cue]:
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
    widest = (limits.line + 1) * limits.lines - 1
    ways = [_Way(0.0, 0, ())]
    for end in range(1, len(run) + 1):
        # A single chunk wider than the screen is shown all the same: nothing may be left out.
        alone = ways[end - 1].cost + _cue_cost(run, measured, end - 1, end, limits)
        best = _Way(alone, end - 1, (end,))
        for since in range(end - 2, -1, -1):
            if measured.width(since, end) > widest:
                break
            cost = ways[since].cost + _cue_cost(run, measured, since, end, limits)
            # Setting the lines is the dear part, and can only add to the cost.
            if cost >= best.cost:
                continue
            fitted = measured.rows(since, end, width=limits.line, most=limits.lines)
            if fitted and cost + fitted[0] < best.cost:
                best = _Way(cost + fitted[0], since, fitted[1])
        ways.append(best)
    cues: list[Cue] = []
    end = len(run)
    while end:
        way = ways[end]
        rows = tuple(measured.row(since, until) for since, until in pairwise((way.since, *way.rows)))
        cues.append(Cue(run[way.since].start, run[end - 1].end, rows))
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
    stops = measured.costs[since : end - 1].count(0.0)
    return cost + _FULL_STOP_INSIDE * stops + (_TORN_SENTENCE if stops and last.chunk.cost > _CLAUSE else 0.0)


def _shown_in_time(cues: Sequence[Cue], limits: Limits) -> list[Cue]:
    """Lets cues run on into the pauses, and trail their words a little, where they would else be too fast to read."""
    shown: list[Cue] = []
    free_from = 0.0
    early = _led_in(cues, limits)
    for cue, following in [*pairwise(early), *((last, None) for last in early[-1:])]:
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


def _led_in(cues: Sequence[Cue], limits: Limits) -> list[Cue]:
    """Cues too fast to read start a little before their words, where there is silence before them."""
    led: list[Cue] = []
    for place, cue in enumerate(cues):
        until = cues[place + 1].start - limits.gap if place + 1 < len(cues) else cue.end + limits.close
        silence = cue.start - (led[-1].end + limits.gap if led else 0.0)
        lead = min(_MOST_LEAD, silence, limits.least_seconds(cue) - (until - cue.start))
        led.append(replace(cue, start=cue.start - lead) if lead > 0 else cue)
    return led


def _lag(following: Cue, limits: Limits) -> float:
    """How late the next cue may come: it has to end near its own words as well."""
    return max(0.0, min(limits.lag, following.end + limits.lag - following.start - limits.shortest))
