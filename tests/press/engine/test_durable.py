"""What is written is on the disk before anything stands on it: by one call where the system has it, else file by file."""

from __future__ import annotations

import ctypes
import errno
import os
from collections.abc import Callable
from pathlib import Path
from types import SimpleNamespace

import pytest

from guidebuild.press.engine import durable
from guidebuild.press.engine.durable import sync_disk, sync_folder, sync_tree, write_safely


@pytest.fixture
def written_out(monkeypatch: pytest.MonkeyPatch) -> list[Path]:
    """Files and folders that were waited for, one after the other."""
    done: list[Path] = []
    true = os.fsync

    def noted(handle: int) -> None:
        done.append(Path(f"/proc/self/fd/{handle}").readlink())
        true(handle)

    monkeypatch.setattr(os, "fsync", noted)
    return done


def with_call(monkeypatch: pytest.MonkeyPatch, call: Callable[[int], int] | None) -> None:
    """A system on Linux that has, or has not, the call that writes out a whole disk."""
    monkeypatch.setattr(durable.sys, "platform", "linux")
    library = SimpleNamespace() if call is None else SimpleNamespace(syncfs=call)
    monkeypatch.setattr(ctypes, "CDLL", lambda name, use_errno: library)


def tree(tmp_path: Path) -> Path:
    (tmp_path / "new" / "accounts").mkdir(parents=True)
    for name in ("index.html", "accounts/toad.html", "accounts/kept.html"):
        (tmp_path / "new" / name).write_text(name)
    return tmp_path / "new"


def test_a_whole_disk_is_written_out_by_one_call(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, written_out: list[Path]) -> None:
    asked: list[Path] = []
    with_call(monkeypatch, lambda handle: asked.append(Path(f"/proc/self/fd/{handle}").readlink()) or 0)
    place = tree(tmp_path)
    sync_tree(place, ["index.html"])
    assert (asked, written_out) == ([place], [])


def test_without_that_call_new_files_and_all_folders_are_waited_for(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, written_out: list[Path]
) -> None:
    with_call(monkeypatch, None)
    place = tree(tmp_path)
    sync_tree(place, ["index.html", "accounts/toad.html"])
    assert written_out == [place / "index.html", place / "accounts/toad.html", place / "accounts", place]
    monkeypatch.setattr(durable.sys, "platform", "darwin")
    assert not sync_disk(place)


def test_a_disk_that_cannot_write_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(handle: int) -> int:
        ctypes.set_errno(errno.EIO)
        return -1

    with_call(monkeypatch, fail)
    with pytest.raises(OSError, match="Input/output error") as told:
        sync_disk(tmp_path)
    assert (told.value.errno, told.value.filename) == (errno.EIO, str(tmp_path))


@pytest.mark.parametrize(("number", "told"), [(errno.EINVAL, False), (errno.EIO, True)])
def test_a_disk_that_knows_no_waiting_for_folders_is_none_that_fails(
    number: int, told: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(handle: int) -> None:
        raise OSError(number, os.strerror(number))

    monkeypatch.setattr(os, "fsync", refuse)
    try:
        sync_folder(tmp_path)
    except OSError as error:
        assert (told, error.errno) == (True, number)
    else:
        assert not told


def test_a_file_is_written_under_another_name_first(tmp_path: Path, written_out: list[Path]) -> None:
    for name, coming in (("", "list.json.coming"), ("list.new", "list.new")):
        written_out.clear()
        write_safely(tmp_path / "list.json", b"whole", name)
        assert written_out == [tmp_path / coming]
        assert [(path.name, path.read_bytes()) for path in tmp_path.iterdir()] == [("list.json", b"whole")]
