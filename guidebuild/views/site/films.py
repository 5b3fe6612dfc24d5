"""Films on the site: beside their species, each on a page of its own, and all of them on a list."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from urllib.parse import urlsplit

from guidebuild.fieldwork.public_records import PublicAccount
from guidebuild.fieldwork.published import Published
from guidebuild.guide.asking import remember
from guidebuild.guide.films import Film
from guidebuild.guide.media_types import FILM_TYPES
from guidebuild.speech.cues import Cue
from guidebuild.speech.script import Spoken, join_text
from guidebuild.speech.timing import write_clock
from guidebuild.views.pieces.common import NO_WORDS, LinkView, MarkView, PhotoView, Wording
from guidebuild.views.pieces.credits import Attribution
from guidebuild.views.pieces.links import film_path
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.scripts.film_times import FilmTimes, find_film_times

FILMS = "films/index.html"
_PARAGRAPH = 320
"""Signs after which a paragraph of a transcript ends with the next sentence."""
_STOPS = (".", "!", "?", "…")


@dataclass(frozen=True, slots=True)
class ChapterView:
    """A chapter: from which second to which, the clock of its start, its title."""

    start: float
    end: float
    clock: str
    title: tuple[Spoken, ...]

    @property
    def words(self) -> str:
        """Its title as plain text."""
        return join_text(self.title)


@dataclass(frozen=True, slots=True)
class MarkTime:
    """A mark of a species, and when it is spoken of."""

    mark: MarkView
    start: float
    clock: str


@dataclass(frozen=True, slots=True)
class SpeciesInFilm:
    """A species that a film shows, and when its marks are spoken of."""

    link: LinkView
    marks: tuple[MarkTime, ...]


@dataclass(frozen=True, slots=True)
class CueView:
    """One caption, as a piece of a transcript."""

    start: float
    end: float
    words: tuple[Spoken, ...]


@dataclass(frozen=True, slots=True)
class ParagraphView:
    """Some captions that are read as one paragraph, and when it begins."""

    clock: str
    start: float
    cues: tuple[CueView, ...]


@dataclass(frozen=True, slots=True)
class FilmView:
    """A film. Its files are paths from the site's root, empty where it has none here; `host` is where its address leads.

    `language` is the language of title, note and credit, `spoken` that of captions and chapters, where they are not the page's.
    """

    id: str
    title: str
    link: LinkView
    address: str = ""
    host: str = ""
    file: str = ""
    type: str = ""
    captions: str = ""
    chapter_file: str = ""
    day: dt.date | None = None
    when: str = ""
    seconds: float = 0.0
    length: str = ""
    kind: str = ""
    language: str = ""
    spoken: str = ""
    spoken_in: str = ""
    still: PhotoView | None = None
    attribution: Attribution | None = None
    note: Wording = NO_WORDS
    chapters: tuple[ChapterView, ...] = ()
    species: tuple[SpeciesInFilm, ...] = ()
    transcript: tuple[ParagraphView, ...] = ()


@dataclass(frozen=True, slots=True)
class FilmPage:
    """The page of a film."""

    film: FilmView


@dataclass(frozen=True, slots=True)
class FilmsPage:
    """All films, the newest first."""

    films: tuple[FilmView, ...]


def list_films(guide: Published) -> tuple[Film, ...]:
    """All films, the newest first; those without a day at the end, in the order of the file."""
    return tuple(sorted(guide.films.values(), key=lambda film: film.day or dt.date.min, reverse=True))


def film_link(make: PieceMaker, film: Film) -> LinkView:
    """The page of a film."""
    return LinkView(make.map.page(film_path(film.id)), film.title, note=make.words.date(film.day) if film.day else "")


def times_of(make: PieceMaker, film: Film) -> FilmTimes:
    """What stands when in a film, worked out once for all pages that show it."""
    return remember(make.kept, ("film times", film.id), lambda: find_film_times(make.guide, film))


def films_of_account(make: PieceMaker, account: PublicAccount) -> tuple[FilmView, ...]:
    """The films that show a species, the newest first; before all others the newest of those that play on the page itself."""
    shown = [film_view(make, film) for film in list_films(make.guide) if account.id in film.accounts]
    lead = next((film for film in shown if film.file), None)
    return tuple(sorted(shown, key=lambda film: film is not lead))


def film_view(make: PieceMaker, film: Film) -> FilmView:
    """A film as its own page and those of its species show it."""
    return remember(make.kept, ("film", film.id), lambda: _view(make, film))


def _view(make: PieceMaker, film: Film) -> FilmView:
    times, spoken = times_of(make, film), film.language or make.main
    ending = film.file[film.file.rfind(".") :].lower() if film.file else ""
    chapters = tuple(ChapterView(one.start, one.end, write_clock(one.start), one.title) for one in times.chapters)
    last = max((cue.end for cue in times.cues), default=0.0)
    seconds = film.length or last
    return FilmView(
        id=film.id,
        title=film.title,
        link=film_link(make, film),
        address=film.address,
        host=(urlsplit(film.address).hostname or "").removeprefix("www."),
        file=f"films/{film.id}{ending}" if film.file else "",
        type=FILM_TYPES.get(ending, ""),
        captions=f"films/{film.id}.vtt" if film.file and times.cues else "",
        chapter_file=f"films/{film.id}.chapters.vtt" if film.file and chapters else "",
        day=film.day,
        when=make.words.date(film.day) if film.day else "",
        seconds=seconds,
        length=write_clock(seconds) if seconds else "",
        kind=film.kind,
        language=make.foreign,
        spoken=spoken if spoken != make.language else "",
        spoken_in=spoken,
        still=_still(make, film),
        attribution=Attribution(film.credit, licence=make.licence(film.licence)) if film.credit else None,
        note=make.word(film.note),
        chapters=chapters,
        species=tuple(_species(make, film, times)),
        transcript=_paragraphs(times.cues, [chapter.start for chapter in chapters]),
    )


def _still(make: PieceMaker, film: Film) -> PhotoView | None:
    """The picture that stands for a film: its own, else the plate of its first species."""
    if film.still in make.guide.photos:
        return make.photo(make.guide.photos[film.still])
    shown = (make.plate(make.guide.accounts[account]) for account in film.accounts if account in make.guide.accounts)
    return next((plate for plate in shown if plate), None)


def _species(make: PieceMaker, film: Film, times: FilmTimes) -> Iterable[SpeciesInFilm]:
    said = dict(times.marks)
    for ident in film.accounts:
        account = make.guide.accounts.get(ident)
        if account is not None:
            marks = {mark.number: mark for mark in make.marks(account)}
            found = tuple(MarkTime(marks[number], at, write_clock(at)) for number, at in said.get(ident, ()) if number in marks)
            yield SpeciesInFilm(make.map.account(account), found)


def _paragraphs(cues: Sequence[Cue], starts: Sequence[float]) -> tuple[ParagraphView, ...]:
    """The captions as paragraphs: a new one with each chapter, and after a sentence once there is enough."""
    paragraphs: list[list[Cue]] = []
    for cue in cues:
        open_one = paragraphs[-1] if paragraphs else []
        length = sum(len(one.text) for one in open_one)
        is_full = length > _PARAGRAPH and open_one[-1].text.endswith(_STOPS)
        begins = bool(open_one) and any(open_one[-1].start < start <= cue.start for start in starts)
        if not open_one or is_full or begins:
            paragraphs.append([cue])
        else:
            open_one.append(cue)
    return tuple(
        ParagraphView(write_clock(said[0].start), said[0].start, tuple(CueView(cue.start, cue.end, cue.words) for cue in said))
        for said in paragraphs
    )


def film_page(make: PieceMaker, film: Film) -> FilmPage:
    """The page of one film."""
    return FilmPage(film_view(make, film))


def films_page(make: PieceMaker) -> FilmsPage:
    """The list of all films."""
    return FilmsPage(tuple(film_view(make, film) for film in list_films(make.guide)))
