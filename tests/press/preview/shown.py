"""Something to show in a preview: files that a test writes down, and findings that it makes up."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path

from guidebuild.press.engine.digest import digest
from guidebuild.press.preview.board import Note


@dataclass
class Written:
    """Files by path, and `own` files on disk; `on_change` is told what has changed and may write others, `on_check` may stop the checks."""

    files: dict[str, bytes] = field(default_factory=dict)
    own: dict[str, Path] = field(default_factory=dict)
    broken: set[str] = field(default_factory=set)
    notes: tuple[Note, ...] = ()
    on_change: Callable[[frozenset[Path]], None] = lambda _: None
    on_check: Callable[[Callable[[], bool]], None] = lambda _: None

    def follow(self, changed: frozenset[Path]) -> None:
        self.on_change(changed)

    def find_notes(self, is_overtaken: Callable[[], bool]) -> tuple[Note, ...]:
        self.on_check(is_overtaken)
        return self.notes

    def find_file(self, path: str) -> Path | None:
        return self.own.get(path)

    def read(self, path: str) -> tuple[bytes, str] | None:
        if path in self.broken:
            raise KeyError(path)
        data = self.files.get(path)
        return None if data is None else (data, digest(data))
