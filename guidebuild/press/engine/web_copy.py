"""The site copied into a folder that is put on the web, or that is a web space itself.

Only what an earlier copy put there is replaced or taken away; a list in the folder says what that was. A copy that ends midway is
finished by the next: the list names the files of both until all are in place.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.engine.digest import digest_bytes, digest_file
from guidebuild.press.engine.durable import write_safely
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.trees import (
    MANIFEST,
    ON_ITS_WAY,
    OwnList,
    find_inside,
    has_only_folders_above,
    read_list,
    remove_empty_folders,
    write_list,
)

SITE = "site/"
_NAMED = 3
"""Files in the way that a message names."""


@dataclass(frozen=True, slots=True)
class Copied:
    """What a copy came to: paths in the folder, and how many files stood already as they should."""

    written: tuple[str, ...]
    removed: tuple[str, ...]
    kept: int


def list_site(published: Path) -> Mapping[str, str]:
    """Digests of the site's published files by their paths in it; raises `PressError` where no site is published."""
    listed = read_list(published)
    files = {path.removeprefix(SITE): digest for path, digest in (listed.files if listed else {}).items() if path.startswith(SITE)}
    if not files:
        raise PressError(f"{published / SITE} holds no site yet; `guidebuild make site` publishes it")
    return files


def copy_site(published: Path, folder: Path, also: Mapping[str, bytes]) -> Copied:
    """Make a folder hold the published site and these further files, by their paths.

    Raises `PressError` where the folder is part of the guide, or where a file that is not of an earlier copy stands in the way.
    """
    _refuse_own_folder(published.parent, folder)
    site = list_site(published)
    new = {**site, **{path: digest_bytes(data) for path, data in also.items()}}
    folder.mkdir(parents=True, exist_ok=True)
    former = (read_list(folder) or OwnList()).files
    _refuse_what_is_in_the_way(folder, new, former)
    write_safely(folder / MANIFEST, write_list(OwnList({**former, **new})), ON_ITS_WAY)
    removed = tuple(sorted(former.keys() - new.keys()))
    for path in removed:
        _remove(folder, path)
    written = tuple(path for path, digest in sorted(new.items()) if not _stands(folder / path, digest))
    for path in written:
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        data = also[path] if path in also else (published / SITE / path).read_bytes()
        write_safely(folder / path, data, ON_ITS_WAY)
    write_safely(folder / MANIFEST, write_list(OwnList(new)), ON_ITS_WAY)
    return Copied(written, removed, len(new) - len(written))


def _refuse_own_folder(guide: Path, folder: Path) -> None:
    here, there = guide.resolve(), folder.resolve()
    if there.is_relative_to(here) or here.is_relative_to(there):
        raise PressError(f"{folder} is part of the guide, or holds it; choose a folder elsewhere for the copy")
    if folder.exists() and not folder.is_dir():
        raise PressError(f"{folder} is a file; give a folder")


def _refuse_what_is_in_the_way(folder: Path, new: Mapping[str, str], former: Mapping[str, str]) -> None:
    strangers = list(_find_strangers(folder, new, former))
    if strangers:
        more = f" and {len(strangers) - _NAMED} more" if len(strangers) > _NAMED else ""
        raise PressError(
            f"{folder} holds files of the same names that are not from an earlier copy: {', '.join(strangers[:_NAMED])}{more}; "
            "take them away, or choose another folder. Nothing was changed"
        )


def _find_strangers(folder: Path, new: Mapping[str, str], former: Mapping[str, str]) -> Iterator[str]:
    for path, digest in sorted(new.items()):
        file = folder / path
        is_other = path not in former and file.is_file() and digest_file(file) != digest
        if is_other or file.is_dir() or file.is_symlink() or not has_only_folders_above(folder, path):
            yield path


def _remove(folder: Path, path: str) -> None:
    """Take away a file of an earlier copy; the list in the folder may be anybody's, so nothing outside of it."""
    if find_inside(folder, path) == (folder.resolve() / path) and not (folder / path).is_dir():
        (folder / path).unlink(missing_ok=True)
        remove_empty_folders((folder / path).parent, folder)


def _stands(file: Path, digest: str) -> bool:
    return file.is_file() and digest_file(file) == digest
