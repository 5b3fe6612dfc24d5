"""The store: whole entries or none, bounded, and never in the way."""

import os
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.press.engine import store as store_module
from guidebuild.press.engine.digest import digest, digest_bytes, digest_file
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.store import NoStore, Store

MADE = Made((b"page", b"", bytes(range(256))), (Problem("crop", "toad.jpg", "leaves out “58 %”"),))


def entry(folder: Path, key: str) -> Path:
    return folder / key[:2] / key[2:]


def test_what_is_put_is_got_parts_and_problems_alike(tmp_path: Path) -> None:
    store = Store(tmp_path / "store")
    key = digest("a")
    assert store.get(key) is None
    store.put(key, MADE)
    assert store.has(key)
    assert Store(tmp_path / "store").get(key) == MADE
    assert [path.name for path in entry(tmp_path / "store", key).parent.iterdir()] == [key[2:]]


@settings(max_examples=60, deadline=None)
@given(place=st.floats(0, 1), bit=st.integers(0, 7), cut=st.booleans())
def test_a_damaged_entry_is_noticed_and_removed(tmp_path_factory: pytest.TempPathFactory, place: float, bit: int, cut: bool) -> None:
    folder = tmp_path_factory.mktemp("store")
    store, key = Store(folder), digest("a")
    store.put(key, MADE)
    data = bytearray(entry(folder, key).read_bytes())
    position = int(place * (len(data) - 1))
    if cut:
        del data[position:]
    else:
        data[position] ^= 1 << bit
    entry(folder, key).write_bytes(data)
    assert store.get(key) is None
    assert not store.has(key)


def test_least_recently_used_go_first_when_the_store_is_full(tmp_path: Path) -> None:
    store = Store(tmp_path, limit=4_000)
    keys = [digest(number) for number in range(5)]
    for age, key in enumerate(reversed(keys)):
        store.put(key, Made((bytes(1_000),)))
        os.utime(entry(tmp_path, key), (1_000_000 + age, 1_000_000 + age))
    assert store.get(keys[4]) is not None
    store.close()
    assert [store.has(key) for key in keys] == [True, True, False, False, True]


def test_emptying_removes_all_and_tells_how_much(tmp_path: Path) -> None:
    store = Store(tmp_path / "store")
    store.put(digest(1), Made((bytes(1_000),)))
    assert store.empty() > 1_000
    assert not (tmp_path / "store").exists()
    assert store.get(digest(1)) is None


def test_an_entry_that_another_run_has_just_removed_is_not_counted(tmp_path: Path) -> None:
    store = Store(tmp_path)
    keys = [digest(n) for n in range(3)]
    for key in keys:
        store.put(key, Made((bytes(1_000),)))
    size = entry(tmp_path, keys[1]).stat().st_size
    entry(tmp_path, keys[1]).unlink()
    entry(tmp_path, keys[1]).symlink_to("gone")
    assert store.empty() == 2 * size


def test_a_photo_is_believed_to_stay_once_it_is_older_than_the_clock_can_err(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    read: list[Path] = []
    monkeypatch.setattr(store_module, "digest_file", lambda path: (read.append(path), digest_file(path))[1])
    photo = tmp_path / "toad.jpg"
    photo.write_bytes(b"first")
    ahead = photo.stat().st_ctime_ns + 60 * 10**9
    os.utime(photo, ns=(ahead, ahead))
    for since, times in ((0, 1), (0, 2), (1, 3), (1, 3)):
        monkeypatch.setattr(store_module.time, "time_ns", lambda since=since: ahead + 2_000_000_000 + since)
        store = Store(tmp_path / "store")
        assert store.original_digest(photo) == digest_bytes(b"first")
        store.close()
        assert len(read) == times


def test_the_list_of_originals_is_written_only_when_it_has_changed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(store_module, "_TOO_FRESH_NS", -1)
    photo = tmp_path / "toad.jpg"
    photo.write_bytes(b"first")
    store = Store(tmp_path / "store")
    store.original_digest(photo)
    store.close()
    listed = tmp_path / "store" / "originals.json"
    assert listed.exists()
    listed.unlink()
    store.original_digest(photo)
    store.close()
    assert not listed.exists()


def test_a_store_that_keeps_nothing_leaves_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    store = NoStore()
    store.put(digest("a"), MADE)
    assert (store.get(digest("a")), store.has(digest("a")), store.hindrance) == (None, False, None)
    store.close()
    assert list(tmp_path.iterdir()) == []


def test_a_store_that_cannot_be_written_hinders_nothing(tmp_path: Path) -> None:
    (tmp_path / "store").write_text("a file where the folder should be")
    store = Store(tmp_path / "store")
    assert store.hindrance is None
    store.put(digest(1), MADE)
    assert store.get(digest(1)) is None
    assert store.hindrance is not None
    assert store.hindrance.startswith("nothing is kept for the next run: ")
    store.close()


def test_originals_are_read_again_only_when_they_change(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(store_module, "_TOO_FRESH_NS", -1)  # as if the photo had been written long ago
    read: list[Path] = []
    monkeypatch.setattr(store_module, "digest_file", lambda path: (read.append(path), digest_file(path))[1])
    photo = tmp_path / "toad.jpg"
    photo.write_bytes(b"first")
    os.utime(photo, (1_000_000, 1_000_000))
    for _ in range(3):
        store = Store(tmp_path / "store")
        assert store.original_digest(photo) == digest_bytes(b"first")
        store.close()
    assert len(read) == 1


@pytest.mark.parametrize("replaced", [False, True])
def test_an_original_of_the_same_size_and_time_is_seen_to_be_another(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, replaced: bool
) -> None:
    monkeypatch.setattr(store_module, "_TOO_FRESH_NS", -1)
    photo = tmp_path / "toad.jpg"
    photo.write_bytes(b"first")
    os.utime(photo, (1_000_000, 1_000_000))
    store = Store(tmp_path / "store")
    assert store.original_digest(photo) == digest_bytes(b"first")
    store.close()
    time.sleep(0.02)  # longer than the clock's grain
    if replaced:
        (tmp_path / "other.jpg").write_bytes(b"other")
        (tmp_path / "other.jpg").replace(photo)
    else:
        photo.write_bytes(b"other")
    os.utime(photo, (1_000_000, 1_000_000))
    assert Store(tmp_path / "store").original_digest(photo) == digest_bytes(b"other")


def test_an_original_that_has_just_changed_is_not_believed_to_stay(tmp_path: Path) -> None:
    photo = tmp_path / "toad.jpg"
    store = Store(tmp_path / "store")
    photo.write_bytes(b"first")
    assert store.original_digest(photo) == digest_bytes(b"first")
    state = photo.stat()
    photo.write_bytes(b"other")
    os.utime(photo, ns=(state.st_atime_ns, state.st_mtime_ns))
    assert store.original_digest(photo) == digest_bytes(b"other")


def test_a_damaged_list_of_originals_counts_as_none(tmp_path: Path) -> None:
    photo = tmp_path / "toad.jpg"
    photo.write_bytes(b"first")
    for text in ("{", "[]", '{"a": 3}'):
        (tmp_path / "originals.json").write_text(text)
        assert Store(tmp_path).original_digest(photo) == digest_bytes(b"first")
