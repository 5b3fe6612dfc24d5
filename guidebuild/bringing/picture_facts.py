"""What a camera wrote into a picture that its entry needs: the day, who took it, under which licence, and where (never kept)."""

from __future__ import annotations

import datetime as dt
import math
import re
import xml.etree.ElementTree as ET
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PIL import ExifTags, Image

from guidebuild.guide.licence_text import licence_id
from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.info import UNREADABLE, is_damaged, open_picture, own_limits, true_format

ENDINGS = {
    "JPEG": ".jpg", "PNG": ".png", "WEBP": ".webp", "AVIF": ".avif", "HEIF": ".heic", "TIFF": ".tif", "GIF": ".gif", "BMP": ".bmp",
}  # fmt: skip
"""How a file of each format is called, whatever it was called before."""
_SHRUNK = (160, 160)
_DATE = re.compile(r"(\d{4})[:-](\d{2})[:-](\d{2})")
_FIRST_CAMERAS = 1990
_LONGEST_CREDIT = 120
_LARGEST_XMP = 1_000_000
_RESOURCE = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}resource"
_AUTHOR = ("creator", "Creator")
_LICENCES = ("UsageTerms", "WebStatement", "license", "License", "rights")
_RIGHTS = re.compile(r"\(c\)|©|copyright|all rights reserved\.?|\b(?:19|20)\d\d\b", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class PictureFacts:
    """What is known of a picture from its file. `spot` is where the camera stood, in degrees; it goes into no file."""

    ending: str
    taken: dt.date | None = None
    credit: str = ""
    licence: str = ""
    spot: tuple[float, float] | None = None


def read_picture_facts(path: Path, shown: str) -> PictureFacts | Problem:
    """Read a picture to its end and what stands in its head; a Problem where it is none or broken."""
    with own_limits():
        opened = open_picture(path, shown)
        if isinstance(opened, Problem):
            return opened
        with opened as picture:
            try:
                facts = _read_head(picture)
                picture.draft("RGB", _SHRUNK)
                picture.load()
            except UNREADABLE as error:
                return is_damaged(shown, error)
            return facts


def _read_head(picture: Image.Image) -> PictureFacts:
    exif: Mapping[int, object] = {}
    camera: Mapping[int, object] = {}
    position: Mapping[int, object] = {}
    with suppress(*UNREADABLE):  # a head that cannot be read says nothing, and the picture is a picture all the same
        head = picture.getexif()
        exif, camera, position = head, head.get_ifd(ExifTags.IFD.Exif), head.get_ifd(ExifTags.IFD.GPSInfo)
    xmp = _read_xmp(picture)
    artist = _plain(exif.get(ExifTags.Base.Artist)) or _first(xmp, _AUTHOR)
    rights = _plain(exif.get(ExifTags.Base.Copyright))
    licence = next((found for said in (rights, *(_first(xmp, (key,)) for key in _LICENCES)) if (found := _find_licence(said))), "")
    return PictureFacts(
        ENDINGS.get(true_format(picture), ".jpg"),
        _read_day(camera.get(ExifTags.Base.DateTimeOriginal) or camera.get(ExifTags.Base.DateTimeDigitized)),
        artist or _owner_in(rights),
        licence,
        _read_spot(position),
    )


def _read_day(value: object) -> dt.date | None:
    """The day of `2026:05:03 10:11:12`; a camera whose clock was never set says 0000 or its year of make."""
    match = _DATE.match(_plain(value))
    if not match:
        return None
    with suppress(ValueError):
        day = dt.date(*map(int, match.groups()))
        return day if day.year >= _FIRST_CAMERAS else None
    return None


def _plain(value: object) -> str:
    """A text of a picture's head in one line; bytes in whatever encoding cameras write."""
    if isinstance(value, bytes):
        value = value.decode("utf-8", errors="replace")
    text = value if isinstance(value, str) else ""
    if text and not text.isascii():
        # Pillow reads these texts as Latin-1, while phones write UTF-8.
        with suppress(UnicodeError):
            text = text.encode("latin-1").decode("utf-8")
    words = " ".join("".join(sign if sign.isprintable() else " " for sign in text).split())
    return words if len(words) <= _LONGEST_CREDIT else ""


def _owner_in(rights: str) -> str:
    """The name in a line of copyright such as `© 2026 Ann Reed, CC BY 4.0`."""
    for part in re.split(r"[,;/|]| - | – ", _RIGHTS.sub(" ", rights)):
        name = " ".join(part.split()).strip(" .:-")
        if name and not _find_licence(name):
            return name
    return ""


def _find_licence(text: str) -> str:
    """The licence that a text says, alone or among other words; empty where it says none with its version."""
    for part in (text, *re.split(r"[,;|()]| - | – ", text)):
        found = licence_id(part)
        if found != part.strip() and found != "all-rights-reserved":
            return found
    return ""


def _read_xmp(picture: Image.Image) -> Mapping[str, str]:
    """The first text or address of each property of a picture's XMP, by its name without its prefix."""
    packed = picture.info.get("xmp")
    text = packed if isinstance(packed, bytes) else str(packed or "").encode()
    # A document type is where entities that swell are declared, and no XMP has one.
    if not text or len(text) > _LARGEST_XMP or b"<!" in text.replace(b"\0", b""):
        return {}
    try:
        root = ET.fromstring(text.strip(b"\0 \n"))  # noqa: S314 - declarations of entities were refused above
    except (ET.ParseError, ValueError, LookupError):
        return {}
    found: dict[str, str] = {}
    for element in root.iter():
        for name, value in element.attrib.items():
            found.setdefault(_bare(name), value)
        said = next((inner.strip() for inner in element.itertext() if inner.strip()), "") or element.get(_RESOURCE, "")
        if said:
            found.setdefault(_bare(element.tag), said)
    return found


def _bare(name: str) -> str:
    return name.rpartition("}")[2]


def _first(xmp: Mapping[str, str], keys: tuple[str, ...]) -> str:
    return next((_plain(xmp[key]) for key in keys if key in xmp), "")


def _read_spot(position: Mapping[int, object]) -> tuple[float, float] | None:
    """Degrees north and east; 0, 0 is what devices write that know no position."""
    north = _degrees(position.get(ExifTags.GPS.GPSLatitude), position.get(ExifTags.GPS.GPSLatitudeRef), "S")
    east = _degrees(position.get(ExifTags.GPS.GPSLongitude), position.get(ExifTags.GPS.GPSLongitudeRef), "W")
    if north is None or east is None or (north == 0 and east == 0) or abs(north) > 90 or abs(east) > 180:
        return None
    return north, east


def _degrees(figures: object, side: object, below: str) -> float | None:
    with suppress(*UNREADABLE):
        degrees, minutes, seconds = (float(figure) for figure in figures)  # type: ignore[attr-defined]
        whole = degrees + minutes / 60 + seconds / 3600
        if math.isfinite(whole):
            return -whole if _plain(side).upper() == below else whole
    return None
