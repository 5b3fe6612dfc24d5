"""Copies of photos made for print, and their addresses on a page that is on its way to PDF.

A page names a picture with the pixels that it has room for, since how large it is printed is known only once all is fitted.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from PIL import Image

from guidebuild.press.photos.copies import print_width, write_picture
from guidebuild.press.photos.credit import Credit

_FOLDER = "pictures"
_NEAR = 1.05
"""A copy with so many times the pixels that are wanted, or fewer, is printed as it is."""


@dataclass(frozen=True, slots=True)
class Picture:
    """A prepared picture: the file, its size in pixels, and the credit that is written into smaller copies of it."""

    path: Path
    width: int
    height: int
    credit: Credit | None = None

    def address(self, millimetres: float) -> str:
        """Where a page finds the picture that prints it so wide, with 300 pixels an inch or as many as there are."""
        wanted = print_width(millimetres)
        return f"{_FOLDER}/{wanted if self.width > wanted * _NEAR else self.width}/{self.path.name}"

    def read(self, width: int) -> bytes:
        """The file with so many pixels across, made anew where it has more."""
        if not 0 < width < self.width:
            return self.path.read_bytes()
        with Image.open(self.path) as picture:
            size = (width, max(1, round(self.height * width / self.width)))
            smaller = picture.convert("RGB").resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
        return write_picture(smaller, "print", self.credit)


def read_picture(address: str, pictures: Mapping[str, Picture]) -> bytes | None:
    """What stands at an address; `pictures` by the names of their files. None where it is no picture's address."""
    folder, _, rest = address.partition("/")
    width, _, name = rest.partition("/")
    picture = pictures.get(name) if folder == _FOLDER else None
    return picture.read(int(width)) if picture is not None and width.isdecimal() else None


Pictures = Mapping[str, Picture]
"""Prepared pictures by photo id."""
