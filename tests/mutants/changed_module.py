"""Imports one module as changed; by itself, as every Python that a test starts may read it before anything else."""

from __future__ import annotations

import ast
import importlib.abc
import importlib.machinery
import importlib.util
import pickle
import sys
import types
from collections.abc import Sequence
from pathlib import Path


class ChangedModule(importlib.abc.MetaPathFinder, importlib.abc.Loader):
    """Finds one module, and loads it from a changed tree."""

    def __init__(self, name: str, path: str, tree: ast.Module) -> None:
        self.name, self.path, self.tree = name, path, tree

    def find_spec(
        self, name: str, path: Sequence[str] | None, target: types.ModuleType | None = None
    ) -> importlib.machinery.ModuleSpec | None:
        if name != self.name:
            return None
        return importlib.util.spec_from_file_location(name, self.path, loader=self)

    def exec_module(self, module: types.ModuleType) -> None:
        exec(compile(self.tree, self.path, "exec"), module.__dict__)


def put_in_here(path: Path) -> None:
    """In a process that a test has started: import the module as changed that was written there by `Elsewhere.put_in`."""
    sys.meta_path.insert(0, ChangedModule(*pickle.loads(path.read_bytes())))
