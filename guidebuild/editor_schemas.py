"""Schemas written into a guide, where an editor finds them: it completes keys and ids there, and underlines slips."""

from __future__ import annotations

import hashlib
import json
from contextlib import suppress
from pathlib import Path

from guidebuild import __version__
from guidebuild.guide.guide import Guide
from guidebuild.later import imported_when_used

with imported_when_used():  # every check looks whether a guide has schemas, and most have none
    from guidebuild import authoring
    from guidebuild.press.engine import durable
    from guidebuild.reading import schema as schemas

FOLDER = ".schemas"
_KNOWN = "written-for"
"""In that folder: a digest of the ids that the schemas were written for."""
_SIGN = "# yaml-language-server: $schema="
"""How a YAML file tells an editor its schema; other readers take it for a comment."""
_FILES = ("guide", "plants", "places", "characters", "glossary", "sources", "photos", "films", "sounds", "sightings")


def write_schemas(folder: Path, guide: Guide) -> tuple[str, ...]:
    """Write the schemas of a guide, and name them in the first line of each of its YAML files that names none: the files that changed.

    Raises CannotWriteError where something cannot be written.
    """
    try:
        (folder / FOLDER).mkdir(exist_ok=True)
        written = _write(folder / FOLDER, schemas.list_known(guide))
        files = [(f"{kind}.yaml", f"{FOLDER}/{kind}.json") for kind in _FILES]
        files += [(path.relative_to(folder).as_posix(), f"../{FOLDER}/walk.json") for path in sorted((folder / "walks").glob("*.yaml"))]
        written += [file for file, schema in files if _name_schema(folder / file, schema)]
    except OSError as error:
        raise authoring.CannotWriteError(f"{error.filename} cannot be written: {error.strerror}.") from error
    return tuple(written)


def refresh_schemas(folder: Path, guide: Guide) -> None:
    """Write a guide's schemas again where it has them and other ids than when they were written: no editor underlines a new one."""
    place = folder / FOLDER
    if place.is_dir() and not place.is_symlink():
        known = schemas.list_known(guide)
        with suppress(OSError):  # a guide that can only be read is checked all the same
            if not (place / _KNOWN).is_file() or (place / _KNOWN).read_text("utf-8") != _digest(known):
                _write(place, known)


def _write(place: Path, known: schemas.Known) -> list[str]:
    written = []
    for kind, schema in schemas.make_schemas(known).items():
        path = place / f"{kind}.json"
        text = json.dumps(schema, ensure_ascii=False, indent=1) + "\n"
        if not path.is_file() or path.read_text("utf-8") != text:
            durable.write_safely(path, text.encode())
            written.append(f"{FOLDER}/{kind}.json")
    durable.write_safely(place / _KNOWN, _digest(known).encode())
    return written


def _digest(known: schemas.Known) -> str:
    return hashlib.sha256(json.dumps([__version__, known]).encode()).hexdigest()


def _name_schema(path: Path, schema: str) -> bool:
    """Name a schema in a file that names none; whether it changed."""
    data = path.read_bytes() if path.is_file() and not path.is_symlink() else None
    if data is None or _SIGN.encode() in data or data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return False
    mark = b"\xef\xbb\xbf" if data.startswith(b"\xef\xbb\xbf") else b""
    end = b"\r\n" if b"\r\n" in data else b"\n"
    durable.write_safely(path, mark + f"{_SIGN}{schema}".encode() + end + data.removeprefix(mark))
    return True
