"""Taking down a folder that was published before, without losing a file that is not ours."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from guidebuild.press.engine.trees import MANIFEST, files_below, is_carried, read_manifest


def retire_files(old: Path, place: Path, workshop: Path) -> tuple[Path, ...]:
    """Remove a former or unfinished tree; files of others in it that are not at `place` are moved there.

    An unfinished tree (one without a list) holds only what we wrote and links to what is still at `place`.  A file that
    differs from the one now at its path is set aside in the workshop; those are returned.
    """
    set_aside = []
    if (old / MANIFEST).exists():
        ours = read_manifest(old)
        for path in files_below(old):
            if path in ours or path == MANIFEST or is_carried(old / path, place / path):
                continue
            target = place / path
            if os.path.lexists(target):
                target = _free(workshop / "set aside" / path)
                set_aside.append(target)
            target.parent.mkdir(parents=True, exist_ok=True)
            (old / path).rename(target)
        # Once the list is gone the tree counts as unfinished, so it goes only after all others have been moved.
        (old / MANIFEST).unlink()
    shutil.rmtree(old)
    return tuple(set_aside)


def _free(path: Path) -> Path:
    number = 1
    free = path
    while os.path.lexists(free):
        number += 1
        free = path.with_name(f"{path.name} ({number})")
    return free
