"""One folder in another's place: with an exchange, without one, and after a run that ended in between."""

from __future__ import annotations

import ctypes
import errno
import os
from pathlib import Path

import pytest

from guidebuild.press.engine import swap
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.swap import exchange_folders, only_one, put_back, put_in_place, told_in_one_line


def folder(path: Path, word: str) -> Path:
    path.mkdir()
    (path / "word.txt").write_text(word)
    return path


def word_in(path: Path) -> str:
    return (path / "word.txt").read_text() if path.exists() else ""


@pytest.mark.parametrize("can_exchange", [True, False])
def test_the_new_folder_stands_in_place_and_the_old_one_is_kept_aside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, can_exchange: bool
) -> None:
    place, coming, former = folder(tmp_path / "place", "old"), folder(tmp_path / "coming", "new"), tmp_path / "former"
    if not can_exchange:
        monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    put_in_place(coming, place, former)
    assert word_in(place) == "new"
    assert {word_in(coming), word_in(former)} == {"old", ""}


def test_a_first_folder_needs_no_exchange(tmp_path: Path) -> None:
    coming, place = folder(tmp_path / "coming", "new"), tmp_path / "place"
    put_in_place(coming, place, tmp_path / "former")
    assert (word_in(place), coming.exists()) == ("new", False)


def test_what_was_moved_away_comes_back_only_where_nothing_stands(tmp_path: Path) -> None:
    place, former = tmp_path / "place", folder(tmp_path / "former", "old")
    put_back(place, former)
    assert (word_in(place), former.exists()) == ("old", False)
    folder(former, "older")
    put_back(place, former)
    assert (word_in(place), word_in(former)) == ("old", "older")
    put_back(tmp_path / "other", tmp_path / "nothing")
    assert not (tmp_path / "other").exists()


def test_a_second_rename_that_is_refused_puts_the_old_folder_back_at_once(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    place, coming, former = folder(tmp_path / "place", "old"), folder(tmp_path / "coming", "new"), tmp_path / "former"
    monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    real = Path.rename

    def refuse_what_comes(path: Path, target: Path) -> Path:
        if path == coming:
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return real(path, target)

    monkeypatch.setattr(Path, "rename", refuse_what_comes)
    with pytest.raises(OSError, match="Input/output error"):
        put_in_place(coming, place, former)
    assert (word_in(place), word_in(coming), former.exists()) == ("old", "new", False)


def test_an_exchange_swaps_or_says_that_it_cannot(tmp_path: Path) -> None:
    one, other = folder(tmp_path / "one", "one"), folder(tmp_path / "other", "other")
    swapped = exchange_folders(one, other)
    assert (word_in(one), word_in(other)) == (("other", "one") if swapped else ("one", "other"))
    ctypes.set_errno(0)  # what an earlier call was told is no answer to this one
    with pytest.raises(OSError, match=r"[Nn]o such file"):
        exchange_folders(one, tmp_path / "nothing")


def test_a_system_that_knows_no_exchange_says_so_and_touches_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    one, other = folder(tmp_path / "one", "one"), folder(tmp_path / "other", "other")
    monkeypatch.setattr(ctypes, "CDLL", lambda *_, **__: object())  # such as an older library for C: it has no function for it
    assert exchange_folders(one, other) is False
    put_in_place(other, one, tmp_path / "former")
    assert (word_in(one), word_in(tmp_path / "former"), other.exists()) == ("other", "one", False)


@pytest.mark.parametrize("number", [errno.ENOSYS, errno.EINVAL, errno.ENOTSUP])
def test_a_disk_that_refuses_to_exchange_says_that_it_cannot(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, number: int) -> None:
    class Library:
        def renameat2(self, *_: object) -> int:
            ctypes.set_errno(number)
            return -1

        renamex_np = renameat2

    monkeypatch.setattr(ctypes, "CDLL", lambda *_, **__: Library())
    assert exchange_folders(tmp_path / "one", tmp_path / "other") is False


def test_a_second_run_is_told_who_holds_the_place(tmp_path: Path) -> None:
    lock, what = tmp_path / "shop" / "site.lock", tmp_path / "site"
    with (
        only_one(lock, what),
        pytest.raises(PressError, match=r"another run is publishing .*site just now \(process \d+\)"),
        only_one(lock, what),
    ):
        pass
    with only_one(lock, what):
        pass


def test_a_full_disk_is_told_in_one_line_and_what_to_do(tmp_path: Path) -> None:
    with (
        pytest.raises(PressError, match=r"^cannot publish in .*: the disk is full; nothing was changed, free some space"),
        told_in_one_line(tmp_path),
    ):
        raise OSError(28, "No space left on device")
    with pytest.raises(PressError, match=r"^plain$"), told_in_one_line(tmp_path):
        raise PressError("plain")
    with pytest.raises(PressError, match=r": Input/output error$"), told_in_one_line(tmp_path):
        raise OSError(5, "Input/output error")


def test_what_has_no_number_is_told_in_its_own_words(tmp_path: Path) -> None:
    with pytest.raises(PressError, match=r": the card is gone$"), told_in_one_line(tmp_path):
        raise OSError("the card is gone")
