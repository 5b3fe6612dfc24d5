"""Whether something that travels inside a recording or film says where it was made, in whatever form recorders and phones write."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable

from PIL import ExifTags, Image

from guidebuild.fieldwork.hidden_words import read_bytes
from guidebuild.press.media.cleaning import Remark
from guidebuild.press.photos.info import FORMATS, UNREADABLE, own_limits

_DEGREES = r"[+-]?\d{1,3}\.\d{2,}"
_FORMS = (
    re.compile(r"[+-]\d{2,6}(?:\.\d+)?[+-]\d{3,7}(?:\.\d+)?(?:[+-]\d+(?:\.\d+)?)?(?=CRS|/|\s|$)"),  # ISO 6709, Annex H
    re.compile(rf"{_DEGREES}\s*°?\s*[NS]?\s*[,;:/| ]\s*{_DEGREES}"),
    re.compile(r"\d{1,3}\s*°\s*\d{1,2}(?:[.,]\d+)?\s*['′’]"),
    re.compile(r"(?i)\blat(?:itude)?\b\W{0,24}\d{1,3}[.,°:]\d+"),
)
_BOXES = {b"loci": "a place with its position (3GPP)", b"GPS5": "positions by the second", b"GPS9": "positions by the second"}
_BOXES |= {b"gpmd": "a track of measurements", b"mebx": "a track of measurements", b"camm": "a track of measurements"}
_HEAD = 4096
_PICTURE_STARTS = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")


def find_position(remarks: Iterable[Remark]) -> tuple[str, str] | None:
    """What carries a position, and how it is written; None where nothing does."""
    for remark in remarks:
        told = _in_words(remark.held) or _in_picture(remark.held) or _in_boxes(remark.held)
        if told:
            return remark.what, told
    return None


def find_pictures(held: bytes) -> Iterable[bytes]:
    """Pictures that stand inside a tag, each from its first byte on."""
    for start in _PICTURE_STARTS:
        place = held.find(start)
        if place != -1:
            yield held[place:]


def _in_boxes(held: bytes) -> str:
    return next((what for name, what in _BOXES.items() if name in held[:_HEAD]), "")


def _in_words(held: bytes) -> str:
    words = read_bytes(held)
    return next((" ".join(found[0].split()) for form in _FORMS if (found := form.search(words))), "")


def _in_picture(held: bytes) -> str:
    for picture in find_pictures(held):
        try:
            with own_limits(), Image.open(io.BytesIO(picture), formats=FORMATS) as opened:
                if opened.getexif().get_ifd(ExifTags.IFD.GPSInfo):
                    return "a picture with its position (EXIF GPS)"
        except UNREADABLE:
            continue
    return ""
