"""What is to be brought into a guide, as a value: said before it is done, and done in one step."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Coming:
    """A file that the guide gets: a copy of `source`, or a new text.

    `file` is its name in the guide, with forward slashes; `told` says in a few words what it is.
    """

    file: str
    told: str
    source: Path | None = None
    text: str = ""


@dataclass(frozen=True, slots=True)
class Unused:
    """Something that was offered and is not used, as the author named it, and why."""

    offered: str
    why: str

    def __str__(self) -> str:
        """In a line for the author."""
        return f"{self.offered}: {self.why}"


@dataclass(frozen=True, slots=True)
class Brought:
    """What one kind of bringing comes to: files, what is put to the end of a text of the guide, and what is said of it."""

    files: tuple[Coming, ...] = ()
    added: str = ""
    """Lines for photos.yaml."""
    unused: tuple[Unused, ...] = ()
    advice: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class BringingPlan:
    """All that is to be done. `added` are lines to be put to the end of files of the guide, `changed` whole new texts; both by file."""

    files: tuple[Coming, ...]
    added: Mapping[str, str]
    changed: Mapping[str, bytes]
    unused: tuple[Unused, ...]
    advice: tuple[str, ...]
