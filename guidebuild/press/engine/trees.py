"""Folders as trees of files: listing, linking, and the list of what is ours."""

from __future__ import annotations

import json
import os
import shutil
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path, PurePosixPath

MANIFEST = ".guidebuild-manifest.json"
"""The list, in a published folder, of the files that the tool wrote there."""
ON_ITS_WAY = ".guidebuild-coming"
"""A file in a published folder that is not whole yet, where the folder cannot be exchanged as a whole."""
OUR_OWN = frozenset((MANIFEST, ON_ITS_WAY))
"""Names in a published folder that are ours without being in the list."""


def files_below(folder: Path, *, with_empty_folders: bool = False) -> Iterator[str]:
    """Paths of all files and links (never followed) below a folder, with `/` between names, in no given order."""
    pending = [""]
    while pending:
        above = pending.pop()
        empty = True
        try:
            entries = os.scandir(folder / above)
        except FileNotFoundError:
            continue
        with entries:
            for entry in entries:
                empty = False
                path = f"{above}{entry.name}"
                if entry.is_dir(follow_symlinks=False):
                    pending.append(f"{path}/")
                else:
                    yield path
        if empty and above and with_empty_folders:
            yield above.rstrip("/")


def find_inside(folder: Path, relative: str) -> Path | None:
    """The path that `relative` names below `folder`, or nothing if it leads out of it by `..`, a root or a link."""
    if "\0" in relative or "\\" in relative or PurePosixPath(relative).is_absolute():
        return None
    root = folder.resolve()
    try:
        inner = (root / relative).resolve()
    except (OSError, RuntimeError):
        return None
    return inner if inner.is_relative_to(root) else None


@dataclass(frozen=True, slots=True)
class OwnList:
    """What the list in a published folder says."""

    files: Mapping[str, str] = field(default_factory=dict)
    """Digests of the files that are ours, by path."""
    kept: Mapping[str, str] = field(default_factory=dict)
    """The accounts that are published as they were before, each with the day from which it stands."""


def read_list(folder: Path) -> OwnList | None:
    """The list in a published folder; nothing where it is missing or damaged."""
    try:
        told = json.loads((folder / MANIFEST).read_text(encoding="utf-8"))
        files, kept = told["files"].items(), told.get("kept", {}).items()
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return None
    return OwnList({str(path): str(digest) for path, digest in files}, {str(account): str(since) for account, since in kept})


def write_list(listed: OwnList) -> bytes:
    """The list as it stands in the published folder."""
    kept = {"kept": dict(listed.kept)} if listed.kept else {}
    told = {"made by": "guidebuild", **kept, "files": dict(sorted(listed.files.items()))}
    return (json.dumps(told, ensure_ascii=False, indent=0) + "\n").encode()


def link(source: Path, target: Path) -> None:
    """The same file at a second path, or a copy with its time where the disk knows no links."""
    try:
        _link(source, target)
    except FileNotFoundError:
        target.parent.mkdir(parents=True, exist_ok=True)
        _link(source, target)


def _link(source: Path, target: Path) -> None:
    try:
        os.link(source, target, follow_symlinks=False)
    except (FileNotFoundError, FileExistsError):
        raise
    except (OSError, NotImplementedError):
        shutil.copy2(source, target, follow_symlinks=False)


def has_only_folders_above(place: Path, path: str) -> bool:
    """Whether a path below a folder leads there by folders alone, or by such as are still to be made, and through no link."""
    above = (place / folder for folder in PurePosixPath(path).parents if folder.parts)
    return not any(folder.is_symlink() or (folder.exists() and not folder.is_dir()) for folder in above)


def remove_empty_folders(folder: Path, top: Path) -> None:
    """Remove a folder, and those above it below `top`, as far as nothing stands in them."""
    with suppress(OSError):
        while folder != top:
            folder.rmdir()
            folder = folder.parent


def carry(source: Path, target: Path) -> None:
    """Carry over whatever is at a path: a file or symbolic link by link, an empty folder by making one like it."""
    if source.is_dir() and not source.is_symlink():
        target.mkdir(parents=True, exist_ok=True)
        shutil.copystat(source, target)
    else:
        link(source, target)


def is_carried(source: Path, target: Path) -> bool:
    """Whether `target` is what `carry` made of `source`, or the other way round."""
    try:
        one, other = source.lstat(), target.lstat()
    except OSError:
        return False
    same_copy = (one.st_mode, one.st_size, one.st_mtime_ns) == (other.st_mode, other.st_size, other.st_mtime_ns)
    return os.path.samestat(one, other) or same_copy
