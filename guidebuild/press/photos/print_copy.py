"""Copies of photos made for print."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Picture:
    """A prepared picture: the file that is printed and its size in pixels."""

    path: Path
    width: int
    height: int


Pictures = Mapping[str, Picture]
"""Prepared pictures by photo id."""
