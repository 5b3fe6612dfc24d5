"""The one who writes the guide's files for the desk: a file is changed whole or not at all, and what stood before is kept.

    writer = Writer(folder)
    standing = writer.read("accounts/parent-bug.md")            # its digest, and its values as typed
    written = writer.change("accounts/parent-bug.md", standing.digest, [SetValue(("status",), "rare")], guide)
    writer.undo()

Raises RefusedError (the message says what to write instead), ConflictError (changed elsewhere meanwhile) and CannotKeepError (the
disk refuses). After each of them all stands as before.
"""

from __future__ import annotations

import contextlib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from types import MappingProxyType

from filelock import FileLock, Timeout

from guidebuild.desk.editing.change_text import change_text, read_values
from guidebuild.desk.editing.wanted import Change, MoveItem, RefusedError, value_at
from guidebuild.errors import SaidInOneLineError
from guidebuild.former_texts import Former, FormerTexts, digest_of
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.press.engine.durable import sync_folder, write_safely
from guidebuild.press.engine.own_places import WORKSHOP, refuse_links_out
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.trees import find_inside
from guidebuild.reading.block import Plain
from guidebuild.reading.file_shapes import shape_of_file
from guidebuild.reading.one_file import find_faults

_WAIT = 10.0
"""Seconds for which another page's change is waited for."""
NO_FILES: Mapping[str, bytes] = MappingProxyType({})


class CannotKeepError(SaidInOneLineError):
    """The disk refuses; all stands as before, and the message says why."""


class ConflictError(SaidInOneLineError):
    """The file was changed elsewhere since the page read it. `theirs` is what the value is there now, `yours` what was wanted."""

    def __init__(self, file: str, digest: str, theirs: Plain, yours: Plain) -> None:
        super().__init__(f"{file} has been changed elsewhere since this page read it. Nothing was written.")
        self.file, self.digest, self.theirs, self.yours = file, digest, theirs, yours


@dataclass(frozen=True, slots=True)
class Standing:
    """A file as it stands: its digest ("" where there is none yet), its values as typed, sections by heading (`## In brief`)."""

    file: str
    digest: str
    values: dict[str, Plain]


@dataclass(frozen=True, slots=True)
class Written:
    """A file that was written, and the digest of what it holds now ("" where it is gone again); `files` is how many were."""

    file: str
    digest: str
    files: int = 1


