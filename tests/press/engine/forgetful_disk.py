"""A disk that forgets: it notes all that is done to a folder, and shows it as it may be found after the power failed.

What was written out (fsync, syncfs) is certain. Of all that was done since, any part may be lost, each step by itself, as the
order in which systems write names is their own affair; and a file whose bytes were not written out has its length and zeros.
"""

from __future__ import annotations

import ctypes
import os
import random
import shutil
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import pytest

from guidebuild.press.engine import durable, swap


@dataclass(frozen=True)
class Step:
    """One thing done: `what` it was, to which paths below the folder, with which bytes."""

    what: str
    paths: tuple[str, ...]
    data: bytes = b""


@dataclass
class ForgetfulDisk:
    """A folder and all that was done to it since the watch began."""

    root: Path
    steps: list[Step] = field(default_factory=list)

    def watch(self, patch: pytest.MonkeyPatch, *, exchange: bool, whole: bool) -> None:
        """Note what is done from now on; without `exchange` two renames stand in, without `whole` each file is written out by itself."""
        for name in ("rename", "replace", "unlink", "rmdir", "mkdir"):
            self._note_method(patch, name)
        self._note_writes(patch)
        patch.setattr(os, "link", self._noted("link", os.link))
        patch.setattr(shutil, "rmtree", self._rmtree)
        real_sync = os.fsync

        def sync(handle: int) -> None:
            real_sync(handle)
            path = Path(f"/proc/self/fd/{handle}").readlink()
            self._note("sync folder" if path.is_dir() else "sync file", path)

        patch.setattr(os, "fsync", sync)

        def sync_all(folder: Path) -> bool:
            if whole:
                self._note("sync all", folder)
            return whole

        patch.setattr(durable, "sync_disk", sync_all)
        patch.setattr(swap, "exchange_folders", self._exchange if exchange else lambda one, other: False)

    def after_a_cut(self, start: Path, place: Path, last: int, draw: random.Random) -> None:
        """Lay out at `place` what may be found where the power failed after so many steps, beginning from the folder at `start`."""
        shutil.copytree(start, place, symlinks=True)
        done = self.steps[:last]
        keep = draw.choice((0.0, 0.5, 0.9, 1.0))
        prefix = draw.randrange(last + 1) if draw.random() < 0.5 else None
        for number, step in enumerate(done):
            certain = self._is_certain(number, step, done)
            survives = certain or (number < prefix if prefix is not None else draw.random() < keep)
            if survives:
                self._do(step, place, whole=self._has_bytes(number, step, done) or draw.random() < 0.2)

    def _is_certain(self, number: int, step: Step, done: list[Step]) -> bool:
        # A link changes only the folder that it is made in.
        folders = {str(Path(path).parent) for path in (step.paths[1:] if step.what == "link" else step.paths)}
        for later in done[number + 1 :]:
            if later.what == "sync all":
                return True
            if later.what == "sync folder":
                folders -= set(later.paths)
                if not folders:
                    return True
        return False

    def _has_bytes(self, number: int, step: Step, done: list[Step]) -> bool:
        path = step.paths[0]
        for later in done[number + 1 :]:
            if later.what == "sync all" or (later.what == "sync file" and later.paths[0] == path):
                return True
            if later.what in {"rename", "replace"} and later.paths[0] == path:
                path = later.paths[1]
        return False

    def _do(self, step: Step, root: Path, *, whole: bool) -> None:
        """Do a step again; one that can no longer be done, as another was lost, is lost too."""
        one, *others = (root / path for path in step.paths)
        try:
            if step.what == "write":
                one.write_bytes(step.data if whole else bytes(len(step.data)))
            elif step.what == "exchange":
                between = one.with_name("between")
                one.rename(between)
                others[0].rename(one)
                between.rename(others[0])
            elif step.what == "link":
                os.link(one, others[0], follow_symlinks=False)
            elif step.what in {"rename", "replace"}:
                getattr(os, step.what)(one, others[0])
            elif step.what in {"unlink", "rmdir", "mkdir"}:
                getattr(os, step.what)(one)
        except OSError:
            return

    def _note(self, what: str, *paths: Path, data: bytes = b"") -> None:
        if all(path.is_relative_to(self.root) for path in paths):
            self.steps.append(Step(what, tuple(path.relative_to(self.root).as_posix() for path in paths), data))

    def _noted(self, what: str, real: Callable[..., Any]) -> Callable[..., Any]:
        def noted(one: Any, other: Any, **options: Any) -> None:
            real(one, other, **options)
            self._note(what, Path(one), Path(other))

        return noted

    def _note_method(self, patch: pytest.MonkeyPatch, name: str) -> None:
        real = getattr(Path, name)

        def noted(path: Path, *arguments: Any, **options: Any) -> Any:
            was_there = path.exists()
            answer = real(path, *arguments, **options)
            if name != "mkdir" or not was_there:
                self._note(name, path, *(Path(argument) for argument in arguments if isinstance(argument, Path)))
            return answer

        patch.setattr(Path, name, noted)

    def _note_writes(self, patch: pytest.MonkeyPatch) -> None:
        real_bytes, real_text, real_open = Path.write_bytes, Path.write_text, Path.open

        def write_bytes(path: Path, data: bytes) -> int:
            with patch.context() as quiet:
                quiet.setattr(Path, "open", real_open)
                size = real_bytes(path, data)
            self._note("write", path, data=bytes(data))
            return size

        def write_text(path: Path, text: str, **options: Any) -> int:
            return write_bytes(path, text.encode()) if path.is_relative_to(self.root) else real_text(path, text, **options)

        def open_path(path: Path, mode: str = "r", *arguments: Any, **options: Any) -> Any:
            file = real_open(path, mode, *arguments, **options)
            if mode == "wb":
                real_write = file.write

                class Noted:
                    """A file whose writes are noted."""

                    def __enter__(self) -> Noted:
                        return self

                    def __exit__(self, *_: object) -> None:
                        file.close()

                    def __getattr__(self, name: str) -> Any:
                        return getattr(file, name)

                    def write(_, data: bytes) -> int:
                        self._note("write", path, data=data)
                        return int(real_write(data))

                return Noted()
            return file

        patch.setattr(Path, "write_bytes", write_bytes)
        patch.setattr(Path, "write_text", write_text)
        patch.setattr(Path, "open", open_path)

    def _rmtree(self, tree: Path, ignore_errors: bool = False) -> None:
        if not tree.exists():
            return
        for folder, folders, names in os.walk(tree, topdown=False):
            for name in names:
                (Path(folder) / name).unlink()
            for name in folders:
                (Path(folder) / name).rmdir()
        tree.rmdir()

    def _exchange(self, one: Path, other: Path) -> bool:
        library = ctypes.CDLL(None)
        if library.renameat2(-100, os.fsencode(one), -100, os.fsencode(other), 2):
            raise OSError("no exchange here")
        self._note("exchange", one, other)
        return True
