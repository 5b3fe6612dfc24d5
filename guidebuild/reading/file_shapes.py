"""Which shape each of a guide's files has, by its name."""

from __future__ import annotations

from collections.abc import Mapping

from pydantic import BaseModel

from guidebuild.reading.account_shape import AccountShape, EpisodeShape, OwnSlidesShape, TranslationShape
from guidebuild.reading.film_shape import FilmShape
from guidebuild.reading.folder import TRANSLATION
from guidebuild.reading.kinds import Shape
from guidebuild.reading.record_shapes import CharacterShape, Listed, PhotoShape, PlaceShape, PlantShape, SourceShape, TermShape, WalkShape
from guidebuild.reading.settings_shape import SettingsShape
from guidebuild.reading.sighting_words import FILE as WORDS
from guidebuild.reading.sighting_words import SightingWordsShape
from guidebuild.reading.sound_shape import SoundShape

LIST_FILES: Mapping[str, tuple[str, type[Shape]]] = {
    "plants.yaml": ("plant", PlantShape),
    "places.yaml": ("place", PlaceShape),
    "characters.yaml": ("character", CharacterShape),
    "glossary.yaml": ("term", TermShape),
    "sources.yaml": ("source", SourceShape),
    "photos.yaml": ("photo", PhotoShape),
    "films.yaml": ("film", FilmShape),
    "sounds.yaml": ("sound", SoundShape),
}
"""The kind of the records of a list file, and their shape."""
_SINGLE: Mapping[str, type[BaseModel]] = {"guide.yaml": SettingsShape, WORDS: SightingWordsShape}
_FOLDERS: Mapping[tuple[str, str], type[Shape]] = {
    ("accounts", ".md"): AccountShape,
    ("episodes", ".md"): EpisodeShape,
    ("posts", ".md"): OwnSlidesShape,
    ("walks", ".yaml"): WalkShape,
}


def shape_of_file(file: str) -> type[BaseModel] | None:
    """The shape of all that a file says in YAML; None where the file is none that a guide is read from."""
    if file in LIST_FILES:
        return Listed[LIST_FILES[file][1]]  # type: ignore[misc, return-value]  # made as it is asked for
    if file in _SINGLE:
        return _SINGLE[file]
    folder, _, name = file.partition("/")
    found = next((shape for (home, ending), shape in _FOLDERS.items() if folder == home and name.endswith(ending)), None)
    if not name or "/" in name or found is None:
        return None
    return TranslationShape if found is AccountShape and TRANSLATION.fullmatch(name.removesuffix(".md")) else found
