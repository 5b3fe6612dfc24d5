"""Cues, the limits that keep captions readable, and what is wrong with cues that break them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import regex

from guidebuild.counting import count_of
from guidebuild.guide.findings import At, Code, Finding
from guidebuild.speech.codes import (
    CAPTION_GAP,
    CAPTION_LINE_LENGTH,
    CAPTION_LINES,
    CAPTION_OVERLAP,
    CAPTION_SPEED,
    CAPTION_TOO_LONG,
    CAPTION_TOO_SHORT,
)
from guidebuild.speech.script import Spoken, join_text, join_words

_CLUSTER = regex.compile(r"\X")


@dataclass(frozen=True, slots=True)
class Cue:
    """One caption: seconds from the start of the film, and the words of each of its rows.

    `number` counts from 1; `line` is the cue's line in the file it was read from, 0 where it was made.
    """

    start: float
    end: float
    rows: tuple[tuple[Spoken, ...], ...]
    number: int = 0
    line: int = 0

    @property
    def seconds(self) -> float:
        """How long it is shown."""
        return self.end - self.start

    @property
    def lines(self) -> tuple[str, ...]:
        """Its rows as plain text."""
        return tuple(join_text(row) for row in self.rows)

    @property
    def text(self) -> str:
        """Its plain text, with its line breaks."""
        return "\n".join(self.lines)

    @property
    def words(self) -> tuple[Spoken, ...]:
        """Its words as they are said, row after row."""
        return join_words(self.rows)

    @property
    def characters(self) -> int:
        """User-perceived characters, spaces included; a line break counts as the space it stands for."""
        return count_characters(" ".join(self.lines))


def count_characters(text: str) -> int:
    """User-perceived characters (UAX #29): what a reader would count."""
    return len(text) if text.isascii() else len(_CLUSTER.findall(text))


@dataclass(frozen=True, slots=True)
class Limits:
    """What a caption may be. `source` says where the figures come from.

    Lengths are in characters, times in seconds. `seconds_a_word` is the least time for each word, `gap` the least time between
    two cues, `close` the gap below which it is better to let the earlier cue run on, `lag` how far a cue may trail its words.
    """

    source: str
    line: int = 42
    lines: int = 2
    speed: float = 17.0
    seconds_a_word: float = 0.0
    shortest: float = 1.0
    longest: float = 7.0
    gap: float = 2 / 24
    close: float = 1.0
    lag: float = 1.0

    def reading_seconds(self, count: int, words: int) -> float:
        """How long a text of so many characters and words takes to read."""
        return max(count / self.speed, words * self.seconds_a_word)

    def least_seconds(self, cue: Cue) -> float:
        """How long a cue has to be shown: to be read, and to be noticed at all."""
        return max(self.shortest, self.reading_seconds(cue.characters, len(cue.text.split())))


STREAMING = Limits(
    source="Netflix Timed Text Style Guide, General Requirements: 42 characters, 2 lines, 5/6 s to 7 s, 2 frames between cues; "
    "its older English template: 17 characters a second",
    shortest=5 / 6,
)
DEFAULT_LIMITS = replace(STREAMING, shortest=1.0, source=f"{STREAMING.source}. Shortest 1 s: common practice, no source")
BROADCAST = Limits(
    source="BBC Subtitle Guidelines: 37 characters, 2 lines (3.1, 3.3), 0.3 s a word (4.1), a gap of 1 s or none (4.5), "
    "up to 1.5 s after the words (5.2). Speed, shortest and longest: as for streaming",
    line=37,
    seconds_a_word=0.3,
    lag=1.5,
)
VERTICAL = replace(
    BROADCAST, line=25, lines=3, source="BBC Subtitle Guidelines 3.1, 3.3: about 25 characters and 3 lines on a 9:16 picture"
)

LIMITS = {"streaming": DEFAULT_LIMITS, "broadcast": BROADCAST, "vertical": VERTICAL}
"""The limits by the words that guide.yaml has for them."""


def find_caption_faults(
    cues: Sequence[Cue], limits: Limits = DEFAULT_LIMITS, *, file: str = "captions", account: str = ""
) -> Iterator[Finding]:
    """Every cue that breaks a limit, with the figure, the limit and what would mend it. All are warnings."""
    for place, cue in enumerate(cues, 1):
        numbered = cue if cue.number else replace(cue, number=place)
        for code, message, mend in _breaches(numbered, limits):
            yield code.finding(message, At(file, cue.line), mend=mend, account=account)
    for earlier, later in pairwise(sorted(enumerate(cues, 1), key=lambda numbered: numbered[1].start)):
        yield from _between(earlier, later, limits, file, account)


def _breaches(cue: Cue, limits: Limits) -> Iterator[tuple[Code, str, str]]:
    name = f"Cue {cue.number}"
    # Times are written to the millisecond: less than that is no breach.
    shown = cue.seconds + 0.0005
    if shown < limits.reading_seconds(cue.characters, len(cue.text.split())):
        speed = f"{cue.characters / cue.seconds:.1f}".removesuffix(".0") if cue.seconds > 0 else "endless"
        yield (
            CAPTION_SPEED,
            f"{name}: {cue.characters} characters in {cue.seconds:.1f} s are {speed} characters a second; readers manage {limits.speed:g}.",
            f"Show it for {limits.least_seconds(cue):.1f} s or more, or say it in fewer words.",
        )
    if shown < limits.shortest:
        mend = f"Show it for {limits.shortest:.1f} s or join it to its neighbour."
        yield CAPTION_TOO_SHORT, f"{name} is shown for {cue.seconds:.2f} s, less than {limits.shortest:.2g} s.", mend
    if cue.seconds > limits.longest + 0.0005:
        mend = "Break it at a clause."
        yield CAPTION_TOO_LONG, f"{name} is shown for {cue.seconds:.1f} s, more than {limits.longest:g} s.", mend
    if len(cue.lines) > limits.lines:
        mend = "Break it into two cues."
        yield CAPTION_LINES, f"{name} has {count_of(len(cue.lines), 'line')}; at most {limits.lines} are shown.", mend
    longest = max(cue.lines, key=count_characters, default="")
    if count_characters(longest) > limits.line:
        message = f"{name}: the line “{longest}” has {count_characters(longest)} characters; at most {limits.line} fit."
        too_wide = max(longest.split(), key=count_characters)
        alone = f"“{too_wide}” is wider than a line: say another name here, or choose wider captions for this film."
        yield CAPTION_LINE_LENGTH, message, alone if count_characters(too_wide) > limits.line else "Break the line at a clause."


def _between(earlier: tuple[int, Cue], later: tuple[int, Cue], limits: Limits, file: str, account: str) -> Iterator[Finding]:
    (first, before), (second, after) = earlier, later
    names = f"Cues {before.number or first} and {after.number or second}"
    room = after.start - before.end
    if room < -0.0005:
        message = f"{names} overlap: the first ends at {before.end:.3f} s, the second starts at {after.start:.3f} s."
        yield CAPTION_OVERLAP.finding(message, At(file, after.line), account=account)
    elif room + 0.0015 < limits.gap:
        message = f"{names} are {room:.3f} s apart, less than {limits.gap:.3f} s: they read as one."
        mend = f"Leave {limits.gap:.2f} s between them."
        yield CAPTION_GAP.finding(message, At(file, after.line), mend=mend, account=account)
