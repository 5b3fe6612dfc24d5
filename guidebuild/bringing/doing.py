"""A plan → the guide's folder, all of it or nothing. What stands is never written over; texts only get lines at their end."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from pathlib import Path

from guidebuild.bringing.plan import BringingPlan
from guidebuild.changes import CannotChangeError, Changes, make_changes
from guidebuild.former_texts import Former, FormerTexts, digest_of
from guidebuild.guide.findings import Level
from guidebuild.reading.notes import Notes
from guidebuild.reading.yaml_text import read_block


def do_bringing(folder: Path, plan: BringingPlan) -> None:
    """Do what a plan says; the desk can take it back. Raises CannotChangeError where it cannot be done; then all stands as before."""
    created: dict[str, bytes | Path] = {file.file: file.source or file.text.encode() for file in plan.files}
    written = dict(plan.changed)
    for file, lines in plan.added.items():
        path = folder / file
        if path.exists():
            written[file] = _append(path, file, lines)
        else:
            created[file] = lines.encode()
    if created or written:
        kept = _keep_former(folder, written, created)
        try:
            make_changes(folder, Changes(written, created=created))
        except CannotChangeError:
            FormerTexts(folder).forget(kept)
            raise


def _keep_former(folder: Path, written: Mapping[str, bytes], created: Mapping[str, bytes | Path]) -> tuple[Former, ...]:
    """Note what stands, before anything is done: of what is then not done, nothing is taken back."""
    formers = [Former(0, file, (folder / file).read_bytes(), digest_of(new)) for file, new in written.items()]
    formers += [Former(0, file, None, _digest_new(new)) for file, new in created.items()]
    try:
        return FormerTexts(folder).keep_batch(formers)
    except OSError as error:
        raise CannotChangeError(f"{error.filename or folder} cannot be written: {error.strerror}. Nothing is changed.") from error


def _digest_new(new: bytes | Path) -> str:
    if isinstance(new, bytes):
        return digest_of(new)
    with new.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def _append(path: Path, file: str, lines: str) -> bytes:
    """A text of records with further ones behind it, each line ended as its lines are; the rest stays as it is to the byte."""
    try:
        standing = path.read_bytes()
        text = standing.decode("utf-8-sig")
    except OSError as error:
        raise CannotChangeError(f"{file} cannot be read: {error.strerror}. Nothing is changed.") from error
    except UnicodeDecodeError as error:
        raise CannotChangeError(f"{file} is not saved as UTF-8. Save it so first; nothing is changed.") from error
    newline = "\r\n" if "\r\n" in text else "\n"
    between = newline if text and not text.endswith(("\n", "\r")) else ""
    coming = standing + between.encode() + lines.replace("\n", newline).encode()
    notes = Notes()
    block = read_block(coming.decode("utf-8-sig").replace("\r\n", "\n"), file, notes)
    fault = next((finding for finding in notes.findings if finding.level is Level.ERROR), None)
    if block is None or fault is not None:
        raise CannotChangeError(f"{fault or file}: records can be put to the end of {file} once that is mended. Nothing is changed.")
    return coming
