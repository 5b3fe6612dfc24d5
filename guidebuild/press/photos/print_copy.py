"""Copies of photos made for print, and their addresses on a page that is on its way to PDF.

A page names a picture with the pixels that it has room for, since how large it is printed is known only once all is fitted.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from math import ceil
from pathlib import Path

from PIL import Image

from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.encoding import write_picture

_FOLDER = "pictures"
_ADDRESS = re.compile(
    r"pictures/(?P<width>\d{1,6})/(?:(?P<left>\d+)\.(?P<top>\d+)\.(?P<right>\d+)\.(?P<bottom>\d+)/)?(?P<name>[^/]+)", re.ASCII
)
_FINE = 10_000
"""Steps in which an address says what part of a picture it means."""
_FINER = 2.0
"""How many times finer than a much smaller copy is, at the least, what it is made of (what Pillow takes for its own thumbnails)."""
_NEAR = 1.05
"""A copy with so many times the pixels that are wanted, or fewer, is printed as it is."""

_SMALL = 400
"""Pixels across up to which a cut part is kept: some ten kilobytes each."""


@dataclass(frozen=True, slots=True)
class Part:
    """A part of a picture, by shares of its width and height from the upper left corner."""

    left: float
    top: float
    right: float
    bottom: float


@dataclass(frozen=True, slots=True)
class Picture:
    """A prepared picture: the file, its size in pixels, and the credit that is written into smaller copies of it."""

    path: Path
    width: int
    height: int
    credit: Credit | None = None
    near: Path | None = None
    """The same with hardly a loss, where it may be with more pixels: smaller copies and enlarged parts are made of it."""
    near_width: int = 0

    def address(self, millimetres: float) -> str:
        """Where a page finds the picture that prints it so wide, with 300 pixels an inch or as many as there are."""
        wanted = print_width(millimetres)
        return self.address_at(wanted if self.width > wanted * _NEAR else self.width)

    def address_at(self, width: int) -> str:
        """Where a page finds the picture with so many pixels across."""
        return f"{_FOLDER}/{width}/{self.path.name}"

    def cut_address(self, part: Part, millimetres: float) -> str:
        """Where a page finds a part of the picture that is printed so wide."""
        there = max(self.width, self.near_width) * (part.right - part.left)
        steps = ".".join(str(round(edge * _FINE)) for edge in (part.left, part.top, part.right, part.bottom))
        return f"{_FOLDER}/{max(1, round(min(there, print_width(millimetres))))}/{steps}/{self.path.name}"

    def cut(self, part: Part, width: int) -> bytes:
        """A part of the picture with so many pixels across, from the copy that has most."""
        return _small_cut(self, part, width) if width <= _SMALL else self._cut(part, width)

    def _cut(self, part: Part, width: int) -> bytes:
        with self._open(width / (part.right - part.left)) as picture:
            wide, high = picture.size
            box = (round(part.left * wide), round(part.top * high), round(part.right * wide), round(part.bottom * high))
            bare = picture.convert("RGB").crop(box)
        if width < bare.width:
            size = (width, max(1, round(bare.height * width / bare.width)))
            bare = bare.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
        return write_picture(bare, "print", self.credit)

    def read(self, width: int) -> bytes:
        """The file with so many pixels across, made anew where it has more."""
        if not 0 < width < self.width:
            return self.path.read_bytes()
        with self._open(width) as picture:
            size = (width, max(1, round(self.height * width / self.width)))
            smaller = picture.convert("RGB").resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0)
        return write_picture(smaller, "print", self.credit)

    def _open(self, width: float) -> Image.Image:
        """The copy that has most, read no finer than a much smaller one needs: a JPEG can be read at a half, a quarter or an eighth."""
        picture = Image.open(self.near or self.path)
        picture.draft("RGB", (ceil(width * _FINER), 1))
        return picture


@lru_cache(maxsize=256)
def _small_cut(picture: Picture, part: Part, width: int) -> bytes:
    """A species has a small picture on the card of each of its look-alikes; files are named by what is in them and never change."""
    return picture._cut(part, width)


def read_picture(address: str, pictures: Mapping[str, Picture]) -> bytes | None:
    """What stands at an address; `pictures` by the names of their files. None where it is no picture's address."""
    found = _ADDRESS.fullmatch(address)
    picture = pictures.get(found["name"]) if found else None
    if found is None or picture is None:
        return None
    if found["left"] is None:
        return picture.read(int(found["width"]))
    part = Part(*(int(found[edge]) / _FINE for edge in ("left", "top", "right", "bottom")))
    inside = part.left < part.right <= 1 and part.top < part.bottom <= 1
    return picture.cut(part, int(found["width"])) if inside and int(found["width"]) else None


Pictures = Mapping[str, Picture]
"""Prepared pictures by photo id."""
