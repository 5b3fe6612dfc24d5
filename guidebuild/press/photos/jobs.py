"""Photos as jobs: each original once to copies for the site, for print and for scripts."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

from guidebuild.fieldwork.public_records import PublicPhoto
from guidebuild.fieldwork.published import Published
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.store import Made
from guidebuild.press.photos.copies import SUFFIXES, Copies, Focus, Recipe, prepare_copies
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.published_set import PictureSet, Variant

SITE_WIDTHS = (360, 720, 1280)
JPEG_WIDTHS = (720,)
PRINT_WIDTHS = (1654,)
"""140 mm at 300 ppi: wider than any plate of the formats."""
THUMB_WIDTHS = (240,)
PICTURE = Craft("picture", "pictures", cost=200.0)


@dataclass(frozen=True, slots=True)
class PhotoWork:
    """One original and what to make of it."""

    path: Path
    recipe: Recipe
    where: str


@dataclass(frozen=True, slots=True)
class MadeCopy:
    """One copy and its bytes."""

    encoding: str
    width: int
    height: int
    data: bytes


def make_copies(work: PhotoWork) -> Made:
    """The copies of one photo: first what is known of them as JSON, then each copy's bytes."""
    copies = prepare_copies(work.path.read_bytes(), work.recipe, work.where)
    if isinstance(copies, Problem):
        return Made((), (copies,))
    return Made((_told(copies), *(copy.data for copy in copies.copies)), copies.problems)


def recipe_for(guide: Published, photo: PublicPhoto, purpose: str, *, ratio: tuple[int, int] | None = None) -> Recipe:
    """How a photo is copied for `site`, `print`, `thumb` or `post`."""
    focus = Focus(photo.focus[0] / 100, photo.focus[1] / 100) if photo.focus else None
    credit = credit_of(guide, photo)
    if purpose == "print":
        return Recipe(PRINT_WIDTHS, ("print",), focus=focus, credit=credit, sizes_only=True)
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


def copies_of(made: Made) -> Iterator[MadeCopy]:
    """The copies in a made thing, in the order in which they were made."""
    if not made.parts:
        return
    for (encoding, width, height), data in zip(json.loads(made.parts[0])["copies"], made.parts[1:], strict=True):
        yield MadeCopy(encoding, width, height, data)


def picture_set(photo_id: str, made: Made, folder: str = "photos") -> PictureSet | None:
    """The copies as a page must know them; None where the photo could not be read."""
    if not made.parts:
        return None
    told = json.loads(made.parts[0])
    variants = tuple(
        Variant(encoding, width, published_name(photo_id, encoding, width, folder), height) for encoding, width, height in told["copies"]
    )
    largest = max(variants, key=lambda v: v.width)
    return PictureSet(largest.width, largest.height, variants, told["placeholder"], told["colour"])


def published_name(photo_id: str, encoding: str, width: int, folder: str = "photos") -> str:
    """A copy's path: the photo's id and the width, never the original's file name."""
    return f"{folder}/{photo_id}-{width}{SUFFIXES[encoding]}"


def photos_with_files(guide: Published, folder: Path, wanted: Iterable[str] | None = None) -> Iterator[tuple[PublicPhoto, Path]]:
    """Photos whose file stands in the guide, each with its path."""
    chosen = guide.photos.values() if wanted is None else (guide.photos[p] for p in wanted if p in guide.photos)
    for photo in chosen:
        if photo.file:
            yield photo, folder / photo.file


def _told(copies: Copies) -> bytes:
    stand_in = f"data:image/webp;base64,{base64.b64encode(copies.placeholder).decode()}" if copies.placeholder else ""
    listed = [[copy.encoding, copy.width, copy.height] for copy in copies.copies]
    return json.dumps({"copies": listed, "colour": copies.colour, "placeholder": stand_in}).encode()
