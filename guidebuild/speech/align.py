"""Where the words of a script are in a take: the two word lists laid side by side."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from guidebuild.speech.cues import Cue
from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.parts import PartKind, SpokenPart
from guidebuild.speech.runs import Run
from guidebuild.speech.script import Spoken

_LEAST_BLOCK = 2  # words that have to agree in a row: a lone `the` proves nothing

_LEAST_SHARED = 1 / 3  # of the words of the shorter one


@dataclass(frozen=True, slots=True)
class ScriptWord:
    """A spoken word of a script: plain and lower case, with its load, the pause after it included."""

    word: str
    load: Load


@dataclass(frozen=True, slots=True)
class TakeWord:
    """A word heard in a take, with its times worked out from its cue's; `cue` is the cue's place in the list."""

    word: str
    start: float
    end: float
    cue: int


def bare_word(piece: str) -> str:
    """A piece as it is compared: letters and figures only, lower case."""
    return "".join(sign for sign in piece.lower() if sign.isalnum())


def list_script_words(parts: Iterable[SpokenPart], loads: WordLoads) -> list[ScriptWord]:
    """The words of a script's parts. Marks and the pause at a paragraph's end go to the word before."""
    words: list[ScriptWord] = []
    for part in parts:
        if part.kind is PartKind.TEXT:
            for piece in loads.list_pieces(part.words):
                load = loads.load_piece(piece)
                if bare_word(piece):
                    words.append(ScriptWord(bare_word(piece), load))
                elif words:
                    words[-1] = replace(words[-1], load=words[-1].load + load)
            if part.load.paragraphs and words:
                words[-1] = replace(words[-1], load=replace(words[-1].load, commas=0, sentences=0, paragraphs=1))
        elif words and part.kind in (PartKind.PAUSE, PartKind.SAY):
            words[-1] = replace(words[-1], load=words[-1].load + part.load)
    return words


def list_take_words(cues: Sequence[Cue], loads: WordLoads) -> list[TakeWord]:
    """The words of a take. Within a cue, time is shared out by the length of the words."""
    return [TakeWord(*word, place) for place, cue in enumerate(cues) for word in _spread(cue.words, cue.start, cue.end, loads)]


def match_words(script: Sequence[str], take: Sequence[str]) -> list[tuple[int, int]]:
    """Pairs of places (in the script, in the take) that hold the same word, in order, in runs of two or more."""
    blocks = SequenceMatcher(None, script, take, autojunk=False).get_matching_blocks()
    return [(block.a + i, block.b + i) for block in blocks if block.size >= _LEAST_BLOCK for i in range(block.size)]


def find_bend(runs: Sequence[Run], cues: Sequence[Cue], loads: WordLoads) -> Bend | None:
    """How a script's estimated times have to be bent for the words it shares with a take to meet.

    None where fewer than a third of the words agree: that is a take of something else.
    """
    said: list[tuple[str, float, float]] = []
    for run in runs:
        for timed in run:
            said += _spread(timed.chunk.words, timed.start, timed.end, loads)
    heard = list_take_words(cues, loads)
    pairs = match_words([word for word, _, _ in said], [word.word for word in heard])
    if len(pairs) < _LEAST_SHARED * min(len(said), len(heard)):
        return None
    anchors: list[tuple[float, float]] = []
    for mine, theirs in pairs:
        anchors += [(said[mine][1], heard[theirs].start), (said[mine][2], heard[theirs].end)]
    return Bend(anchors) if anchors else None


def retime_runs(runs: Iterable[Run], bend: Bend) -> list[Run]:
    """Runs with bent times. Words that the take lacks keep their place between their neighbours."""
    return [tuple(replace(timed, start=bend.at(timed.start), end=bend.at(timed.end)) for timed in run) for run in runs]


def _spread(words: Sequence[Spoken], start: float, end: float, loads: WordLoads) -> Iterator[tuple[str, float, float]]:
    """Each word of a stretch with its times, shared out by their length."""
    pieces = [piece for piece in loads.list_pieces(words) if bare_word(piece)]
    beats = [loads.load_piece(piece).beats or 1.0 for piece in pieces]
    a_beat = (end - start) / sum(beats) if beats else 0.0
    now = start
    for piece, length in zip(pieces, beats, strict=True):
        yield bare_word(piece), now, now + length * a_beat
        now += length * a_beat


class Bend:
    """A time line bent through anchors (estimated, taken): straight between them, with a slope of one beyond."""

    def __init__(self, anchors: Iterable[tuple[float, float]]) -> None:
        self._from: list[float] = []
        self._to: list[float] = []
        for before, after in anchors:
            if not self._from or before > self._from[-1]:
                self._from.append(before)
                self._to.append(max(after, self._to[-1]) if self._to else after)
            # The end of one word and the start of the next are one moment in the estimate: the later time in the take holds.
            elif before == self._from[-1]:
                self._to[-1] = max(self._to[-1], after)

    def at(self, moment: float) -> float:
        """The time in the take of an estimated moment."""
        place = bisect_right(self._from, moment)
        if place == 0:
            return max(0.0, self._to[0] + moment - self._from[0])
        if place == len(self._from):
            return self._to[-1] + moment - self._from[-1]
        before, after = self._from[place - 1], self._from[place]
        share = (moment - before) / (after - before)
        return self._to[place - 1] + share * (self._to[place] - self._to[place - 1])
