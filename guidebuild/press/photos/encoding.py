"""Pixels written as files: each purpose with its own settings, prints as light as they stay like what they were made of."""

from __future__ import annotations

import io
from collections.abc import Mapping
from types import MappingProxyType
from typing import Any

from PIL import Image

from guidebuild.press.photos.credit import Credit, with_iptc, xmp_packet
from guidebuild.press.photos.likeness import reckon_likeness

# Chosen by measurement, see “Pictures” in DEVELOPERS.md: slower settings save a few per cent of weight for 2 to 5 times the time.
ENCODINGS: Mapping[str, Mapping[str, Any]] = MappingProxyType(
    {
        "webp": {"quality": 76, "method": 2},
        "jpeg": {"quality": 80, "progressive": True, "optimize": True},
        "print": {"subsampling": "4:2:0", "optimize": True},
        "source": {"quality": 97, "subsampling": "4:2:0"},
        "slide": {"quality": 88, "subsampling": "4:4:4", "progressive": True, "optimize": True},
        "png": {"compress_level": 6},
    }
)
SUFFIXES: Mapping[str, str] = MappingProxyType(
    {"webp": ".webp", "jpeg": ".jpg", "print": ".jpg", "source": ".jpg", "slide": ".jpg", "png": ".png"}
)
"""The ending of a published copy's name, by encoding."""

LEAST_LIKE = 0.99
"""How like its pixels a print must be, as reckoned: so much in squares side by side is a structural similarity of 0.98 and more."""
PRINT_QUALITIES = ((82, 1.0), (86, 1.2), (90, 1.6), (92, 1.95), (94, 2.65), (96, 3.4), (98, 9.0))
"""Qualities for print, and how many times the loss that is allowed a picture may lose by the first of them, so that this one will do."""


def write_picture(bare: Image.Image, encoding: str, credit: Credit | None) -> bytes:
    """A file of bare pixels, with credit and licence and nothing else; one for print as small as it stays like them."""
    kind = "JPEG" if encoding in {"print", "source", "slide"} else encoding.upper()
    options = dict(ENCODINGS[encoding])
    if encoding == "print":
        options["quality"] = _choose_quality(bare, options)
    if credit and kind != "PNG":
        options["xmp"] = xmp_packet(credit)
    written = io.BytesIO()
    bare.save(written, kind, **options)
    data = written.getvalue()
    return with_iptc(data, credit) if credit and kind == "JPEG" else data


def _choose_quality(bare: Image.Image, options: Mapping[str, Any]) -> int:
    """The least quality that keeps a picture like its pixels, foretold from what it loses by the first."""
    written = io.BytesIO()
    # Tables of its own make a file smaller, and its pixels no other.
    bare.save(written, "JPEG", **{**options, "quality": PRINT_QUALITIES[0][0], "optimize": False})
    with Image.open(written) as lossy:
        lossy.draft("L", lossy.size)
        loss = (1 - reckon_likeness(bare, lossy)) / (1 - LEAST_LIKE)
    return next((quality for quality, most in PRINT_QUALITIES if loss <= most), PRINT_QUALITIES[-1][0])
