"""Putting one folder in another's place in a single step, and keeping two runs apart."""

from __future__ import annotations

import ctypes
import errno
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

from guidebuild.press.engine.problems import PressError

_AT_FDCWD = -100
_RENAME_EXCHANGE = 2  # linux/fs.h
_RENAME_SWAP = 2  # sys/stdio.h of macOS

_WORDS = {
    errno.ENOSPC: "the disk is full; nothing was changed, free some space and run again",
    errno.EDQUOT: "your share of the disk is full; nothing was changed, free some space and run again",
    errno.EROFS: "the disk can only be read, not written",
    errno.EACCES: "you may not write there; check the folder's permissions",
    errno.EPERM: "you may not write there; check the folder's permissions",
    errno.ENAMETOOLONG: "a name is longer than the disk allows",
}


_ACCESS_DENIED = 5
_IN_USE = frozenset((_ACCESS_DENIED, 32, 33))
"""Microsoft, "System Error Codes": ERROR_ACCESS_DENIED, ERROR_SHARING_VIOLATION, ERROR_LOCK_VIOLATION."""
_TOO_LONG = frozenset((2, 3, 123, 206))  # the same: not found, path not found, invalid name, name too long
_LONGEST_ON_WINDOWS = 260  # Microsoft, "Maximum Path Length Limitation": MAX_PATH, its last sign the end of the text


@contextmanager
def told_in_one_line(place: Path) -> Iterator[None]:
    """Turn what the system refuses into a `PressError` for the author: the place, what is the matter, what to do."""
    try:
        yield
    except PressError:
        raise
    except OSError as error:
        reason = say_of_windows(error) or _WORDS.get(error.errno or 0, error.strerror or str(error))
        raise PressError(f"cannot publish in {place}: {reason}") from error


def say_of_windows(error: OSError) -> str:
    """Why Windows refuses what other systems do, and what to do: what another program has open cannot be replaced. Else nothing."""
    file, number = name_refused_file(error), getattr(error, "winerror", None)
    if number in _IN_USE:
        or_not_allowed = ", or you may not write there" if number == _ACCESS_DENIED else ""
        return f"{file or 'a file there'} is open in another program{or_not_allowed}; close it there and run again"
    if number in _TOO_LONG and len(str(file)) >= _LONGEST_ON_WINDOWS:
        most = _LONGEST_ON_WINDOWS - 1
        return f"{file} has more than {most} signs, which Windows does not allow; move the guide nearer to the top of the disk"
    return ""


def name_refused_file(error: OSError) -> str:
    """The file that the system refuses, as the author knows it: what stands in the way of a new name, else what was touched."""
    in_the_way = error.filename2
    return str(in_the_way if in_the_way and Path(os.fsdecode(in_the_way)).exists() else error.filename or "")


def exchange_folders(one: Path, other: Path) -> bool:
    """Swap two folders so that no one ever sees neither or both; false where the system or disk cannot."""
    try:
        library = ctypes.CDLL(None, use_errno=True)
        if sys.platform == "darwin":
            failed = library.renamex_np(os.fsencode(one), os.fsencode(other), _RENAME_SWAP)
        else:
            failed = library.renameat2(_AT_FDCWD, os.fsencode(one), _AT_FDCWD, os.fsencode(other), _RENAME_EXCHANGE)
    except (AttributeError, OSError, TypeError):
        return False
    if not failed:
        return True
    number = ctypes.get_errno()
    if number in (errno.ENOSYS, errno.EINVAL, errno.ENOTSUP):
        return False
    raise OSError(number, os.strerror(number), str(other))


def put_in_place(coming: Path, place: Path, former: Path) -> None:
    """Move `coming` to `place`; what was there is at `coming` (exchanged) or `former` (renamed) afterwards, if anything was.

    Without an exchange there is a moment between two renames in which nothing is at `place`; where the second is refused the
    first is taken back, and `put_back` mends a run that ended just then.
    """
    if not place.exists():
        coming.rename(place)
    elif not exchange_folders(coming, place):
        place.rename(former)
        try:
            coming.rename(place)
        except OSError:
            with suppress(OSError):  # then the next run does it
                put_back(place, former)
            raise


def put_back(place: Path, former: Path) -> None:
    """Restore what a run that ended between two renames had moved away."""
    if former.exists() and not place.exists():
        former.rename(place)


@contextmanager
def only_one(lock: Path, what: Path) -> Iterator[None]:
    """Hold a lock file for as long as the block runs; `PressError` when another process holds it.

    Beside it stands who does, for that message. A lock ends with its process, however that ends.
    """
    lock.parent.mkdir(parents=True, exist_ok=True)
    holder = lock.with_suffix(".holder")
    try:
        with FileLock(lock, timeout=0):
            holder.write_text(str(os.getpid()), encoding="utf-8")
            try:
                yield
            finally:
                holder.unlink(missing_ok=True)
    except Timeout:
        process = _read_holder(holder)
        raise PressError(f"another run is publishing {what} just now{process}; wait until it has finished") from None


def _read_holder(holder: Path) -> str:
    try:
        return f" (process {int(holder.read_text(encoding='utf-8'))})"
    except (OSError, ValueError):
        return ""
