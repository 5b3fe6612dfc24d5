"""The folder that is built beside the published one, and takes its place when it is whole."""

from __future__ import annotations

import os
import shutil
from collections.abc import Collection, Iterable
from pathlib import Path, PurePosixPath

from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.trees import MANIFEST, ON_ITS_WAY, OUR_OWN, OwnList, carry, files_below, link, write_list


class Coming:
    """What will be published next, while it is put together; its methods raise OSError where the disk refuses."""

    def __init__(self, tree: Path, place: Path) -> None:
        """`tree` is where it is put together, `place` the published folder."""
        self.tree = tree
        self._place = place
        self._folders: set[Path] = set()

    def write(self, path: str, data: bytes) -> None:
        """Write a file that is new, or other than before."""
        target = self.tree / path
        if target.parent not in self._folders:
            target.parent.mkdir(parents=True, exist_ok=True)
            self._folders.add(target.parent)
        target.write_bytes(data)

    def finish(self, kept: Iterable[str], ours: Collection[str], listed: OwnList, *, list_is_lost: bool) -> None:
        """Complete it: what is kept, what is the author's, and last, so that an unfinished tree is known, the list.

        `ours` are the files that we published last; nothing tells which they were where the list is lost.
        """
        self.tree.mkdir(exist_ok=True)  # beside the lock of this run, whose folder is there
        if self._place.exists():
            shutil.copymode(self._place, self.tree)
        for path in kept:
            link(self._place / path, self.tree / path)
        self._carry_over(ours, list_is_lost=list_is_lost)
        self.write_list(listed)

    def write_list(self, listed: OwnList) -> None:
        """Write the list of what is ours."""
        self.tree.mkdir(exist_ok=True)
        # Whenever the power fails, the list is whole or not there at all: a tree without it counts as unfinished.
        write_safely(self.tree / MANIFEST, write_list(listed), ON_ITS_WAY)

    def take_back_list(self) -> None:
        """Have the tree count as unfinished again."""
        (self.tree / MANIFEST).unlink(missing_ok=True)

    def _carry_over(self, ours: Collection[str], *, list_is_lost: bool) -> None:
        """Link what the author put into the published folder."""
        for path in files_below(self._place, with_empty_folders=True):
            if path in ours or path in OUR_OWN:
                continue
            target = self.tree / path
            if _is_folder(target) and _is_folder(self._place / path):
                continue  # an empty folder, perhaps ours: what stood in it is made again
            if os.path.lexists(target) or any((self.tree / above).is_file() for above in PurePosixPath(path).parents):
                if list_is_lost:
                    continue  # it is set aside when the former folder is taken down
                raise PressError(f"cannot publish {path}: a file of that name in {self._place} is not ours; move it away or rename it")
            carry(self._place / path, target)


def _is_folder(path: Path) -> bool:
    return path.is_dir() and not path.is_symlink()
