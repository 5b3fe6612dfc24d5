"""Changes to several files of a guide, made all or not at all, though a run is killed or the power fails.

What stood before is kept in the workshop folder.
"""

from __future__ import annotations

import errno
import json
import os
import shutil
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from guidebuild.errors import SaidInOneLineError
from guidebuild.press.engine.durable import sync_folder, sync_tree, write_safely
from guidebuild.press.engine.own_places import WORKSHOP, refuse_links_out
from guidebuild.press.engine.swap import name_refused_file, say_of_windows
from guidebuild.press.engine.trees import find_inside

_KEPT = "stood-before"
_KEPT_ONCE = ("renamed",)
"""Names that this folder had in earlier versions: what was broken off there is put back as well."""
_UNDER_WAY = "under-way.json"
_COMING = ".coming"


class CannotChangeError(SaidInOneLineError):
    """The files cannot be changed; all stand as before, and the message says why."""


@dataclass(frozen=True, slots=True)
class Changes:
    """`written` are whole files by the name that they have afterwards; `moves` are files that get another name.

    `created` are files that were not there, by their bytes or by the file that they are a copy of.
    """

    written: Mapping[str, bytes]
    moves: tuple[tuple[str, str], ...] = ()
    created: Mapping[str, bytes | Path] = field(default_factory=dict)

    @property
    def before(self) -> tuple[str, ...]:
        """The files that stood before and will not stand so any more."""
        moved = {new: old for old, new in self.moves}
        return tuple(dict.fromkeys((*moved.values(), *(moved.get(file, file) for file in self.written))))

    @property
    def after(self) -> tuple[str, ...]:
        """The files that stand afterwards and did not stand so before."""
        return tuple(dict.fromkeys((*self.written, *self.fresh)))

    @property
    def fresh(self) -> tuple[str, ...]:
        """Names that no file had before."""
        return (*(new for _, new in self.moves), *self.created)


def make_changes(folder: Path, changes: Changes) -> Path:
    """Make the changes; answers the folder in which what stood before is kept.

    Raises CannotChangeError where the disk refuses: then all is as before.
    """
    refuse_links_out(folder)
    _refuse_taken(folder, changes.created)
    kept = _new_folder(folder / WORKSHOP / _KEPT)
    try:
        for file in changes.before:
            (kept / file).parent.mkdir(parents=True, exist_ok=True)
            shutil.copy2(folder / file, kept / file)
        sync_tree(kept, changes.before)
        # From here on a kill leaves some of it done: this list tells the next run what to put back.
        note = {"before": changes.before, "fresh": changes.fresh, "coming": changes.after}
        write_safely(kept / _UNDER_WAY, json.dumps(note).encode())
        for above in (kept, *kept.parents[:3]):
            sync_folder(above)
        _write_beside(folder, changes)
        for old, _ in changes.moves:
            (folder / old).unlink()
        for file in changes.after:
            _put_in_place(folder / f"{file}{_COMING}", folder / file, is_new=file in changes.created)
        sync_tree(folder, changes.after)
        (kept / _UNDER_WAY).unlink()
        if not changes.before:
            kept.rmdir()  # nothing stood before
    except OSError as error:
        undo_broken_change(folder)
        raise CannotChangeError(
            f"{name_refused_file(error) or folder} cannot be changed: {say_of_windows(error) or error.strerror}. All stands as before."
        ) from error
    return kept


def _write_beside(folder: Path, changes: Changes) -> None:
    """The new files, each beside its place under another name."""
    moved = {new: old for old, new in changes.moves}
    for file in changes.after:
        former, target = folder / moved.get(file, file), folder / f"{file}{_COMING}"
        if file in changes.written:
            target.write_bytes(changes.written[file])
            shutil.copymode(former, target)
        elif file in changes.created:
            target.parent.mkdir(parents=True, exist_ok=True)
            _write_new(target, changes.created[file])
        else:
            shutil.copy2(former, target)


def _write_new(target: Path, given: bytes | Path) -> None:
    if isinstance(given, bytes):
        target.write_bytes(given)
    else:
        shutil.copyfile(given, target)  # a memory card's modes are not the guide's


def _put_in_place(coming: Path, target: Path, *, is_new: bool) -> None:
    """Give a file its name. A new one never takes the place of another that has come there meanwhile."""
    if is_new:
        try:
            os.link(coming, target)
            coming.unlink()
            return
        except FileExistsError:
            raise
        except OSError:  # a disk without such links: memory sticks, and what Windows writes
            if target.exists():
                raise FileExistsError(errno.EEXIST, os.strerror(errno.EEXIST), str(target)) from None
    coming.replace(target)


def _refuse_taken(folder: Path, created: Mapping[str, bytes | Path]) -> None:
    for file in created:
        if find_inside(folder, file) is None:
            raise CannotChangeError(f"{folder / file} would lie outside of the guide: is a folder of it a link? Nothing is changed.")
        if os.path.lexists(folder / file):
            raise CannotChangeError(f"{folder / file} is there already. Nothing is changed.")


def undo_broken_change(folder: Path) -> bool:
    """Put back what a change that was broken off has left; answers whether there was one."""
    refuse_links_out(folder)
    broken = [note for kept in (*_KEPT_ONCE, _KEPT) for note in sorted((folder / WORKSHOP / kept).glob(f"*/{_UNDER_WAY}"))]
    for note in broken:
        before, fresh, coming = _read_note(note)
        for file in fresh:
            target, still_coming = _path_inside(folder, file), _path_inside(folder, f"{file}{_COMING}")
            # While ours waits beside it under its other name, what has the name is somebody else's.
            if not (still_coming.exists() and target.exists() and not target.samefile(still_coming)):
                target.unlink(missing_ok=True)
        for file in coming:
            _path_inside(folder, f"{file}{_COMING}").unlink(missing_ok=True)
        for file in before:
            shutil.copy2(_path_inside(note.parent, file), _path_inside(folder, file))
        sync_tree(folder, before)
        note.unlink()
    return bool(broken)


def _read_note(note: Path) -> tuple[list[str], list[str], list[str]]:
    try:
        said = json.loads(note.read_text(encoding="utf-8"))
        return list(said["before"]), list(said["fresh"]), list(said["coming"])
    except (OSError, ValueError, KeyError, TypeError) as error:
        kept = "beside it are the files that stood before a change that was broken off"
        raise CannotChangeError(f"{note} cannot be read, {kept}. Put back what you miss of them, then take {note.name} away.") from error


def _path_inside(folder: Path, file: str) -> Path:
    """The path of a file below a folder. The list comes with the guide, and a stranger's could name any file of the machine."""
    if find_inside(folder, file) is None:
        raise CannotChangeError(f"{folder / WORKSHOP} names “{file}”, which lies outside of its folder. Take that folder away.")
    return folder / file


def _new_folder(above: Path) -> Path:
    """A new numbered folder."""
    try:
        above.mkdir(parents=True, exist_ok=True)
        taken = [int(path.name) for path in above.iterdir() if path.name.isdigit()]
        made = above / str(max(taken, default=0) + 1)
        made.mkdir()
    except OSError as error:
        raise CannotChangeError(f"{error.filename or above} cannot be written: {error.strerror}. All stands as before.") from error
    return made
