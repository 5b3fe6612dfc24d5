"""The captions and chapters of one episode: from its script alone, or with the times of a recorded take."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace

from guidebuild.guide.findings import At, Finding
from guidebuild.later import imported_when_used
from guidebuild.speech.align import Bend, find_bend, retime_runs
from guidebuild.speech.codes import TAKE_NOT_OF_SCRIPT
from guidebuild.speech.cues import DEFAULT_LIMITS, Cue, Limits, find_caption_faults
from guidebuild.speech.cutting import cut_cues
from guidebuild.speech.language import read_language
from guidebuild.speech.loads import get_word_loads, list_latin_words
from guidebuild.speech.runs import find_runs
from guidebuild.speech.script import Script, Spoken, join_text
from guidebuild.speech.timing import DEFAULT_PACE, Pace, TimedSection, time_script, write_clock

with imported_when_used():  # a check times captions and writes none
    from guidebuild.speech import caption_files

# Pages that show chapters want the first at 0:00 and none under ten seconds (common practice, no source).
SHORTEST_CHAPTER = 10.0


@dataclass(frozen=True, slots=True)
class Chapter:
    """A stretch of the film with a title, in seconds."""

    title: tuple[Spoken, ...]
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class ScriptCaptions:
    """An episode's cues and chapters, and what is wrong with the cues."""

    cues: tuple[Cue, ...]
    marks: tuple[Chapter, ...]
    findings: tuple[Finding, ...] = ()

    @property
    def webvtt(self) -> str:
        """The captions as a WebVTT file."""
        return caption_files.write_webvtt(self.cues)

    @property
    def subrip(self) -> str:
        """The captions as a SubRip file."""
        return caption_files.write_subrip(self.cues)

    @property
    def chapters(self) -> str:
        """The chapters as a WebVTT file of chapters."""
        return caption_files.write_webvtt(Cue(mark.start, mark.end, (mark.title,)) for mark in self.marks)

    @property
    def chapter_lines(self) -> str:
        """The chapters as lines to paste into a film's description, each its start and title: `0:00 Opening`.

        A description has no italics: the titles are plain text.
        """
        return "".join(f"{write_clock(mark.start)} {join_text(mark.title)}\n" for mark in self.marks)


def caption_script(
    script: Script,
    pace: Pace = DEFAULT_PACE,
    *,
    limits: Limits = DEFAULT_LIMITS,
    take: Sequence[Cue] = (),
    file: str = "captions",
) -> ScriptCaptions:
    """The captions and chapters of a script.

    With the cues of a `take`, times are those of the take wherever its words and the script's agree.
    """
    loads = get_word_loads(script.language, list_latin_words(script.names))
    timing = time_script(script, pace)
    runs = find_runs(timing, pace, loads=loads, phrases=(*script.names, *script.phrases), widest=limits.line)
    bend = find_bend(runs, take, loads) if take else None
    cues = cut_cues(retime_runs(runs, bend) if bend else runs, limits)
    found = find_chapters(timing.sections, opening=read_language(script.language).words["opening"])
    findings = [*find_caption_faults(cues, limits, file=file), *(_not_of_script(file) if take and not bend else ())]
    return ScriptCaptions(tuple(cues), tuple(_bent(found, bend)), tuple(findings))


def _not_of_script(file: str) -> Iterable[Finding]:
    message = "The take's words are not those of the script; the captions keep the estimated times."
    yield TAKE_NOT_OF_SCRIPT.finding(message, At(file))


def find_chapters(sections: Iterable[TimedSection], *, opening: str, shortest: float = SHORTEST_CHAPTER) -> list[Chapter]:
    """The sections as chapters; `opening` is the title of what comes before the first heading.

    A section shorter than `shortest` seconds joins the one before, or the one after where that is short too; the longer gives
    the title.
    """
    chapters: list[Chapter] = []
    said = [section for section in sections if section.seconds]
    for number, section in enumerate(said):
        end, title = section.start + section.seconds, section.title or (Spoken(opening),)
        last = chapters[-1] if chapters else None
        rest = [later.seconds for later in said[number:]]
        stands = rest[0] >= shortest or (len(rest) > 1 and rest[1] < shortest and sum(rest) >= shortest)
        if last and (last.end - last.start < shortest or not stands):
            longer = last.title if last.end - last.start >= section.seconds else title
            chapters[-1] = Chapter(longer, last.start, end)
        else:
            chapters.append(Chapter(title, section.start, end))
    return chapters


def _bent(chapters: Sequence[Chapter], bend: Bend | None) -> Iterable[Chapter]:
    if bend is None:
        return chapters
    # The first chapter starts with the film, whatever comes before the first word.
    starts = [0.0, *(bend.at(chapter.start) for chapter in chapters[1:])]
    ends = [*starts[1:], *(bend.at(chapter.end) for chapter in chapters[-1:])]
    return [replace(chapter, start=start, end=end) for chapter, start, end in zip(chapters, starts, ends, strict=True)]
