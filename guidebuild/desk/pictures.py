"""Copies of photos for the desk, of all that the guide has, whether or not they may be published. They stay on this machine."""

from __future__ import annotations

import io
from functools import lru_cache
from pathlib import Path

from PIL import Image, ImageOps

from guidebuild.desk.desk import Desk
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.trees import find_inside
from guidebuild.press.photos.colour import to_eight_bits
from guidebuild.press.photos.info import UNREADABLE, open_picture, own_limits, true_format

SMALL, LARGE = 320, 1600
"""Pixels of the longer side: on the contact sheet, and where one points at things."""
_COPIES_KEPT = 300


def read_copy(desk: Desk, photo_id: str, wide: int) -> bytes | None:
    """A photo as a JPEG, turned as it is to be seen; None where it is none of the guide's, or cannot be read."""
    photo = desk.guide.photos.get(photo_id) if desk.guide else None
    path = find_inside(desk.folder, photo.file) if photo else None
    if path is None or not path.is_file():
        return None
    written = path.stat()
    return _shrink(path, written.st_mtime_ns, written.st_size, LARGE if wide > SMALL else SMALL)


@lru_cache(maxsize=_COPIES_KEPT)
def _shrink(path: Path, _written: int, _size: int, wide: int) -> bytes | None:
    """A copy. When and how long the file was written is asked so that another file of the name is another copy."""
    with own_limits():
        opened = open_picture(path, path.name)
        if isinstance(opened, Problem):
            return None
        with opened as picture:
            try:
                if true_format(picture) == "JPEG":
                    picture.draft("RGB", (wide, wide))
                small = to_eight_bits(ImageOps.exif_transpose(picture)).convert("RGB")
                small.thumbnail((wide, wide), Image.Resampling.LANCZOS, reducing_gap=2.0)
            except UNREADABLE:
                return None
    out = io.BytesIO()
    small.save(out, "JPEG", quality=82)
    return out.getvalue()