class Writer:
    """Writes the files of one guide, one change after the other, whoever asks."""

    def __init__(self, folder: Path) -> None:
        """Nothing is read or written yet."""
        self._folder = folder
        self._former = FormerTexts(folder)

    def read(self, file: str) -> Standing:
        """A file's values; raises RefusedError for a file that is none of the guide's, or that cannot be read."""
        raw = self._bytes_of(self._path(file))
        return Standing(file, digest_of(raw), read_values(file, raw or _empty(file)))

    def change(
        self, file: str, digest: str, changes: Sequence[Change], guide: Guide | None, beside: Mapping[str, bytes] = NO_FILES
    ) -> Written:
        """Make all the changes, or none; `digest` is that of the file as the page saw it.

        `beside` are texts of files that only the tool writes: they are written, and taken back, with it.
        """
        path = self._path(file)
        with self._alone():
            raw = self._bytes_of(path)
            if digest_of(raw) != digest:
                raise self._conflict(file, raw, changes)
            old = raw or _empty(file)
            new = change_text(file, old, changes)
            refuse_new_faults(file, old, new, guide)
            planned = [(path, Former(0, file, raw, digest_of(new)), new)] if new != old else []
            for other, text in beside.items():
                there = self._inside(other)
                planned.append((there, Former(0, other, self._bytes_of(there), digest_of(text)), text))
            if planned:
                self._put_all(planned, self._former.keep_batch([former for _, former, _ in planned]))
            return Written(file, digest_of(new if new != old else raw))

    def change_many(self, wanted: Sequence[tuple[str, Sequence[Change]]], guide: Guide | None) -> None:
        """Make changes of several files, all or none; they are taken back as one."""
        with self._alone():
            planned: list[tuple[Path, Former, bytes]] = []
            for file, changes in wanted:
                path = self._path(file)
                raw = self._bytes_of(path)
                old = raw or _empty(file)
                try:
                    new = change_text(file, old, changes)
                    refuse_new_faults(file, old, new, guide)
                except RefusedError as error:
                    raise RefusedError(f"{file}: {error}") from error
                if new != old:
                    planned.append((path, Former(0, file, raw, digest_of(new)), new))
            if planned:
                kept = self._former.keep_batch([former for _, former, _ in planned])
                self._put_all(planned, kept)

    def put_texts(self, wanted: Sequence[tuple[str, bytes, bytes]]) -> None:
        """Give files another text, all or none: each by name, with what it must hold still and what it gets. They are taken back as one."""
        with self._alone():
            planned = [(self._path(file), Former(0, file, old, digest_of(new)), new) for file, old, new in wanted]
            for path, former, _ in planned:
                raw = self._bytes_of(path)
                if raw != former.raw:
                    raise ConflictError(former.file, digest_of(raw), _text_of(raw), _text_of(former.raw))
            self._put_all(planned, self._former.keep_batch([former for _, former, _ in planned]))

    def _put_all(self, planned: Sequence[tuple[Path, Former, bytes]], kept: Sequence[Former]) -> None:
        """After what stood before was kept: whenever this ends, one of the two is whole on the disk."""
        done: list[tuple[Path, Former]] = []
        try:
            for path, former, new in planned:
                self._put(path, new)
                done.append((path, former))
        except OSError:
            for path, former in done:
                with contextlib.suppress(OSError):
                    self._put(path, former.raw)
            self._former.forget(kept)
            raise

    def undo(self) -> Written | None:
        """Put back what stood before the last change that is there still; None where none is kept.

        Raises ConflictError where one of its files was changed elsewhere since: then none is put back.
        """
        with self._alone():
            for batch in self._former.latest_first():
                made = [(former, path) for former in batch if self._was_made(former, path := self._inside(former.file))]
                for former, path in made:
                    raw = self._bytes_of(path)
                    if digest_of(raw) != former.became:
                        raise ConflictError(former.file, digest_of(raw), _text_of(raw), _text_of(former.raw))
                for former, path in made:
                    self._put(path, former.raw)
                self._former.forget(batch)
                if made:
                    first = made[0][0]
                    return Written(first.file, digest_of(first.raw), len(made))
        return None

    def _was_made(self, former: Former, path: Path) -> bool:
        """Whether a change was made at all: what still holds its former text was broken off before."""
        return not digest_of(self._bytes_of(path)) == digest_of(former.raw) != former.became

    def list_undoable(self) -> tuple[str, ...]:
        """The files of the changes that can be taken back, the latest first; of several that were changed at once, the first."""
        return tuple(batch[0].file for batch in self._former.latest_first())

    def _inside(self, file: str) -> Path:
        """Where a file stands that was changed before: it may be a photo, but none that lies elsewhere."""
        path = find_inside(self._folder, file)
        if path is None:
            raise RefusedError(f"“{file}” lies outside of this guide.")
        return path

    def _path(self, file: str) -> Path:
        """Where a file stands; only files that a guide is read from, and no link that leads out of it."""
        path = find_inside(self._folder, file)
        if shape_of_file(file) is None or path is None:
            raise RefusedError(f"“{file}” is no file of this guide that the desk can change.")
        return path

    def _bytes_of(self, path: Path) -> bytes | None:
        try:
            return path.read_bytes()
        except FileNotFoundError:
            return None
        except OSError as error:
            raise RefusedError(f"{path.name} cannot be opened: {error.strerror}.") from error

    @contextlib.contextmanager
    def _alone(self) -> Iterator[None]:
        try:
            refuse_links_out(self._folder)
            (self._folder / WORKSHOP).mkdir(exist_ok=True)
            with FileLock(self._folder / WORKSHOP / "edit.lock", timeout=_WAIT):
                yield
        except Timeout as error:
            raise CannotKeepError("Another desk has been writing in this guide for ten seconds. Try again when it is done.") from error
        except PressError as error:
            raise CannotKeepError(f"{error}.") from error
        except OSError as error:
            raise CannotKeepError(f"{error.filename or self._folder} cannot be written: {error.strerror}. All stands as before.") from error

    def _put(self, path: Path, raw: bytes | None) -> None:
        if raw is None:
            path.unlink(missing_ok=True)
            return
        coming = path.with_name(f".{path.name}.coming")  # hidden, so that no reader takes it for a file of the guide
        try:
            path.parent.mkdir(exist_ok=True)
            mode = path.stat().st_mode if path.exists() else None
            write_safely(path, raw, coming.name)
            if mode is not None:
                path.chmod(mode)  # who may read the file is the author's choice
        except OSError:
            with contextlib.suppress(OSError):
                coming.unlink(missing_ok=True)
            raise
        with contextlib.suppress(OSError):  # it is written: whether its name is on the disk by now is all that is open
            sync_folder(path.parent)

    def _conflict(self, file: str, raw: bytes | None, changes: Sequence[Change]) -> ConflictError:
        first = changes[0]
        theirs: Plain = None
        with contextlib.suppress(RefusedError):
            theirs = value_at(read_values(file, raw or _empty(file)), first.path)
        return ConflictError(file, digest_of(raw), theirs, None if isinstance(first, MoveItem) else first.value)


def _empty(file: str) -> bytes:
    return b"---\n---\n" if file.endswith(".md") else b""


def _text_of(raw: bytes | None) -> str | None:
    return None if raw is None else raw.decode("utf-8", errors="replace")


def refuse_new_faults(file: str, old: bytes, new: bytes, guide: Guide | None) -> None:
    """Raise RefusedError, in the reader's own words, where the new text has an error that the old one has not."""
    before = Counter(_without_place(finding) for finding in find_faults(file, old, guide))
    for finding in find_faults(file, new, guide):
        known = _without_place(finding)
        before[known] -= 1
        if before[known] < 0 and finding.level is Level.ERROR:
            raise RefusedError(f"{finding.message} {finding.mend}".strip())


def _without_place(finding: Finding) -> tuple[str, str]:
    return finding.code, finding.message
