"""How large a photo is, read from its head alone, and why a file is not opened.  Never when or where it was taken."""

from __future__ import annotations

import struct
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from io import BytesIO
from pathlib import Path, PurePath
from warnings import catch_warnings, simplefilter

import pi_heif
from PIL import ExifTags, Image, ImageFile, UnidentifiedImageError

from guidebuild.press.engine.problems import Problem

pi_heif.register_heif_opener()

FORMATS = ("JPEG", "PNG", "WEBP", "AVIF", "HEIF", "TIFF", "GIF", "BMP")
"""What is opened.  Others stay closed: some run programs of the machine to draw themselves."""
LARGEST_PIXELS = {"JPEG": 210_000_000}
"""JPEG is shrunk while it is decoded, so the largest phone pictures (200 megapixels) fit in memory."""
LARGEST_PIXELS_OTHERWISE = 100_000_000
LARGEST_BYTES = 250_000_000

UNREADABLE = (
    OSError,
    SyntaxError,
    ValueError,
    TypeError,
    LookupError,
    AttributeError,
    ArithmeticError,
    RuntimeError,
    MemoryError,
    EOFError,
    struct.error,
)
"""All that Pillow's readers are known to raise on damaged files."""

QUARTER_TURNS = frozenset({5, 6, 7, 8})
"""EXIF orientations that lay a photo on its side."""
_HEIC_SUFFIXES = {".heic", ".heif"}
_HEIC_BRANDS = {b"heic", b"heix", b"heim", b"heis", b"hevc", b"hevx", b"mif1", b"msf1"}
_EXPORT = "open it in the phone's or computer's picture viewer, export it as JPEG, and put that file in its place"


@dataclass(frozen=True, slots=True)
class PictureInfo:
    """How large a photo is: pixels across and down as it is to be seen (after turning)."""

    width: int
    height: int


def picture_info(photo: Path | bytes, where: str) -> PictureInfo | Problem:
    """Read a photo's head; `where` is its name as the author wrote it."""
    with own_limits():
        opened = open_picture(photo, where)
        if isinstance(opened, Problem):
            return opened
        with opened as picture:
            width, height = picture.size
            if read_orientation(picture) in QUARTER_TURNS:
                width, height = height, width
            return PictureInfo(width, height)


@contextmanager
def own_limits() -> Iterator[None]:
    """Pillow with our size limits, and strict about files that are cut short.

    Both are switches of the whole process; WeasyPrint turns the second off when it is imported.
    """
    former = Image.MAX_IMAGE_PIXELS, ImageFile.LOAD_TRUNCATED_IMAGES
    Image.MAX_IMAGE_PIXELS, ImageFile.LOAD_TRUNCATED_IMAGES = None, False
    try:
        with catch_warnings():
            simplefilter("ignore")
            yield
    finally:
        Image.MAX_IMAGE_PIXELS, ImageFile.LOAD_TRUNCATED_IMAGES = former


def open_picture(photo: Path | bytes, where: str) -> Image.Image | Problem:
    """Open without decoding, or say why not; call inside `own_limits`."""
    try:
        size = len(photo) if isinstance(photo, bytes) else photo.stat().st_size
        if size > LARGEST_BYTES:
            return _too_large(where, f"file has {size / 1e6:.0f} MB", f"{LARGEST_BYTES / 1e6:.0f} MB")
        picture = Image.open(BytesIO(photo) if isinstance(photo, bytes) else photo, formats=FORMATS)
    except FileNotFoundError:
        return Problem("missing", where, "there is no such photo file; check the name, capitals included")
    except UnidentifiedImageError:
        return _unidentified(photo, where)
    except UNREADABLE as error:
        return is_damaged(where, error)
    most = LARGEST_PIXELS.get(true_format(picture), LARGEST_PIXELS_OTHERWISE)
    if picture.width * picture.height > most:
        shape = f"{picture.width} × {picture.height} pixels"
        picture.close()
        return _too_large(where, f"has {shape}", f"{most // 1_000_000} million")
    return picture


def _too_large(where: str, what: str, most: str) -> Problem:
    return Problem("too-large", where, f"the photo {what}, more than the {most} that are read; save a smaller copy")


def true_format(picture: Image.Image) -> str:
    """The format's name; a JPEG that carries a second picture (MPO) is a JPEG."""
    return "JPEG" if picture.format in ("MPO", None) else picture.format


def read_orientation(picture: Image.Image) -> int:
    """EXIF tag 0x0112, 1 to 8, 1 when absent or unreadable."""
    try:
        return int(picture.getexif().get(ExifTags.Base.Orientation, 1))
    except UNREADABLE:
        return 1


def is_damaged(where: str, error: Exception) -> Problem:
    """The problem for a file that opens but cannot be read to its end, or is broken within."""
    text = str(error).lower()
    if any(sign in text for sign in ("truncat", "unexpected end", "cut short", "not enough", "eof", "premature")):
        return _cut_short(where, "the file ends before the picture does")
    return Problem("damaged", where, f"the photo cannot be read ({error}); copy it again from the camera or card, or save it anew as JPEG")


def _cut_short(where: str, how: str) -> Problem:
    return Problem("cut-short", where, f"the photo is cut short: {how}; copy it again from the camera or card")


def _unidentified(photo: Path | bytes, where: str) -> Problem:
    head = photo[:512] if isinstance(photo, bytes) else _head(photo)
    if not head:
        return _cut_short(where, "the file is empty")
    if head[4:8] == b"ftyp" and head[8:12] in _HEIC_BRANDS:
        suffix = PurePath(where).suffix
        named = f", although its name ends in {suffix}" if suffix.lower() not in _HEIC_SUFFIXES else ""
        return Problem("heic", where, f"the photo is a HEIC file{named}, and it cannot be decoded here; {_EXPORT}")
    if b"<svg" in head or b"<?xml" in head:
        return Problem("not-a-photo", where, "the file is a drawing (SVG), not a photo; export it as PNG or JPEG")
    if b"<html" in head.lower() or b"<!doctype html" in head.lower():
        return Problem("not-a-photo", where, "the file is a web page, not a photo; save the picture itself")
    kinds = "JPEG, PNG, HEIC, WebP, AVIF or TIFF"
    return Problem("not-a-photo", where, f"the file is not a photo in a format that can be read ({kinds}); {_EXPORT}")


def _head(photo: Path) -> bytes:
    with photo.open("rb") as file:
        return file.read(512)
