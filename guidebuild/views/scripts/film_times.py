"""What stands when in a film: its chapters, its captions and the marks of its species, by its captions and its script."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.published import Published
from guidebuild.guide.films import Film, FilmCue
from guidebuild.guide.resolve import find_account
from guidebuild.speech.captions import Chapter
from guidebuild.speech.cues import Cue
from guidebuild.speech.said_when import find_when_said
from guidebuild.speech.script import Spoken
from guidebuild.speech.timing import fill_pace
from guidebuild.views.scripts.script import ScriptView, caption_view, make_drafted_script, make_own_script
from guidebuild.words import WRITTEN_IN


@dataclass(frozen=True, slots=True)
class FilmTimes:
    """The captions of a film, its chapters, and when each mark is spoken of, by account and the mark's number.

    Without a file of captions there are none, and the other times are those of its script, stretched to the film's length.
    """

    cues: tuple[Cue, ...] = ()
    chapters: tuple[Chapter, ...] = ()
    marks: tuple[tuple[str, tuple[tuple[int, float], ...]], ...] = ()
    spoken: tuple[Cue, ...] = ()
    """What is said: the captions, or without them the script in such times."""


def find_script(guide: Published, ident: str) -> ScriptView | None:
    """A script by its id: the author's own, or one that is drafted for an account and a length."""
    pace, slots = fill_pace(guide.settings.pace), guide.settings.episode_slots
    episode = guide.episodes.get(ident)
    if episode is not None:
        account = find_account(guide, episode.account)
        slot = next((slot for slot in slots if slot.name == episode.kind), None)
        return make_own_script(guide, account, episode, pace, slot) if account else None
    if guide.settings.language.split("-")[0] != WRITTEN_IN:
        return None
    for slot in slots:
        account = guide.accounts.get(ident.removesuffix(f"-{slot.name}")) if ident.endswith(f"-{slot.name}") else None
        if account is not None:
            return make_drafted_script(guide, account, slot, pace)
    return None


def find_film_times(guide: Published, film: Film) -> FilmTimes:
    """What stands when in a film."""
    cues = tuple(read_cue(cue) for cue in film.cues)
    script = find_script(guide, film.script) if film.script else None
    captions = caption_view(script, cues) if script else None
    spoken = cues
    chapters = tuple(_own_chapters(film, cues))
    if captions:
        stretch = film.length / captions.marks[-1].end if not cues and film.length and captions.marks else 1.0
        spoken = cues or tuple(replace(cue, start=cue.start * stretch, end=cue.end * stretch) for cue in captions.cues)
        chapters = chapters or tuple(
            replace(mark, start=round(mark.start * stretch, 3), end=round(mark.end * stretch, 3)) for mark in captions.marks
        )
    return FilmTimes(cues, chapters, tuple(_find_marks(guide, film, spoken)), spoken)


def read_cue(cue: FilmCue) -> Cue:
    """A caption with its names as names."""
    return Cue(cue.start, cue.end, tuple(tuple(_part_names(row, cue.names)) for row in cue.text.split("\n")))


def _part_names(row: str, names: Iterable[str]) -> Iterator[Spoken]:
    rest = row
    for name in names:
        before, found, after = rest.partition(name)
        if found:
            yield from (Spoken(before), Spoken(name, is_name=True)) if before else (Spoken(name, is_name=True),)
            rest = after
    if rest:
        yield Spoken(rest)


def _own_chapters(film: Film, cues: Sequence[Cue]) -> Iterator[Chapter]:
    """The chapters that the author names; each lasts until the next one, the last until the film ends."""
    last = max((film.length, *(cue.end for cue in cues), *(chapter.start + 1 for chapter in film.chapters)))
    ends = [*(chapter.start for chapter in film.chapters[1:]), last]
    for chapter, end in zip(film.chapters, ends, strict=False):
        yield Chapter((Spoken(chapter.title),), chapter.start, end)


def _find_marks(guide: Published, film: Film, cues: Sequence[Cue]) -> Iterator[tuple[str, tuple[tuple[int, float], ...]]]:
    for ident in film.accounts:
        account = guide.accounts.get(ident)
        if account is None:
            continue
        theirs = next((one.marks for one in account.translations if one.language == film.language), ())
        said = theirs if len(theirs) == len(account.diagnostics) else tuple(mark.mark for mark in account.diagnostics)
        found = ((number, find_when_said(cues, mark.words)) for number, mark in enumerate(said, 1))
        if times := tuple((number, at) for number, at in found if at is not None):
            yield ident, times
