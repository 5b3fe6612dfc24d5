"""A guide's files from their texts."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path


def write_files(folder: Path, files: Mapping[str, str]) -> Path:
    """Write texts by their paths in a guide's folder; the folder."""
    for name, text in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return folder


def text_files(folder: Path) -> dict[str, bytes]:
    """The bytes of all files of a guide but its pictures and its workshop, by path."""
    kept = (p for p in folder.rglob("*") if p.is_file() and p.suffix != ".jpg" and ".guidebuild" not in p.relative_to(folder).parts)
    return {p.relative_to(folder).as_posix(): p.read_bytes() for p in kept}
