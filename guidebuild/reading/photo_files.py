"""Photos of photos.yaml matched with the files on disk, however their accents were composed."""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from dataclasses import replace
from pathlib import PurePosixPath

from guidebuild.guide.records import Photo
from guidebuild.reading.folder import same_name
from guidebuild.reading.notes import Notes


def match_photos(photos: Mapping[str, Photo], pictures: tuple[str, ...], notes: Notes) -> Mapping[str, Photo]:
    """The photos with their files as spelt on disk. A file that is not there is left as typed, for the checks to tell."""
    return _Matcher(pictures, notes).all(photos)


class _Matcher:
    """Finds the file that a photo means."""

    def __init__(self, pictures: tuple[str, ...], notes: Notes) -> None:
        self._notes = notes
        self._exact = frozenset(pictures)
        self._composed = {unicodedata.normalize("NFC", file): file for file in pictures}
        self._folded = {same_name(file): file for file in pictures}
        self._stems = {same_name(file.rpartition(".")[0]): file for file in pictures}

    def all(self, photos: Mapping[str, Photo]) -> Mapping[str, Photo]:
        used: dict[str, str] = {}
        matched: dict[str, Photo] = {}
        for key, photo in photos.items():
            file = self._file(photo)
            if file in used:
                self._notes.add("duplicate-id", f"The photos '{used[file]}' and '{key}' are the same file {file}.", photo.at)
            used.setdefault(file, key)
            matched[key] = photo if file == photo.file else replace(photo, file=file)
        return matched

    def _file(self, photo: Photo) -> str:
        wanted = photo.file.replace("\\", "/").removeprefix("./")
        path = PurePosixPath(wanted)
        if path.is_absolute() or ".." in path.parts or ":" in wanted:
            self._notes.add("outside-guide", f"The file '{photo.file}' is not in the guide's folder.", photo.at)
            return wanted
        if not wanted.startswith("photos/"):
            wanted = f"photos/{wanted}"
        if wanted in self._exact:
            return wanted
        composed = unicodedata.normalize("NFC", wanted)
        if composed in self._composed:
            return self._composed[composed]
        if same_name(wanted) in self._folded:
            found = self._folded[same_name(wanted)]
            self._notes.add("photo-capitals", f"The file is called {found}, not {wanted}.", photo.at, mend=f"Write {found}.")
            return found
        if photo.file == f"photos/{photo.id}.jpg":
            return self._stems.get(same_name(f"photos/{photo.id}"), wanted)
        return wanted
