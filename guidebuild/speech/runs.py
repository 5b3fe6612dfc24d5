"""A timed script as runs of chunks: what captions are cut from. No caption reaches over a paragraph, a heading or a long pause."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from guidebuild.speech.chunks import Chunk, find_chunks
from guidebuild.speech.loads import WordLoads
from guidebuild.speech.parts import PartKind
from guidebuild.speech.signs import STOPS
from guidebuild.speech.timing import DEFAULT_PACE, Pace, TimedPart, Timing

_LONG_PAUSE = 1.0  # seconds
_CLAUSE_GOES_ON = 5.0  # what a break inside a clause costs


@dataclass(frozen=True, slots=True)
class TimedChunk:
    """A chunk with the seconds at which its first sound starts and its last ends."""

    chunk: Chunk
    start: float
    end: float


Run = tuple[TimedChunk, ...]


def find_runs(
    timing: Timing, pace: Pace = DEFAULT_PACE, *, loads: WordLoads, phrases: Sequence[str] = (), widest: int = 1_000
) -> list[Run]:
    """The runs of a timed script. `pace` and `loads` are those it was timed with; no chunk cuts one of the `phrases` that fits."""
    runs: list[Run] = []
    open_run: list[TimedChunk] = []
    for timed in timing.parts:
        part = timed.part
        if part.kind is PartKind.TEXT:
            open_run = _extended(open_run, _time_chunks(timed, pace, loads, phrases, widest))
        is_pause = part.kind is PartKind.PAUSE and (part.seconds or 0) >= _LONG_PAUSE
        if open_run and (part.load.paragraphs or part.kind is PartKind.HEADING or is_pause):
            runs.append(tuple(open_run))
            open_run = []
    return [*runs, tuple(open_run)] if open_run else runs


def _extended(run: list[TimedChunk], more: list[TimedChunk]) -> list[TimedChunk]:
    """A run and what follows it; a stop that a mark has cut off (`*name* [say …], and`) goes back to its word."""
    if run and more and more[0].chunk.text.strip(STOPS) == "":
        last, stop = run[-1], more[0]
        joined = Chunk((*last.chunk.words, *stop.chunk.words), stop.chunk.cost)
        return [*run[:-1], TimedChunk(joined, last.start, last.end), *more[1:]]
    if run and more and run[-1].chunk.cost == 0.0 and run[-1].chunk.text[-1].isalnum():
        # The end of a stretch of text is not the end of a clause.
        run = [*run[:-1], replace(run[-1], chunk=replace(run[-1].chunk, cost=_CLAUSE_GOES_ON))]
    return [*run, *more]


def _time_chunks(timed: TimedPart, pace: Pace, loads: WordLoads, phrases: Sequence[str], widest: int) -> list[TimedChunk]:
    chunks = find_chunks(timed.part.words, loads.table, phrases=phrases, widest=widest)
    said: list[tuple[float, float]] = []  # seconds of each chunk's sound, and of the pause after it
    for chunk in chunks:
        load = loads.load(chunk.words)
        bare = pace.seconds(loads.without_pause_at_end(chunk.words, load))
        said.append((bare, pace.seconds(load) - bare))
    total = sum(sound + pause for sound, pause in said) - (said[-1][1] if said else 0.0)
    scale = min(1.0, (timed.end - timed.start) / total) if total else 1.0
    out: list[TimedChunk] = []
    now = timed.start
    for chunk, (sound, pause) in zip(chunks, said, strict=True):
        out.append(TimedChunk(chunk, now, now + sound * scale))
        now += (sound + pause) * scale
    return out
