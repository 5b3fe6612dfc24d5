"""The pictures that an output asks for: copies of the guide's photos, made once and put beside its files or kept for print."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

from guidebuild.fieldwork.public_records import PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Job, Result
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.photos.copies import Recipe, expect_sizes
from guidebuild.press.photos.copying import MadeCopy, PhotoWork, copies_of, make_copies
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.info import PictureInfo, picture_info
from guidebuild.press.photos.jobs import PICTURE, photos_with_files, picture_set, published_name, recipe_for, set_of_sizes
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.photos.published_set import PictureSet

Box = tuple[int, int]
"""Width and height in pixels."""
_NEARER = 2.5
"""So many times as wide is the copy from which close-ups are cut, as most enlarge two to three times."""


class PrintCopies:
    """Has copies of photos made for print."""

    def __init__(self, guide: Published, folder: Path, workbench: Workbench) -> None:
        self._guide = guide
        self._folder = folder
        self._workbench = workbench

    def make_prints(self, boxes: Mapping[str, Box], *, near: Collection[str] = ()) -> Mapping[str, Picture]:
        """Copies of photos for print by photo id, each at 300 pixels an inch of the largest box it will stand in.

        Of those that are shown from `near` by there is a copy with more pixels too, as far as the photo has them.

        They are kept as files beside the store. Photos that cannot be used are left out.
        """
        folder = self._folder / WORKSHOP / "print"
        folder.mkdir(parents=True, exist_ok=True)
        wanted = list(self._print_jobs(boxes, near))
        made = {result.job.key: result.made for result in self._workbench.do(job for _, job in wanted)}
        copies = ((photo, job, tuple(copies_of(made[job.key]))) for photo, job in wanted)
        return {photo.id: _picture(folder, each, job.payload.recipe.credit) for photo, job, each in copies if each}

    def _job(self, photo: PublicPhoto, path: Path, recipe: Recipe) -> Job[PhotoWork]:
        return self._workbench.job(PICTURE, make_copies, PhotoWork(path, recipe, photo.file), where=f"photo {photo.id}")

    def _print_jobs(self, boxes: Mapping[str, Box], near: Collection[str]) -> Iterator[tuple[PublicPhoto, Job[PhotoWork]]]:
        for photo, path in photos_with_files(self._guide, self._folder, list(boxes)):
            try:
                info = picture_info(path, photo.file)
                if isinstance(info, PictureInfo):
                    fit = _fit_width(info, boxes[photo.id])
                    most = min(info.width, round(fit * _NEARER)) if photo.id in near else fit
                    recipe = replace(recipe_for(self._guide, photo, "print"), widths=(most,), jpeg_widths=(fit,))
                    yield photo, self._job(photo, path, recipe)
            except OSError as error:
                self._tell_unreadable(photo, error)

    def _tell_unreadable(self, photo: PublicPhoto, error: OSError) -> None:
        self._workbench.problems.tell(Problem("not-readable", photo.file, f"the photo cannot be read: {error.strerror}"))


class PictureMaker(PrintCopies):
    """Has copies of photos made for one output, beside its files too."""

    def __init__(self, guide: Published, folder: Path, workbench: Workbench, files: Files) -> None:
        super().__init__(guide, folder, workbench)
        self._files = files

    def find_originals(self, wanted: Iterable[str]) -> Mapping[str, Path]:
        """The files of photos by photo id; photos that may not be published are left out."""
        return {photo.id: path for photo, path in photos_with_files(self._guide, self._folder, wanted)}

    def publish_copies(self, purpose: str, wanted: Iterable[str], folder: str) -> Mapping[str, PictureSet]:
        """Copies of photos for a purpose, by photo id, put into a folder of the output."""
        sets: dict[str, PictureSet] = {}
        jobs: dict[str, tuple[list[PublicPhoto], Job[PhotoWork]]] = {}  # one file under two ids is one job
        for photo, path in photos_with_files(self._guide, self._folder, wanted):
            try:
                job = self._job(photo, path, recipe_for(self._guide, photo, purpose))
            except OSError as error:
                self._tell_unreadable(photo, error)
                continue
            kept = self._kept_set(photo, job, folder)
            if kept:
                sets[photo.id] = kept
                self._workbench.progress.advance(job.craft)
            else:
                jobs.setdefault(job.key, ([], job))[0].append(photo)
        for result in self._workbench.do(job for _, job in jobs.values()):
            self._workbench.problems.tell(*result.made.problems)
            for photo in jobs[result.job.key][0]:
                made = self._publish_set(photo, result, folder)
                if made:
                    sets[photo.id] = made
        return sets

    def expect_copies(self, purpose: str, wanted: Iterable[str], folder: str) -> Mapping[str, PictureSet]:
        """The copies as `publish_copies` makes them for a purpose, known by the size of the photo alone; none is made."""
        sets = {}
        for photo, path in photos_with_files(self._guide, self._folder, wanted):
            with suppress(OSError):  # who publishes it tells
                info = picture_info(path, photo.file)
                if isinstance(info, PictureInfo):
                    recipe = recipe_for(self._guide, photo, purpose)
                    sets[photo.id] = set_of_sizes(photo.id, expect_sizes(info.width, info.height, recipe), folder)
        return sets

    def _kept_set(self, photo: PublicPhoto, job: Job[PhotoWork], folder: str) -> PictureSet | None:
        """The set as it was published last time, without reading its bytes."""
        note = self._workbench.store.get(note_key(job.key))
        if note is None:
            return None
        known = picture_set(photo.id, note, folder)
        if known is None or not self._files.keep([variant.path for variant in known.variants], job.key):
            return None
        self._workbench.problems.tell(*note.problems)
        return known

    def _publish_set(self, photo: PublicPhoto, result: Result, folder: str) -> PictureSet | None:
        published = picture_set(photo.id, result.made, folder)
        if published is None:
            return None
        for copy in copies_of(result.made):
            path = published_name(photo.id, copy.encoding, copy.width, folder)
            self._files.add(path, copy.data, key=result.job.key, where=photo.file)
        # What is known of the copies alone, so that the next run need not read their bytes.
        self._workbench.store.put(note_key(result.job.key), Made(result.made.parts[:1], result.made.problems))
        return published


def note_key(key: str) -> str:
    """Under which key the store keeps what is known of a photo's copies, without their bytes; `key` is that of their job."""
    return digest("copies noted", key)


def _fit_width(info: PictureInfo, box: Box) -> int:
    """Pixels across so that the whole picture fills the box at full resolution and no more."""
    return max(1, min(box[0], round(box[1] * info.width / info.height)))


def _picture(folder: Path, copies: Sequence[MadeCopy], credit: Credit | None) -> Picture:
    """A picture of its copies: the last is printed as it is, of the first smaller ones and close-ups are made."""
    finest, fit = (_kept(folder / f"{digest(copy.data)}.jpg", copy.data) for copy in (copies[0], copies[-1]))
    return Picture(fit, copies[-1].width, copies[-1].height, credit, finest, copies[0].width)


def _kept(path: Path, data: bytes) -> Path:
    if not path.is_file():
        coming = path.with_suffix(".coming")
        coming.write_bytes(data)
        coming.replace(path)
    return path.resolve()
