"""Photos for print: each at 300 pixels an inch of the largest box it will stand in, kept as files beside the store."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from pathlib import Path

from guidebuild.guide.records import Photo
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.jobs import Job
from guidebuild.press.engine.staging import WORKSHOP
from guidebuild.press.photos.info import PictureInfo, picture_info
from guidebuild.press.photos.jobs import copies_of, photo_job, photos_with_files, recipe_for
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.run import Run

Box = tuple[int, int]
"""Width and height in pixels."""


def print_pictures(run: Run, boxes: Mapping[str, Box]) -> Mapping[str, tuple[str, Picture]]:
    """Print copies of photos by photo id: a digest of the copy, and the copy; photos that cannot be used are left out."""
    folder = run.folder / WORKSHOP / "print"
    folder.mkdir(parents=True, exist_ok=True)
    wanted = list(_jobs(run, boxes))
    jobs = {job.key: photo for photo, job in wanted}
    found: dict[str, tuple[str, Picture]] = {}
    for result in run.do(job for _, job in wanted):
        for copy in copies_of(result.made):
            name = digest(copy.data)
            found[jobs[result.job.key].id] = (name, Picture(_kept(folder / f"{name}.jpg", copy.data), copy.width, copy.height))
    return found


def _jobs(run: Run, boxes: Mapping[str, Box]) -> Iterator[tuple[Photo, Job]]:
    for photo, path in photos_with_files(run.guide, run.folder, list(boxes)):
        try:
            info = picture_info(path, photo.file)
            if isinstance(info, PictureInfo):
                width = _width(info, boxes[photo.id])
                yield photo, photo_job(photo, path, replace(recipe_for(run.guide, photo, "print"), widths=(width,)), run.store)
        except OSError:
            continue


def _width(info: PictureInfo, box: Box) -> int:
    """Pixels across so that the whole picture fills the box at full resolution and no more."""
    return max(1, min(box[0], round(box[1] * info.width / info.height)))


def _kept(path: Path, data: bytes) -> Path:
    if not path.is_file():
        coming = path.with_suffix(".coming")
        coming.write_bytes(data)
        coming.replace(path)
    return path.resolve()
