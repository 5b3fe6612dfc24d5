"""Copies of photos for pages that are on show while their author writes: known at once, made when a browser asks for one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from threading import Lock

from guidebuild.fieldwork.public_records import PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.jobs import Job
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.photos.copies import expect_sizes
from guidebuild.press.photos.copying import PhotoWork, copies_of, make_copies
from guidebuild.press.photos.info import PictureInfo, picture_info
from guidebuild.press.photos.jobs import PICTURE, photos_with_files, picture_set, published_name, recipe_for, set_of_sizes
from guidebuild.press.photos.maker import note_key
from guidebuild.press.photos.published_set import PictureSet


@dataclass(frozen=True, slots=True)
class _Known:
    """A photo's copies as they are or will be, and the work that makes them."""

    photo: PublicPhoto
    job: Job[PhotoWork]
    pictures: PictureSet


class PicturesOnRequest:
    """The copies of a guide's photos for the site. Several threads may ask; one picture is made at a time."""

    def __init__(self, folder: Path, bench: Workbench, place: str) -> None:
        """`place` is the folder of the site that holds them."""
        self._folder = folder
        self._bench = bench
        self._place = place
        self._known: dict[str, _Known] = {}
        self._by_path: dict[str, _Known] = {}
        self._making = Lock()

    def list_sets(self, guide: Published, wanted: Iterable[str]) -> dict[str, tuple[PictureSet, str]]:
        """Copies by photo id, each with a mark that is another when the photo or anything of its making is another."""
        found: dict[str, tuple[PictureSet, str]] = {}
        for photo, path in photos_with_files(guide, self._folder, wanted):
            known = self._find(guide, photo, path)
            if known is not None:
                found[photo.id] = known.pictures, known.job.key
        return found

    def read(self, path: str) -> bytes | None:
        """The bytes of a copy, by its path from the site's root; None where no page that was listed shows it."""
        known = self._by_path.get(path)
        if known is None:
            return None
        with self._making:
            made = next(iter(self._bench.do([known.job]))).made
        self._bench.problems.tell(*made.problems)
        self._bench.store.put(note_key(known.job.key), Made(made.parts[:1], made.problems))
        copies = ((published_name(known.photo.id, copy.encoding, copy.width, self._place), copy.data) for copy in copies_of(made))
        return next((data for name, data in copies if name == path), None)

    def _find(self, guide: Published, photo: PublicPhoto, path: Path) -> _Known | None:
        try:
            work = PhotoWork(path, recipe_for(guide, photo, "site"), photo.file)
            job = self._bench.job(PICTURE, make_copies, work, where=f"photo {photo.id}")
            known = self._known.get(photo.id)
            if known is None or known.job.key != job.key:
                known = self._look_at(photo, path, job)
        except OSError as error:
            self._bench.problems.tell(Problem("not-readable", photo.file, f"the photo cannot be read: {error.strerror}"))
            return None
        if known is not None:
            self._known[photo.id] = known
            self._by_path |= {variant.path: known for variant in known.pictures.variants}
        return known

    def _look_at(self, photo: PublicPhoto, path: Path, job: Job[PhotoWork]) -> _Known | None:
        """The copies as they were made before, or as they will be."""
        note = self._bench.store.get(note_key(job.key))
        made = picture_set(photo.id, note, self._place) if note else None
        if made is not None:
            return _Known(photo, job, made)
        info = picture_info(path, photo.file)
        if not isinstance(info, PictureInfo):
            self._bench.problems.tell(info)
            return None
        return _Known(photo, job, set_of_sizes(photo.id, expect_sizes(info.width, info.height, job.payload.recipe), self._place))
