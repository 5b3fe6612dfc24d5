"""The output `data`: checklist and dates seen as CSV, facts and sightings as Darwin Core archives, for others to use."""

from __future__ import annotations

from guidebuild.fieldwork.published import Published
from guidebuild.press.data_files import data_files
from guidebuild.press.engine.files import Files
from guidebuild.press.photos.maker import PictureMaker


def publish_data(guide: Published, files: Files, pictures: PictureMaker) -> None:
    """Everything under data/."""
    for name, data in data_files(guide, pictures.expect_copies("site", guide.photos, "photos")).items():
        files.add(name, data)
