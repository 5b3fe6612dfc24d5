"""How long a script takes to say: a running time for every line and section, and a total with its range."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.guide.findings import At, Finding, Level
from guidebuild.guide.guide import PaceSetting as TypedPace
from guidebuild.speech.codes import OVER_SLOT, UNDER_SLOT
from guidebuild.speech.loads import Load, get_word_loads, list_latin_words
from guidebuild.speech.parts import NOTHING, PartKind, SpokenPart, list_parts
from guidebuild.speech.script import Script, Spoken, join_text


@dataclass(frozen=True, slots=True)
class Pace:
    """How a speaker talks: syllables a second while speaking, pauses in seconds, and how far a take may be off.

    `say` is the care taken over a name that has a say-it line. `spread` is a share: 0.08 means 8 % either way; a pace fitted to
    a take carries the error found on parts held out from the fit. The defaults time a presenter's episode of 950–1,000 words at
    5½–6 minutes (common practice, no source); 0.6 s at the end of a sentence sounded best to the listeners of Liu et al. 2022
    (Frontiers in Psychology, doi 10.3389/fpsyg.2022.778018). The other pauses and the spread are common practice, no source.
    """

    syllables: float = 4.7
    comma: float = 0.25
    sentence: float = 0.6
    paragraph: float = 1.0
    say: float = 0.4
    spread: float = 0.08

    def seconds(self, load: Load) -> float:
        """The time that a stretch of speech takes, with its pauses and silences."""
        return (
            load.beats / self.syllables
            + load.commas * self.comma
            + load.sentences * self.sentence
            + load.paragraphs * self.paragraph
            + load.says * self.say
            + load.silence
        )


DEFAULT_PACE = Pace()


def fill_pace(typed: TypedPace) -> Pace:
    """The pace of guide.yaml, with the defaults where it says nothing."""
    given = {name: getattr(typed, name) for name in ("syllables", "comma", "sentence", "paragraph")}
    return replace(DEFAULT_PACE, **{name: value for name, value in given.items() if value is not None})


@dataclass(frozen=True, slots=True)
class TimedPart:
    """One part of a script with when it starts and ends, in seconds from the first word; `end` includes its pauses."""

    part: SpokenPart
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class TimedLine:
    """The time of one line: when it starts, how long until the next, and how many words are spoken.

    The seconds include the pauses in and after the line and the silences it asks for.
    """

    start: float
    seconds: float
    words: int


@dataclass(frozen=True, slots=True)
class TimedSection:
    """The time of one section: its heading (empty before the first), start, length in seconds and words spoken."""

    title: tuple[Spoken, ...]
    start: float
    seconds: float
    words: int


@dataclass(frozen=True, slots=True)
class Timing:
    """A script in time. `least` and `most` are the total less and more the pace's spread."""

    seconds: float
    least: float
    most: float
    words: int
    said: tuple[SpokenPart, ...]
    times: tuple[tuple[float, float], ...]

    @property
    def parts(self) -> tuple[TimedPart, ...]:
        """The script's parts with their times; `said` and `times` hold the same apart, since most askers want the total alone."""
        return tuple(TimedPart(part, start, end) for part, (start, end) in zip(self.said, self.times, strict=True))

    @property
    def lines(self) -> tuple[TimedLine, ...]:
        """The running time of each line of the script, in the same order."""
        groups: list[list[TimedPart]] = []
        for timed in self.parts:
            if timed.part.opens_line:
                groups.append([])
            if timed.part.kind is not PartKind.HEADING:
                groups[-1].append(timed)
        return tuple(TimedLine(*_sum_times(group)) for group in groups)

    @property
    def sections(self) -> tuple[TimedSection, ...]:
        """The running time of each section of the script, in the same order."""
        groups: list[list[TimedPart]] = []
        for timed in self.parts:
            if timed.part.kind is PartKind.HEADING:
                groups.append([])
            groups[-1].append(timed)
        return tuple(TimedSection(group[0].part.words, *_sum_times(group)) for group in groups)


def _sum_times(group: Sequence[TimedPart]) -> tuple[float, float, int]:
    """When some parts start, how long they take and how many words are spoken."""
    return group[0].start, group[-1].end - group[0].start, sum(timed.part.load.words for timed in group)


def time_script(script: Script, pace: Pace = DEFAULT_PACE) -> Timing:
    """Times a script. Headings are not spoken.

    A shown picture stays for its seconds while the words go on; only where the next picture, section or the end comes sooner does
    the script wait. The pause after the very last word is not counted.
    """
    return time_parts(list_parts(script, get_word_loads(script.language, list_latin_words(script.names))), pace)


def time_parts(parts: Sequence[SpokenPart], pace: Pace = DEFAULT_PACE) -> Timing:
    """Times the parts of a script one after the other."""
    times: list[tuple[float, float]] = []
    now = stay_until = 0.0
    words = 0
    for part in parts:
        kind = part.kind
        if stay_until > now and (kind is PartKind.SHOW or kind is PartKind.HEADING):
            now = _wait(times, stay_until)
        if part.load is NOTHING:
            times.append((now, now))
        else:
            end = now + pace.seconds(part.load)
            times.append((now, end))
            words += part.load.words
            now = end
        if kind is PartKind.SHOW:
            stay_until = now + (part.seconds or 0.0)
    if stay_until > now:
        now = _wait(times, stay_until)
    return Timing(now, now * (1 - pace.spread), now * (1 + pace.spread), words, tuple(parts), tuple(times))


def _wait(times: list[tuple[float, float]], until: float) -> float:
    """Lets the last part go on in silence, and tells the time then."""
    times[-1] = (times[-1][0], until)
    return until


def write_clock(seconds: float) -> str:
    """A time code for people: `0:07`, `5:42`, `1:02:03`; rounded to the second."""
    whole = max(0, round(seconds))
    hours, minutes = divmod(whole // 60, 60)
    return f"{hours}:{minutes:02}:{whole % 60:02}" if hours else f"{minutes}:{whole % 60:02}"


def find_slot_faults(  # noqa: PLR0913 - a finding needs its place, and the last two are keyword-only with a default
    timing: Timing, shortest: float, longest: float, at: At, *, name: str = "", account: str = ""
) -> Iterator[Finding]:
    """A finding where the script runs over or under its slot (in seconds): by how much, and which sections carry it."""
    if shortest <= timing.seconds <= longest:
        return
    over = timing.seconds > longest
    off = timing.seconds - longest if over else shortest - timing.seconds
    code = OVER_SLOT if over else UNDER_SLOT
    slot = f"the {name} slot" if name else "its slot"
    carried = sorted(timing.sections, key=lambda section: -section.seconds)[:3]
    listed = ", ".join(f"“{join_text(part.title) or 'opening'}” {write_clock(part.seconds)}" for part in carried)
    message = (
        f"The script runs {write_clock(timing.seconds)} ({write_clock(timing.least)} to {write_clock(timing.most)}), "
        f"{write_clock(off)} {'over' if over else 'under'} {slot} of {write_clock(shortest)} to {write_clock(longest)}."
    )
    mend = f"Longest sections: {listed}." + (" Cut there first." if over else " Say more where there is more to see.")
    # Within the spread of the estimate a take may still fit.
    possible = timing.least <= longest if over else timing.most >= shortest
    yield code.finding(message, at, mend=mend, account=account, level=Level.NOTE if possible else None)
