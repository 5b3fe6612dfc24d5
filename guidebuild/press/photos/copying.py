"""Making the copies of one photo in any process: what a worker needs for it, and no more, so that little makes them anew."""

from __future__ import annotations

import base64
import json
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.copies import Copies, Recipe, prepare_copies


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


def copies_of(made: Made) -> Iterator[MadeCopy]:
    """The copies in a made thing, in the order in which they were made."""
    if not made.parts:
        return
    for (encoding, width, height), data in zip(json.loads(made.parts[0])["copies"], made.parts[1:], strict=True):
        yield MadeCopy(encoding, width, height, data)


def _told(copies: Copies) -> bytes:
    stand_in = f"data:image/webp;base64,{base64.b64encode(copies.placeholder).decode()}" if copies.placeholder else ""
    listed = [[copy.encoding, copy.width, copy.height] for copy in copies.copies]
    return json.dumps({"copies": listed, "colour": copies.colour, "placeholder": stand_in}).encode()
