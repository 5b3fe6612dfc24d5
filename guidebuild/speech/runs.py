"""A timed script as runs of chunks: what captions are cut from. No caption reaches over a paragraph, a heading or a long pause."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, replace

from guidebuild.speech.chunks import Chunk, chunks
from guidebuild.speech.language import DEFAULT
from guidebuild.speech.loads import WordLoads, latin_words, word_loads
from guidebuild.speech.parts import Kind
from guidebuild.speech.spoken import name_spans
from guidebuild.speech.timing import DEFAULT_PACE, Pace, TimedPart, Timing

_LONG_PAUSE = 1.0  # seconds
_LOOSE_STOP = re.compile(r"\s+(?=[,;:.!?…])")


@dataclass(frozen=True, slots=True)
class TimedChunk:
    """A chunk with the seconds at which its first sound starts and its last ends."""

    chunk: Chunk
    start: float
    end: float


Run = tuple[TimedChunk, ...]


@dataclass(frozen=True, slots=True)
class Wording:
    """What has to be known of a script's words: language, scientific names, and other names that are never cut."""

    code: str = DEFAULT
    names: tuple[str, ...] = ()
    phrases: tuple[str, ...] = ()

    @property
    def loads(self) -> WordLoads:
        """The table that counts its words."""
        return word_loads(self.code, latin_words(self.names))


def wording(*, code: str = DEFAULT, names: Iterable[str] = (), phrases: Iterable[str] = ()) -> Wording:
    """A wording from any lists of names."""
    return Wording(code, tuple(names), tuple(phrases))


PLAIN = Wording()


def timed_runs(timing: Timing, pace: Pace = DEFAULT_PACE, wording: Wording = PLAIN) -> list[Run]:
    """The runs of a timed script. `pace` is the one it was timed with."""
    loads = wording.loads
    whole = (*wording.names, *wording.phrases)
    runs: list[Run] = []
    open_run: list[TimedChunk] = []
    for timed in timing.parts:
        part = timed.part
        if part.kind is Kind.TEXT:
            open_run = _extended(open_run, _timed_chunks(timed, pace, loads, whole))
        ends = part.load.paragraphs or part.kind is Kind.HEADING or (part.kind is Kind.PAUSE and (part.seconds or 0) >= _LONG_PAUSE)
        if ends and open_run:
            runs.append(tuple(open_run))
            open_run = []
    return [*runs, tuple(open_run)] if open_run else runs


def shown_text(text: str) -> str:
    """The words of a script's line as a caption shows them: no marks, no Markdown, scientific names in *stars*."""
    pieces = (f"*{piece}*" if is_name else piece for piece, is_name in name_spans(text))
    return _LOOSE_STOP.sub("", " ".join("".join(pieces).split()))


def _extended(run: list[TimedChunk], more: list[TimedChunk]) -> list[TimedChunk]:
    """A run and what follows it; a stop that a mark has cut off (`*name* [say …], and`) goes back to its word."""
    if run and more and more[0].chunk.text.strip(",;:.!?…") == "":
        last, stop = run[-1], more[0]
        joined = Chunk(last.chunk.text + stop.chunk.text, stop.chunk.cost)
        return [*run[:-1], TimedChunk(joined, last.start, last.end), *more[1:]]
    if run and more and run[-1].chunk.cost == 0.0 and run[-1].chunk.text[-1].isalnum():
        # The end of a stretch of text is not the end of a clause.
        run = [*run[:-1], replace(run[-1], chunk=Chunk(run[-1].chunk.text, 5.0))]
    return [*run, *more]


def _timed_chunks(timed: TimedPart, pace: Pace, loads: WordLoads, whole: tuple[str, ...]) -> list[TimedChunk]:
    found = chunks(shown_text(timed.part.text), loads.table, phrases=whole)
    said: list[tuple[float, float]] = []  # seconds of each chunk's sound, and of the pause after it
    for chunk in found:
        load = loads.load(chunk.text)
        bare = pace.seconds(loads.without_pause_at_end(chunk.text, load))
        said.append((bare, pace.seconds(load) - bare))
    total = sum(sound + pause for sound, pause in said) - (said[-1][1] if said else 0.0)
    scale = min(1.0, (timed.end - timed.start) / total) if total else 1.0
    out: list[TimedChunk] = []
    now = timed.start
    for chunk, (sound, pause) in zip(found, said, strict=True):
        out.append(TimedChunk(chunk, now, now + sound * scale))
        now += (sound + pause) * scale
    return out
