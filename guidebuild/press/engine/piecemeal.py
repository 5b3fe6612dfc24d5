"""Publishing into a folder that cannot be exchanged as a whole, as it is a disk of its own: file by file.

A reader who looks meanwhile may see new pages beside former ones. A run that ends midway is finished by the next: the list
in the folder names the files of both until all are in place.
"""

from __future__ import annotations

import errno
import shutil
from collections.abc import Mapping
from pathlib import Path

from guidebuild.press.engine.durable import sync_tree, write_safely
from guidebuild.press.engine.trees import (
    MANIFEST,
    ON_ITS_WAY,
    OwnList,
    files_below,
    is_carried,
    read_list,
    remove_empty_folders,
    write_list,
)

NOT_AS_A_WHOLE = frozenset((errno.EBUSY, errno.EXDEV))
"""What a system answers where a folder is a disk of its own, or is held in its place."""


def replace_one_by_one(coming: Path, place: Path, former: Mapping[str, str]) -> None:
    """Make the files at `place` those of `coming`, of which all that `former` lists and that are no longer made are removed."""
    listed = read_list(coming) or OwnList()
    new = listed.files
    write_safely(place / MANIFEST, write_list(OwnList({**former, **new})), ON_ITS_WAY)
    # What is no longer made goes first: it may stand where a folder is wanted, or in a folder where a file is.
    for path in former.keys() - new.keys():
        (place / path).unlink(missing_ok=True)
        remove_empty_folders((place / path).parent, place)
    for path in sorted(files_below(coming)):
        if path != MANIFEST and not is_carried(coming / path, place / path):
            (place / path).parent.mkdir(parents=True, exist_ok=True)
            # Under another name first, so that no reader meets half a file.
            shutil.copy2(coming / path, place / ON_ITS_WAY, follow_symlinks=False)
            (place / ON_ITS_WAY).replace(place / path)
    sync_tree(place, new)
    write_safely(place / MANIFEST, write_list(listed), ON_ITS_WAY)
