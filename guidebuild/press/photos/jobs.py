"""Which copies of a photo are made, for the site, for print and for scripts, and what they are called."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from pathlib import Path

from guidebuild.fieldwork.public_records import PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.made import Made
from guidebuild.press.photos.copies import Focus, Recipe
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.encoding import SUFFIXES
from guidebuild.press.photos.published_set import PictureSet, Variant

SITE_WIDTHS = (360, 720, 1280)
JPEG_WIDTHS = (720,)
PRINT_WIDTHS = (1654,)
"""140 mm at 300 ppi: wider than any plate of the formats."""
THUMB_WIDTHS = (240,)
PICTURE = Craft("picture", "pictures", cost=200.0)


def recipe_for(guide: Published, photo: PublicPhoto, purpose: str, *, ratio: tuple[int, int] | None = None) -> Recipe:
    """How a photo is copied for `site`, `print`, `thumb` or `post`."""
    focus = Focus(photo.focus[0] / 100, photo.focus[1] / 100) if photo.focus else None
    credit = credit_of(guide, photo)
    if purpose == "print":
        return Recipe(PRINT_WIDTHS, ("source", "print"), focus=focus, credit=credit, sizes_only=True)
    if purpose == "thumb":
        return Recipe(THUMB_WIDTHS, ("jpeg",), focus=focus, credit=credit, sizes_only=True)
    if purpose == "post":
        return Recipe((1080,), ("jpeg",), ratio=ratio, focus=focus, credit=credit, sizes_only=True)
    return Recipe(SITE_WIDTHS, jpeg_widths=JPEG_WIDTHS, focus=focus, credit=credit)


def credit_of(guide: Published, photo: PublicPhoto) -> Credit | None:
    """What a published copy says of its maker and licence."""
    if not photo.credit:
        return None
    licence = guide.licences.get(photo.licence)
    return Credit(photo.credit, licence.title if licence else photo.licence, licence.address if licence else "")


def picture_set(photo_id: str, made: Made, folder: str = "photos") -> PictureSet | None:
    """The copies as a page must know them; None where the photo could not be read."""
    if not made.parts:
        return None
    noted = json.loads(made.parts[0])
    return set_of_sizes(photo_id, noted["copies"], folder, noted["placeholder"], noted["colour"])


def set_of_sizes(photo_id: str, sizes: Iterable[tuple[str, int, int]], folder: str, placeholder: str = "", colour: str = "") -> PictureSet:
    """Copies by encoding, width and height as a page must know them."""
    variants = tuple(
        Variant(encoding, width, published_name(photo_id, encoding, width, folder), height) for encoding, width, height in sizes
    )
    largest = max(variants, key=lambda v: v.width)
    return PictureSet(largest.width, largest.height, variants, placeholder, colour)


def published_name(photo_id: str, encoding: str, width: int, folder: str = "photos") -> str:
    """A copy's path: the photo's id and the width, never the original's file name."""
    return f"{folder}/{photo_id}-{width}{SUFFIXES[encoding]}"


def photos_with_files(guide: Published, folder: Path, wanted: Iterable[str] | None = None) -> Iterator[tuple[PublicPhoto, Path]]:
    """Photos whose file stands in the guide, each with its path."""
    chosen = guide.photos.values() if wanted is None else (guide.photos[p] for p in wanted if p in guide.photos)
    for photo in chosen:
        if photo.file:
            yield photo, folder / photo.file
