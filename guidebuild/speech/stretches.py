"""Stretches of a take whose length and words are known: what the fit of a pace starts from."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

from guidebuild.speech.align import list_script_words, list_take_words, match_words
from guidebuild.speech.cues import DEFAULT_LIMITS, Cue
from guidebuild.speech.loads import Load, WordLoads
from guidebuild.speech.parts import list_parts
from guidebuild.speech.script import Script

_LEAST_JOINED = 5
_LONGEST_GAP = 2.0  # seconds without a word: the camera was looking, nobody was speaking
_HEARD_AS_STOP = 0.35  # seconds between cues without punctuation that count as the end of a sentence
_AS_LONG_AS_READING = 1.03  # times what it takes to read a cue: shown no longer than that
_THE_SAME = 1.01  # between two speeds that count as one
_HELD_TO_IT = 0.2  # of all cues at one speed: more than chance brings together
_NO_ROOM = 0.25  # seconds between cues that leave the later one no room to come with its words


@dataclass(frozen=True, slots=True)
class Stretch:
    """From the start of one cue to the start of a later one: what was said and the seconds it took, pauses included."""

    load: Load
    seconds: float
    cues: int = 1

    def __add__(self, other: Stretch) -> Stretch:
        """Both, one after the other."""
        return Stretch(self.load + other.load, self.seconds + other.seconds, self.cues + other.cues)

    @property
    def row(self) -> tuple[float, ...]:
        """The counts, in the order of the unknowns."""
        load = self.load
        return load.beats, float(load.commas), float(load.sentences), float(load.paragraphs), float(load.says)


def has_punctuation(cues: Iterable[Cue], loads: WordLoads) -> bool:
    """Whether any cue ends or breaks a sentence with a sign."""
    return any(load.commas + load.sentences for load in (loads.load(cue.words) for cue in cues))


def measure_own_stretches(cues: Sequence[Cue], loads: WordLoads) -> list[Stretch]:
    """Stretches from the cues' own text. Without any punctuation, a gap between cues stands for the end of a sentence."""
    all_loads = [loads.load(cue.words) for cue in cues]
    bare, tight = not has_punctuation(cues, loads), find_tight_cues(cues)
    stretches: list[tuple[Stretch | None, int]] = []
    for place, (cue, load) in enumerate(zip(cues, all_loads, strict=True)):
        following = cues[place + 1] if place + 1 < len(cues) else None
        gap = following.start - cue.end if following else None
        sure = _timing_of(cues, tight, place + 1)
        if not load.words or cue.seconds <= 0:
            stretches.append((None, sure))
        elif following is None or gap is None or gap > _LONGEST_GAP:
            stretches.append((Stretch(loads.without_pause_at_end(cue.words, load), cue.seconds), sure))
        else:
            told = replace(load, sentences=1) if bare and gap >= _HEARD_AS_STOP else load
            stretches.append((Stretch(told, following.start - cue.start), sure))
    return _between_sure_times(stretches)


def measure_script_stretches(cues: Sequence[Cue], script: Script, loads: WordLoads) -> list[Stretch]:
    """Stretches between cues whose first words are found in the script, with the script's punctuation and marks.

    A stretch in which the take says more or less than the script (something was added or skipped) is left out.
    """
    written = list_script_words(list_parts(script, loads), loads)
    heard = list_take_words(cues, loads)
    where = {theirs: mine for mine, theirs in match_words([w.word for w in written], [w.word for w in heard])}
    firsts = [i for i, word in enumerate(heard) if i == 0 or heard[i - 1].cue != word.cue]
    anchors = [(i, where[i]) for i in firsts if i in where]
    tight = find_tight_cues(cues)
    stretches: list[tuple[Stretch | None, int]] = []
    for (first, mine), (following, theirs) in pairwise(anchors):
        seconds = heard[following].start - heard[first].start
        said = written[mine:theirs]
        load = sum((word.load for word in said), Load())
        agrees = abs((following - first) - len(said)) <= max(1, len(said) // 10)
        silent = heard[following].start - heard[following - 1].end > _LONGEST_GAP + load.silence
        usable = agrees and said and seconds > 0 and not silent
        spanned = heard[following].cue - heard[first].cue
        stretches.append((Stretch(load, seconds, spanned) if usable else None, _timing_of(cues, tight, heard[following].cue)))
    return _between_sure_times(stretches)


def _timing_of(cues: Sequence[Cue], tight: Sequence[bool], place: int) -> int:
    """Whether a cue comes with its words: 2 surely, 1 unless it was moved forward, 0 where it may have had to wait.

    Captions of fast speech are timed for the reader: they trail the words by up to a second, begin before them where there is
    silence, and catch up in the pauses. Such a cue is shown no longer than it takes to read.
    """
    if tight[place - 1] and (place == len(cues) or cues[place].start - cues[place - 1].end < _NO_ROOM):
        return 0
    return 1 if place < len(cues) and tight[place] else 2


def find_tight_cues(cues: Sequence[Cue]) -> list[bool]:
    """For each cue whether it is shown no longer than it takes to read, so that its times are the reader's and not the speaker's.

    Where captions are held to a limit, many run at the very same speed; times taken from the words give all speeds, and none is told.
    """
    speeds = sorted(cue.characters / cue.seconds for cue in cues if cue.seconds > DEFAULT_LIMITS.shortest)
    alike = [bisect_right(speeds, speed * _THE_SAME) - place for place, speed in enumerate(speeds)]
    if not alike or max(alike) < _HELD_TO_IT * len(cues):
        return [False] * len(cues)
    limits = replace(DEFAULT_LIMITS, speed=speeds[alike.index(max(alike))])
    return [cue.seconds <= limits.least_seconds(cue) * _AS_LONG_AS_READING for cue in cues]


def _between_sure_times(stretches: Sequence[tuple[Stretch | None, int]]) -> list[Stretch]:
    """Stretches joined until they begin and end where a cue came with its words.

    Each comes with the timing of the cue at its end, or is None where it cannot be used. Where too few are sure, less sure ones
    do, and where hardly any is, all are taken as they are.
    """
    for least_sure in (2, 1):
        found = list(_joined(stretches, least_sure))
        if len(found) >= _LEAST_JOINED:
            return found
    return [stretch for stretch, _ in stretches if stretch]


def _joined(stretches: Iterable[tuple[Stretch | None, int]], least_sure: int) -> Iterator[Stretch]:
    held: Stretch | None = None
    begun = True  # whether all since the last sure time can be used
    for stretch, sure in stretches:
        begun = begun and stretch is not None
        if stretch and begun:
            held = held + stretch if held else stretch
        if sure >= least_sure:
            if held and begun:
                yield held
            held, begun = None, True
