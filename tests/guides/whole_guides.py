"""Whole guides of birds, flowers, fungi and frogs: copied for a test, with their pictures drawn."""

from __future__ import annotations

import shutil
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml

from tests.guides.brush import Brush
from tests.guides.shapes import SHAPES
from tests.guides.voices import write_voices

HERE = Path(__file__).resolve().parent
NAMES = ("estuary-waders", "southern-frogs", "spring-flowers", "wood-fungi")


def copy_guide(name: str, into: Path) -> Path:
    """A copy of one guide in a folder that is not there yet, with every picture drawn and every voice synthesised: the copy's folder."""
    folder = into / name
    shutil.copytree(HERE / name, folder, ignore=shutil.ignore_patterns("published", ".guidebuild"))
    draw_pictures(name, folder / "photos")
    write_voices(name, folder / "sounds")
    return folder


def draw_pictures(name: str, into: Path) -> None:
    """Draw the pictures of a guide as pictures.yaml says; the same ones come out each time."""
    table: Mapping[str, Any] = yaml.safe_load((HERE / "pictures.yaml").read_text(encoding="utf-8"))[name]
    into.mkdir(parents=True, exist_ok=True)
    for photo, values in table["pictures"].items():
        words = {key: str(value) for key, value in values.items()}
        brush = Brush(table["background"])
        SHAPES[words["shape"]](brush, words)
        brush.picture.save(into / f"{photo}.jpg", quality=50, optimize=True)
