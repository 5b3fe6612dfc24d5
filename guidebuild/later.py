"""Modules that are imported when something of them is first used: the one way in which this tool starts up fast."""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.machinery import ModuleSpec, PathFinder
from importlib.util import LazyLoader
from types import ModuleType
from typing import Any


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
            spec.loader = _LateLoader(spec.loader)
        return spec


class _LateLoader(LazyLoader):
    """The library's own, with modules for which a second thread waits: up to Python 3.11 it would meet them half filled."""

    def exec_module(self, module: ModuleType) -> None:
        """Make the module ready to be run when it is first used."""
        super().exec_module(module)
        _spec_of(module).loader_state |= {_LOCK: threading.RLock(), _BEGUN: False}
        module.__class__ = _LateModule


_LOCK, _BEGUN = "lock of the first use", "begun"


def _spec_of(module: ModuleType) -> Any:
    """A module's spec, without using the module."""
    return object.__getattribute__(module, "__spec__")


class _LateModule(ModuleType):
    """A module that is run when something of it is first asked for, by whichever thread asks first; the others wait for it."""

    def __getattribute__(self, name: str) -> object:
        spec = _spec_of(self)
        state = spec.loader_state
        with state[_LOCK]:
            # While it runs, its own thread may ask for what it has already, as modules that import each other do.
            if not state[_BEGUN]:
                state[_BEGUN] = True
                try:
                    spec.loader.exec_module(self)
                except BaseException:
                    state[_BEGUN] = False
                    raise
                object.__setattr__(self, "__class__", ModuleType)
        return object.__getattribute__(self, name)
