"""What lies in a guide's folder: the files by kind, and findings for names and links that would fail elsewhere."""

from __future__ import annotations

import os
import re
import stat
import unicodedata
from collections import defaultdict
from dataclasses import dataclass
from pathlib import Path, PurePosixPath

from guidebuild.guide.findings import At
from guidebuild.guide.ids import is_device
from guidebuild.guide.media_types import FILM_TYPES, SOUND_TYPES
from guidebuild.reading.notes import Notes

# Microsoft, "Naming Files, Paths, and Namespaces": signs that no name may hold, and a space or full stop at its end.
_STRANGE_TO_WINDOWS = re.compile(r'[<>:"\\|?*]|[ .]$')
_SKIPPED = frozenset({"published", "theme", "node_modules", "__pycache__"})
PICTURES = frozenset({".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff", ".gif", ".bmp", ".heic", ".heif", ".avif"})
# Folder -> the endings of the files that are read in it.
SIGHTINGS = (".csv", ".txt", ".tsv", ".xlsx", ".xls", ".ods", ".zip")
"""What files of sightings end in."""
FILM_ENDINGS, SOUND_ENDINGS = tuple(FILM_TYPES), tuple(SOUND_TYPES)
"""What files of films and of sounds end in."""
_READ = {
    "accounts": (".md",),
    "episodes": (".md",),
    "posts": (".md", ".said.yaml"),
    "walks": (".yaml", ".gpx", ".geojson", ".kml"),
    "sightings": SIGHTINGS,
    "films": (*FILM_ENDINGS, ".vtt", ".srt", ".said.yaml"),
    "sounds": SOUND_ENDINGS,
}
_IN_ANY_CASE = frozenset({"sightings", "films", "sounds"})
TRANSLATION = re.compile(r"(?P<id>.+)\.(?P<language>[A-Za-z]{2,3}(?:-[A-Za-z0-9]{2,8})*)")
"""What a translation's file is called without `.md`: its account, and its language."""
LISTS = ("plants", "places", "characters", "glossary", "sources", "photos", "films", "sounds", "sightings")


@dataclass(frozen=True, slots=True)
class Folder:
    """A guide on disk. `files` are relative to `root`, with forward slashes, as spelt on disk, in order."""

    root: Path
    files: tuple[str, ...]

    def inside(self, folder: str, ending: str | tuple[str, ...]) -> tuple[str, ...]:
        """Files that stand right in a folder and end so; of several endings, in whatever capitals."""
        return tuple(
            f
            for f in self.files
            if f.startswith(f"{folder}/") and f.count("/") == 1 and (f if isinstance(ending, str) else f.lower()).endswith(ending)
        )

    @property
    def pictures(self) -> tuple[str, ...]:
        """Every file under photos/ that is a picture by its ending."""
        return tuple(f for f in self.files if f.startswith("photos/") and PurePosixPath(f).suffix.lower() in PICTURES)

    @property
    def films(self) -> tuple[str, ...]:
        """Every film in films/, by its ending."""
        return self.inside("films", FILM_ENDINGS)

    @property
    def sounds(self) -> tuple[str, ...]:
        """Every recording in sounds/, by its ending."""
        return self.inside("sounds", SOUND_ENDINGS)


def look_into(root: Path, notes: Notes) -> Folder:
    """Walk the folder once. Hidden files, what the tool publishes and theme overrides are not read."""
    files: list[str] = []
    base = root.resolve()
    for here, folders, names in os.walk(root):
        place = Path(here)
        top = place == root
        inside = place.relative_to(root).as_posix()
        folders[:] = sorted(f for f in folders if not f.startswith(".") and not (top and f in _SKIPPED))
        for name in sorted([*names, *(f for f in folders if (place / f).is_symlink())]):
            path = place / name
            file = name if top else f"{inside}/{name}"
            if not _can_be_said(file, notes):
                continue
            if not name.startswith((".", "~$")) and name not in {"Thumbs.db", "desktop.ini"} and _is_file_of_guide(path, base, file, notes):
                files.append(file)
        folders[:] = [f for f in folders if not (place / f).is_symlink()]
    _note_clashes(files, notes)
    _note_unexpected(files, notes)
    _note_strange_to_windows(files, notes)
    return Folder(root, tuple(sorted(files)))


