"""The paths that a run publishes at: each once, below the folder, and told apart by more than capitals."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import PurePosixPath

from guidebuild.press.engine.problems import NameRefusedError
from guidebuild.press.engine.trees import OUR_OWN

_NO_NAMES = frozenset(("", ".", ".."))


def is_path_below(path: str) -> bool:
    """Whether a path names a file below a folder, and cannot lead out of it by a root, `..` or a stroke of another system."""
    return "\\" not in path and "\0" not in path and _NO_NAMES.isdisjoint(path.split("/"))


class Claims:
    """What is taken so far."""

    def __init__(self) -> None:
        self._taken: dict[str, str] = {}  # Windows and macOS do not tell capitals apart

    def claim(self, path: str) -> None:
        """Take a path; `NameRefusedError` where nothing can be published there."""
        if not is_path_below(path):
            raise NameRefusedError(f"“{path}” is no path below the published folder")
        if path in OUR_OWN:
            raise NameRefusedError(f"“{path}” is the list of what is ours; give the file another name")
        other = self._taken.get(path.casefold())
        if other == path:
            raise NameRefusedError(f"two things would be published as “{path}”; rename one of them")
        if other is not None:
            raise NameRefusedError(
                f"“{other}” and “{path}” differ only in capitals and would be one file on many disks; rename one of them"
            )
        self._taken[path.casefold()] = path

    def find_free(self, paths: Iterable[str]) -> Iterator[str]:
        """Those of some paths that can be claimed one after another: no file stands there or above, and no folder of that name."""
        folders = {above for path in self._taken for above in _folders_of(path)}
        for path in paths:
            name = path.casefold()
            if name not in self._taken and name not in folders and self._taken.keys().isdisjoint(_folders_of(name)):
                yield path


def _folders_of(path: str) -> list[str]:
    return [str(above) for above in PurePosixPath(path).parents]
