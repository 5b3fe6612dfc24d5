"""Keys that had another name in an earlier version, and keys that are typed otherwise than they are written: `Host_Plants`."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from guidebuild.reading.block import Step

_BY_HAND = "sensitive"
"""Whoever corrects this key decides what the public learns, so it is corrected by hand."""


class MovedKey(NamedTuple):
    """A key that has another name since a version."""

    file: str
    """`photos.yaml`, or the folder: `accounts`."""
    path: tuple[str, ...]
    """The keys that lead to it, its former name last. Ids of records and places in lists are left out; `*` is any key."""
    now: str
    since: str


MOVED_KEYS: tuple[MovedKey, ...] = ()
"""Every key that has moved. None has so far: all 276 keys that any version had are keys still."""


class KeyNow(NamedTuple):
    """What a key is called today; `since` is empty where it was only typed otherwise."""

    key: str
    since: str


def find_key_now(file: str, loc: Sequence[Step], known: Iterable[str], *, in_records: bool) -> KeyNow | None:
    """What an unknown key at a path is called today, None where nothing is surely meant. `in_records`: the path begins with an id."""
    known = tuple(known)
    keys = [step for step in loc[in_records:] if isinstance(step, str)]
    for moved in MOVED_KEYS:
        if moved.file == file.partition("/")[0] and _leads_to(moved.path, keys) and moved.now in known:
            return KeyNow(moved.now, moved.since)
    meant = [key for key in known if fold_key(key) == fold_key(str(loc[-1]))]
    return KeyNow(meant[0], "") if len(meant) == 1 and meant[0] != _BY_HAND else None


def fold_key(key: str) -> str:
    """A key in small letters, with one space for each hyphen, underscore or run of spaces."""
    return " ".join(key.casefold().replace("_", " ").replace("-", " ").split())


def _leads_to(path: Sequence[str], keys: Sequence[str]) -> bool:
    return len(path) == len(keys) and all(step in ("*", key) for step, key in zip(path, keys, strict=True))
