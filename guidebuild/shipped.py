"""Where the files are that travel with the tool: `content/` for authors and `themes/` for looks."""

from __future__ import annotations

from functools import cache
from importlib.resources import as_file, files
from importlib.resources.abc import Traversable
from pathlib import Path


@cache
def _folder(name: str) -> Traversable:
    packaged = files("guidebuild") / "_shipped" / name
    if packaged.is_dir():
        return packaged
    # An editable install runs from the checkout, where the folders stand beside the package.
    return files("guidebuild").joinpath("..", name)


def content() -> Traversable:
    """The folder of vocabularies, cautions, licences, interface words and the starter guide."""
    return _folder("content")


def themes() -> Traversable:
    """The folder of themes."""
    return _folder("themes")


def sample() -> Traversable:
    """The folder of the sample guide."""
    return _folder("sample_guide")


def on_disk(folder: Traversable) -> Path:
    """A shipped folder as a real path (wheels are installed unpacked)."""
    with as_file(folder) as path:
        return Path(path).resolve()
