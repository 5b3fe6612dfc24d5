"""Taking down a folder that was published before, without losing a file that is not ours."""

from __future__ import annotations

import filecmp
import os
import shutil
from collections.abc import Collection
from pathlib import Path

from guidebuild.press.engine.trees import MANIFEST, OUR_OWN, files_below, has_only_folders_above, is_carried, read_list


def retire_files(old: Path, place: Path, workshop: Path, known: Collection[str] = ()) -> tuple[Path, ...]:
    """Remove a former or unfinished tree; files of others in it that are not at `place` are moved there.

    An unfinished tree (one without a list) holds only what we wrote and links to what is still at `place`.  A file that
    differs from the one now at its path is set aside in the workshop; those are returned. `known` are the paths that are ours
    where the list is damaged.
    """
    set_aside = []
    if (old / MANIFEST).exists():
        listed = read_list(old)
        ours: Collection[str] = known if listed is None else listed.files
        for path in files_below(old):
            if path in ours or path in OUR_OWN or _stands_already(old / path, place / path):
                continue
            target = place / path
            if os.path.lexists(target) or not has_only_folders_above(place, path):
                target = _free(workshop / "set aside" / path)
                set_aside.append(target)
            target.parent.mkdir(parents=True, exist_ok=True)
            (old / path).rename(target)
        # Once the list is gone the tree counts as unfinished, so it goes only after all others have been moved.
        (old / MANIFEST).unlink()
    shutil.rmtree(old)
    return tuple(set_aside)


def _stands_already(old: Path, now: Path) -> bool:
    if is_carried(old, now):
        return True
    return old.is_file() and now.is_file() and not now.is_symlink() and filecmp.cmp(old, now, shallow=False)


def _free(path: Path) -> Path:
    number = 1
    free = path
    while os.path.lexists(free):
        number += 1
        free = path.with_name(f"{path.name} ({number})")
    return free
