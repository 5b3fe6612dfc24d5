"""Films of films.yaml with what stands beside them in files: the film itself, and its captions."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Protocol, TypeVar

from guidebuild.guide.films import Film, FilmChapter, FilmCue, FilmFact
from guidebuild.guide.findings import At
from guidebuild.later import imported_when_used
from guidebuild.reading.block import Block
from guidebuild.reading.build_record import build_record
from guidebuild.reading.film_shape import FilmShape, SaidShape
from guidebuild.reading.folder import FILM_ENDINGS, Folder, same_name
from guidebuild.reading.named_files import NamedFile, find_named_file, places_of_filled
from guidebuild.reading.notes import Notes
from guidebuild.reading.shaping import read_shape
from guidebuild.reading.text_file import read_text
from guidebuild.reading.yaml_text import read_block

with imported_when_used():  # the library for captions: most guides have no film
    from guidebuild.speech import caption_files

T = TypeVar("T")
FILE = "films.yaml"
_CODES = ("film-file-missing", "film-file-kind")
_CAPTION_FOLDERS = ("films", "takes")
_CAPTION_ENDINGS = (".vtt", ".srt")
_LARGEST = 5_000_000


class Recall(Protocol):
    """Gives what was read of a file before, or what is read of it now."""

    def __call__(self, file: str, read: Callable[[], T]) -> T:
        """What was read of the file."""


def said_file(film: str) -> str:
    """The file in which it is noted what a film says, by the film's id."""
    return f"films/{film}.said.yaml"


def build_film(key: str, shape: FilmShape, block: Block) -> Film:
    """A film as its entry has it; its files are matched with the disk afterwards."""
    chapters = tuple(FilmChapter(start, title, block.at(key, "chapters", n)) for n, (start, title) in enumerate(shape.chapters))
    return build_record(Film, shape, block, key, id=key, chapters=chapters)


def match_films(films: Mapping[str, Film], folder: Folder, recall: Recall, notes: Notes) -> Mapping[str, Film]:
    """The films with their files as spelt on disk and the cues of their captions. What is not there is a finding."""
    if not films:
        return films
    known = {same_name(file): file for file in folder.files}
    return {key: _match(film, known, folder.root, recall, notes) for key, film in films.items()}


def _match(film: Film, known: Mapping[str, str], root: Path, recall: Recall, notes: Notes) -> Film:
    owner = f"the film “{film.id}”"
    file = find_named_file(film.file, NamedFile("file", film.where("file"), owner, _CODES, ("films",), FILM_ENDINGS), known, notes)
    wanted = NamedFile("captions", film.where("captions"), owner, _CODES, _CAPTION_FOLDERS, _CAPTION_ENDINGS)
    captions = find_named_file(film.captions, wanted, known, notes)
    cues = recall(captions, lambda: _read_cues(root, captions, notes)) if captions else ()
    said = said_file(film.id)
    noted = recall(said, lambda: _read_said(root, said, notes)) if said in known.values() else None
    places = places_of_filled(film.positions, "file", film.file)
    filled = replace(film, file=file, captions=captions, cues=cues, positions=places)
    return replace(filled, said=noted[1], noted=noted[0]) if noted else filled


def _read_cues(root: Path, file: str, notes: Notes) -> tuple[FilmCue, ...]:
    """The cues of a captions file; what cannot be read is a finding."""
    path = root / file
    try:
        if path.stat().st_size > _LARGEST:
            notes.add("file-too-large", f"{file} is larger than {_LARGEST // 1_000_000} MB.", At(file))
            return ()
        data = path.read_bytes()
    except OSError as trouble:
        notes.add("file-not-readable", f"{file} cannot be opened: {trouble.strerror}.", At(file))
        return ()
    read = caption_files.read_captions(data, file=file)
    notes.extend(read.findings)
    return tuple(
        FilmCue(cue.start, cue.end, cue.text, tuple(one.text for row in cue.rows for one in row if one.is_name), At(file, cue.line + 1))
        for cue in read.cues
    )


def _read_said(root: Path, file: str, notes: Notes) -> tuple[dt.date, tuple[FilmFact, ...]] | None:
    """What a film said on its day, and that day."""
    text = read_text(root / file, file, notes)
    block = read_block(text, file, notes) if text is not None else None
    shape = read_shape(block, SaidShape, notes) if block else None
    if block is None or shape is None:
        return None
    facts = (build_record(FilmFact, fact, block, "says", n, at=block.at("says", n)) for n, fact in enumerate(shape.says))
    return shape.noted, tuple(facts)
