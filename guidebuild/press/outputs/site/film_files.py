"""Files of films on the site: the film itself without all that tells, its captions and its chapters."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.guide.films import Film
from guidebuild.press.engine.digest import digest, digest_file
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.engine.toolchain import digest_tools
from guidebuild.press.media import cleaning
from guidebuild.speech.caption_files import write_webvtt
from guidebuild.speech.cues import Cue
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.films import film_view, times_of
from guidebuild.views.site.page import PageNote


def publish_films(guide: Published, folder: Path, files: Files, problems: Problems) -> tuple[tuple[str, int], ...]:
    """Put the films of a guide beside its pages; the path of each with its bytes. One that cannot be made clean is left out, and told."""
    return tuple(_publish(guide, folder, files, problems))


def _publish(guide: Published, folder: Path, files: Files, problems: Problems) -> Iterator[tuple[str, int]]:
    tools = digest_tools(cleaning.__name__)
    for film, path in list_film_paths(guide):
        try:
            key = digest("film", digest_file(folder / film.file), tools)
        except OSError as error:
            problems.tell(Problem("not-readable", film.file, f"the film cannot be read: {error.strerror}"))
            continue
        if not files.keep((path,), key):
            cleaned = cleaning.clean_media(folder / film.file, film.file)
            if isinstance(cleaned, Problem):
                problems.tell(cleaned)
                continue
            files.add(path, cleaned, key=key, where=film.file)
        if found := files.find(path):
            for name, text in _captions_of(guide, film).items():
                files.add(name, text)
            yield path, found.path.stat().st_size


def list_film_paths(guide: Published) -> Iterator[tuple[Film, str]]:
    """Films of which the guide holds the file, with the path of each from the site's root."""
    make = make_pieces(guide, guide.settings.language)
    yield from ((film, view.file) for film in guide.films.values() if (view := film_view(make, film)).file)


def caption_files(guide: Published) -> dict[str, bytes]:
    """The captions and chapters of all films that play here (W3C WebVTT), by their paths from the site's root."""
    return {path: text for film in guide.films.values() for path, text in _captions_of(guide, film).items()}


def _captions_of(guide: Published, film: Film) -> dict[str, bytes]:
    make = make_pieces(guide, guide.settings.language)
    view, times = film_view(make, film), times_of(make, film)
    written: dict[str, bytes] = {}
    if view.captions:
        written[view.captions] = write_webvtt(times.cues).encode()
    if view.chapter_file:
        written[view.chapter_file] = write_webvtt(Cue(one.start, one.end, (one.title,)) for one in times.chapters).encode()
    return written


def find_sizes(films: Iterable[tuple[str, int]], note: PageNote) -> tuple[tuple[str, int], ...]:
    """The films that a page shows or leads to, with their bytes."""
    base = note.page.site.base
    return tuple((path, size) for path, size in films if f"{base}{path.rpartition('.')[0]}.html" in note.links)
