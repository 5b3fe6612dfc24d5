"""Modules that are imported when something of them is first used: the one way in which this tool starts up fast."""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.machinery import ModuleSpec, PathFinder
from importlib.util import LazyLoader
from types import ModuleType


@contextmanager
def imported_when_used() -> Iterator[None]:
    """Modules of ours that the block imports are run when something of them is first used.

    They must be imported whole (`from package import module`): asking for a name inside one already uses it.
    """
    finder = _Finder()
    sys.meta_path.insert(0, finder)
    try:
        yield
    finally:
        sys.meta_path.remove(finder)


class _Finder:
    """Finds our modules as ever, and puts off running them; packages are run at once, since they only hold modules."""

    def find_spec(self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None) -> ModuleSpec | None:
        """Asked by `import` for each module that is not known yet."""
        spec = PathFinder.find_spec(fullname, path) if fullname.startswith("guidebuild.") else None
        if spec is not None and spec.loader is not None and spec.submodule_search_locations is None:
            spec.loader = LazyLoader(spec.loader)
        return spec
