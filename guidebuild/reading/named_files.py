"""Files that an entry names by a key, such as the file of a sound: matched with the disk, or a finding."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import PurePosixPath

from guidebuild.guide.findings import At
from guidebuild.later import imported_when_used
from guidebuild.reading.folder import same_name
from guidebuild.reading.notes import Notes

with imported_when_used():  # for slips
    from guidebuild.reading import nearest_name


@dataclass(frozen=True, slots=True)
class NamedFile:
    """Which file is looked for: the key that names it and where that stands, in which folders it may be, and how it may end.

    `owner` is whose file it is, such as “the sound “toad-song””; `codes` are those of the findings: not there, of another kind.
    """

    key: str
    at: At
    owner: str
    codes: tuple[str, str]
    folders: tuple[str, ...]
    endings: tuple[str, ...]

    @property
    def what(self) -> str:
        """What it is of its owner."""
        return f"{'file' if self.key == 'file' else f'{self.key} file'} of {self.owner}"


def places_of_filled(positions: Mapping[str, At], key: str, typed: str) -> Mapping[str, At]:
    """Where the keys of an entry stand; one that names a file and has nothing behind it stands nowhere, so that a check can miss it."""
    return positions if typed.strip() else {name: at for name, at in positions.items() if name != key}


def find_named_file(typed: str, wanted: NamedFile, known: Mapping[str, str], notes: Notes) -> str:
    """The file that a key names, as spelt on disk; nothing, with a finding, where it is not there or is of another kind.

    `known` has the files that there are, by their names as `same_name` writes them.
    """
    path = PurePosixPath(typed.strip().replace("\\", "/").removeprefix("./"))
    if path == PurePosixPath():
        return ""
    if path.is_absolute() or ".." in path.parts or ":" in str(path):
        notes.add("outside-guide", f"The file '{typed}' is not in the guide's folder.", wanted.at)
        return ""
    if path.suffix.lower() not in wanted.endings:
        mend = f"Give a file that ends in {', '.join(wanted.endings[:-1])} or {wanted.endings[-1]}."
        notes.add(wanted.codes[1], f"'{typed}' cannot be the {wanted.what}.", wanted.at, mend=mend)
        return ""
    starts = tuple(f"{folder}/" for folder in wanted.folders)
    places = [str(path)] if str(path).startswith(starts) else [f"{start}{path}" for start in starts]
    found = next((known[name] for place in places if (name := same_name(place)) in known), "")
    if not found:
        beside = [file for file in known.values() if file.startswith(starts) and file.lower().endswith(wanted.endings)]
        near = nearest_name.find_nearest_name(places[0], beside)
        mend = f"Did you mean {near}?" if near else f"Put the file there, or take `{wanted.key}:` out."
        notes.add(wanted.codes[0], f"The {wanted.what}, {places[0]}, is not there.", wanted.at, mend=mend)
    return found