def _can_be_said(file: str, notes: Notes) -> bool:
    """Whether a name can be printed: bytes that are no UTF-8 and control characters cannot, and no page could link to them."""
    if file.isprintable() or not any(unicodedata.category(sign) in {"Cc", "Cs"} for sign in file):
        return True
    shown = ascii(file)[1:-1]
    notes.add("bad-file-name", f"The name of {shown} has signs in it that cannot be shown.", At(shown))
    return False


def _is_file_of_guide(path: Path, base: Path, file: str, notes: Notes) -> bool:
    """Whether it is a plain file, or a link to one in the guide. A pipe or device would keep whoever reads it waiting for ever."""
    try:
        mode = path.lstat().st_mode
        target = path.resolve(strict=True) if stat.S_ISLNK(mode) else path
        mode = target.stat().st_mode if target is not path else mode
    except FileNotFoundError:
        target, mode = path.resolve(), 0
    except (OSError, RuntimeError):  # a link that leads round to itself is one or the other, by the version of Python
        notes.add("file-not-readable", f"{file} is a link that leads nowhere.", At(file))
        return False
    if target is not path and not target.is_relative_to(base):
        notes.add("outside-guide", f"{file} is a link that leads out of the guide's folder.", At(file))
        return False
    if not stat.S_ISREG(mode):
        what = "is a link to something that is not a file" if target is not path else "is not a file that can be read, but a pipe or device"
        notes.add("file-not-readable", f"{file} {what}.", At(file))
        return False
    return True


def same_name(file: str) -> str:
    """A name as a disk sees it that knows neither case nor how accents are composed."""
    return unicodedata.normalize("NFC", unicodedata.normalize("NFC", file).casefold())


def _note_clashes(files: list[str], notes: Notes) -> None:
    alike: dict[str, list[str]] = defaultdict(list)
    for file in files:
        alike[same_name(file)].append(file)
    for names in alike.values():
        if len(names) < 2:
            continue
        composed = {unicodedata.normalize("NFC", name) for name in names}
        why = "only in how their accents are composed" if len(composed) == 1 else "only in capitals or accents"
        shown = " and ".join(ascii(name) if len(composed) == 1 else name for name in names)
        for name in names[1:]:
            notes.add("names-clash", f"{shown} differ {why}.", At(name))


def _note_strange_to_windows(files: list[str], notes: Notes) -> None:
    for file in files:
        # Names of accounts, episodes and walks are ids, which are looked at anyway.
        parts = [] if file.startswith(("accounts/", "episodes/", "posts/", "walks/")) else file.split("/")
        if any(_STRANGE_TO_WINDOWS.search(part) or is_device(part) for part in parts):
            notes.add("not-for-windows", f"“{file}” is no name that a file can have on Windows.", At(file))


def _note_unexpected(files: list[str], notes: Notes) -> None:
    for file in files:
        folder, _, rest = file.partition("/")
        ending = PurePosixPath(file).suffix
        stem = file.removesuffix(ending)
        if not rest and ending == ".yml" and stem in {*LISTS, "guide"}:
            notes.add("unexpected-file", f"{file} is not read.", At(file), mend=f"Rename it to {stem}.yaml.")
        elif folder in _READ and rest and ("/" in rest or not (file.lower() if folder in _IN_ANY_CASE else file).endswith(_READ[folder])):
            wanted = f"Files that end in {' or '.join(_READ[folder])} and stand right in {folder} are read."
            notes.add("unexpected-file", f"{file} is not read.", At(file), mend=wanted)
