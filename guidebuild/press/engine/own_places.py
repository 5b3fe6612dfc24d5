"""What the tool writes stands in the guide: a link that leads elsewhere would have it write and tidy up in folders of others."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from guidebuild.press.engine.problems import PressError

PUBLISHED = "published"
WORKSHOP = ".guidebuild"
"""The folder beside the published one where it is built."""
_DEEP = 2
"""So many folders below the workshop's own hold what is written by name; further down stand files by their digests."""


def refuse_links_out(folder: Path) -> None:
    """Raise `PressError` where what the tool writes in this guide is a link that leads out of it. Links that stay inside are followed."""
    home = folder.resolve()
    for path in (folder / PUBLISHED, folder / WORKSHOP, *_below(folder / WORKSHOP, _DEEP)):
        if path.is_symlink() and not _target(path).is_relative_to(home):
            said = f"{path} is a link that leads out of the guide, and guides from others could write anywhere by one"
            raise PressError(f"{said}; take the link away, and copy what was made to where you want it")


def _target(link: Path) -> Path:
    try:
        return link.resolve()
    except (OSError, RuntimeError):  # a link to itself leads nowhere
        return Path("/")


def _below(folder: Path, depth: int) -> Iterator[Path]:
    # What the author had put into `published/` is carried over as it is, links too, and never followed.
    if not depth or folder.is_symlink() or not folder.is_dir() or folder.name.endswith((".coming", ".former")):
        return
    for path in folder.iterdir():
        yield path
        yield from _below(path, depth - 1)
