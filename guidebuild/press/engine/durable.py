"""Making sure that what was written is on the disk, and not only on its way there, before anything else relies on it.

A system keeps what is written in memory for a while. When the power fails, a file may then have its name and its length but
none of its bytes, though a later step, such as a new name, is on the disk already.
"""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from collections.abc import Iterable
from pathlib import Path

_NOT_FOR_FOLDERS = frozenset((errno.EINVAL, errno.ENOTSUP, errno.EBADF, errno.EACCES, errno.EPERM, errno.EISDIR))
"""What systems answer that cannot write a folder out by itself; they do so without being asked."""


def write_safely(file: Path, data: bytes, on_its_way: str = "") -> None:
    """Write a file in one step: whenever the power fails, it holds its former bytes or these. `sync_folder` settles which.

    `on_its_way` is its name until it is whole.
    """
    coming = file.with_name(on_its_way or f"{file.name}.coming")
    with coming.open("wb") as out:
        out.write(data)
        out.flush()
        os.fsync(out.fileno())
    coming.replace(file)


def sync_folder(folder: Path) -> None:
    """Wait until the names in a folder are on the disk."""
    try:
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    except OSError as error:
        if error.errno not in _NOT_FOR_FOLDERS:
            raise


def sync_tree(tree: Path, files: Iterable[str]) -> None:
    """Wait until a whole tree is on the disk: these files of it, which are new, and all names."""
    if not sync_disk(tree):
        sync_files(tree, files)


def sync_files(tree: Path, files: Iterable[str]) -> None:
    """Wait until these files of a tree are on the disk, and all names in it: quicker than the whole disk where they are few."""
    for path in files:
        handle = os.open(tree / path, os.O_RDWR)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
    for folder, _, _ in os.walk(tree, topdown=False):
        sync_folder(Path(folder))


def sync_disk(folder: Path) -> bool:
    """Write out all that waits for the disk on which a folder stands, much quicker than file by file; false where there is no such call."""
    if not sys.platform.startswith("linux"):
        return False
    try:
        write_out = ctypes.CDLL(None, use_errno=True).syncfs
    except (AttributeError, OSError):
        return False
    handle = os.open(folder, os.O_RDONLY)
    try:
        if write_out(handle):
            number = ctypes.get_errno()
            raise OSError(number, os.strerror(number), str(folder))
    finally:
        os.close(handle)
    return True
