"""The drawing code of the sample guide, loaded from its folder (it is no package of the tool)."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import ModuleType

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"


def drawing(name: str) -> ModuleType:
    """A module of `sample_guide/drawing`."""
    folder = str(SAMPLE / "drawing")
    sys.path.insert(0, folder)
    try:
        return importlib.import_module(name)
    finally:
        sys.path.remove(folder)
