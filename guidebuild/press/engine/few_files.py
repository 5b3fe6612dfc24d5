"""Replacing a few files of a published folder that holds many, without touching the others.

A whole folder is put in place in a single step (`swap.py`), but each of its files is linked for that. Here everything new is
on the disk beside the published folder first, and a note says which file goes where; then the files are renamed into their
places one after another, the list of what is ours last, and the note goes.

What a reader can see meanwhile: every file is whole, the former or the new one. Of one file that changes, a reader has the
former state or the new one. Of several, a reader may for some thousandths of a second meet new files beside former ones: that
is why many files, among which such a mixture would last, go the other way. New files come first and those that are no longer made go
last, so that no link leads nowhere. When the run ends midway, that mixture stands until the next run or look begins: it finds
the note and finishes what was begun, or takes it back where the disk refuses. What the disk refuses at once is taken back at once.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from guidebuild.press.engine.claims import is_path_below
from guidebuild.press.engine.digest import digest_file
from guidebuild.press.engine.durable import sync_files, sync_folder, write_safely
from guidebuild.press.engine.trees import MANIFEST, has_only_folders_above, link, remove_empty_folders

FEW = 32
"""More files than these are never renamed one by one: the folder is exchanged as a whole."""
MANY = 2_000
"""A folder of fewer files is exchanged as a whole, too: to link them costs a tenth of a second."""


@dataclass(frozen=True, slots=True)
class Change:
    """One file's digests, each None where there is no such file: as it stands, and as it will."""

    former: str | None
    new: str | None


@dataclass(frozen=True, slots=True)
class Replacing:
    """The folders and the note of one replacement."""

    place: Path
    """The published folder."""
    coming: Path
    """Where new files wait, each at its path."""
    replaced: Path
    """Where former files are kept until all is done, so that it can be taken back."""
    note: Path
    """What is to be done, while it is being done."""


def suits_few_files(work: Replacing, changes: Mapping[str, Change], kept: int) -> bool:
    """Whether these changes are few beside the files that stay, and their paths hold nothing but plain files of ours on the same disk."""
    if len(changes) > FEW or kept < MANY:
        return False
    try:
        disk = work.note.parent.stat().st_dev
        return work.place.stat().st_dev == disk and all(_is_as_noted(work.place, path, change, disk) for path, change in changes.items())
    except OSError:
        return False


def replace_few_files(work: Replacing, changes: Mapping[str, Change]) -> None:
    """Put the new files in place, among them the list of what is ours, and take away those that are no longer made.

    Raises OSError where the disk refuses: then all is as it was and the new files wait as before, or the note still stands.
    """
    in_order = _order_changes(changes)
    sync_files(work.coming, [path for path, change in in_order.items() if change.new])
    for path, change in in_order.items():
        if change.former:
            link(work.place / path, work.replaced / path)
    note = {path: [change.former, change.new] for path, change in in_order.items()}
    write_safely(work.note, json.dumps(note).encode())
    sync_folder(work.note.parent)
    _do_or_undo(work, in_order)


def finish_replacing(work: Replacing) -> None:
    """Finish what a run that ended midway had begun; nothing where no note stands, or where it is not about this folder."""
    if work.note.exists():
        changes = _read_note(work.note)
        if changes and _is_about(work.place, changes):
            try:
                _do_or_undo(work, changes)
            except OSError:
                if work.note.exists():
                    raise
        work.note.unlink(missing_ok=True)
        sync_folder(work.note.parent)
        (work.coming / MANIFEST).unlink(missing_ok=True)  # what is left there was never published
    shutil.rmtree(work.replaced, ignore_errors=True)


def _is_as_noted(place: Path, path: str, change: Change, disk: int) -> bool:
    file = place / path
    if not has_only_folders_above(place, path):
        return False
    if change.former is None:
        return not os.path.lexists(file)
    return file.is_file() and not file.is_symlink() and file.stat().st_dev == disk


def _order_changes(changes: Mapping[str, Change]) -> dict[str, Change]:
    """New files first, then those that change, then those that go; the list of what is ours last."""
    return dict(sorted(changes.items(), key=lambda item: (item[0] == MANIFEST, item[1].new is None, item[1].former is not None, item[0])))


def _read_note(note: Path) -> dict[str, Change]:
    """What was to be done, by path; nothing where the note is damaged or names anything but files below the folder."""
    try:
        read = json.loads(note.read_text(encoding="utf-8"))
        changes = {str(path): Change(*(None if digest is None else str(digest) for digest in both)) for path, both in read.items()}
    except (OSError, ValueError, TypeError, AttributeError):
        return {}
    return changes if MANIFEST in changes and all(map(is_path_below, changes)) else {}


def _is_about(place: Path, changes: Mapping[str, Change]) -> bool:
    """Whether the folder is the one that the note was written for, before or after its list was replaced."""
    change = changes[MANIFEST]
    return _digest_now(place / MANIFEST) in {change.former, change.new}


def _do_or_undo(work: Replacing, changes: Mapping[str, Change]) -> None:
    """Put all in place and settle it on the disk, or put all back as it was and raise what the disk said."""
    try:
        for path, change in changes.items():
            _do(work, path, change)
    except OSError:
        with suppress(OSError):  # then the note stays for the next run
            for path, change in reversed(list(changes.items())):
                if has_only_folders_above(work.place, path):
                    _undo(work, path, change)
            _settle(work, changes)
        raise
    _settle(work, changes)


def _do(work: Replacing, path: str, change: Change) -> None:
    coming, target = work.coming / path, work.place / path
    if not has_only_folders_above(work.place, path):
        raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(target))
    if change.new is None:
        if _digest_now(target) == change.former:  # what someone has put there since is theirs
            target.unlink()
            remove_empty_folders(target.parent, work.place)
    elif coming.is_file() and not coming.is_symlink() and _digest_now(coming) == change.new:  # else it is in its place already
        if change.former is None and os.path.lexists(target):
            raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(target))
        target.parent.mkdir(parents=True, exist_ok=True)
        coming.replace(target)


def _undo(work: Replacing, path: str, change: Change) -> None:
    coming, target, replaced = work.coming / path, work.place / path, work.replaced / path
    if change.former and change.new and replaced.is_file() and _digest_now(target) == change.new:
        if not coming.exists():
            link(target, coming)
        replaced.replace(target)
    elif change.former is None and not coming.exists() and _digest_now(target) == change.new:
        target.replace(coming)
    elif change.new is None and replaced.is_file() and not os.path.lexists(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        replaced.replace(target)
    remove_empty_folders(target.parent, work.place)


def _settle(work: Replacing, changes: Iterable[str]) -> None:
    """Wait until every name is on the disk, then take the note away."""
    inner = {folder for path in changes for folder in PurePosixPath(path).parents}
    for folder in (top / folder for top in (work.place, work.coming) for folder in inner):
        if folder.is_dir():
            sync_folder(folder)
    work.note.unlink(missing_ok=True)
    sync_folder(work.note.parent)


def _digest_now(file: Path) -> str | None:
    try:
        return digest_file(file)
    except OSError:
        return None
