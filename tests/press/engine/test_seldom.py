"""What whole makes show seldom: a disk that is full, a folder's permissions, names set aside twice, what bars count."""

from __future__ import annotations

import errno
import io
import os
from concurrent.futures import ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from rich.console import Console

from guidebuild.press.engine.crew import Batch, Crew, Task, count_cores
from guidebuild.press.engine.digest import digest, digest_bytes
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.made import Made
from guidebuild.press.engine.problems import Problem, gather_failures
from guidebuild.press.engine.progress import progress_shown
from guidebuild.press.engine.retire import retire_files
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.store import Store
from guidebuild.press.engine.trees import MANIFEST
from guidebuild.press.engine.unchanged import read_last_run
from tests.press.engine.pieces_of_work import double

OLD_NS = 10_000_000_000


def test_where_a_text_stands_does_not_count_in_a_digest() -> None:
    @dataclass(frozen=True)
    class Line:  # a new type each time: the form of a type is worked out once
        text: str
        line: int = field(compare=False)

    assert digest(Line("a", 1)) == digest(Line("a", 2)) != digest(Line("b", 1))


def test_three_are_named_one_by_one_and_four_are_counted() -> None:
    pages = [Problem("failed", f"page {name}", "no") for name in "abcd"]
    assert [told.where for told in gather_failures(pages[:3])] == ["page a, page b, page c"]
    assert [told.where for told in gather_failures(pages)] == ["page a and 3 more"]


def test_cores_are_those_this_process_may_use(monkeypatch: pytest.MonkeyPatch) -> None:
    assert count_cores() == len(os.sched_getaffinity(0))
    others = {0: {2, 3, 4}}  # 0 is the process that asks (sched_setaffinity(2))
    monkeypatch.setattr(os, "sched_getaffinity", lambda process: others.get(process, {1}))
    assert count_cores() == 3
    monkeypatch.delattr(os, "sched_getaffinity")
    monkeypatch.setattr(os, "cpu_count", lambda: 5)
    assert count_cores() == 5
    monkeypatch.setattr(os, "cpu_count", lambda: None)
    assert count_cores() == 1


def test_a_crew_that_cannot_be_started_leaves_the_work_to_be_done_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    real, tries = ProcessPoolExecutor.submit, []

    def broken_once(*arguments: object) -> object:
        tries.append(1)
        if len(tries) == 1:
            raise BrokenProcessPool
        return real(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(ProcessPoolExecutor, "submit", broken_once)
    with Crew(2) as crew:
        assert Batch((Task(double, "a", 60.0),), crew).given() == [Made((b"aa",))]
        assert crew.times_broken == 1


def test_a_terminal_counts_what_is_expected_and_what_was_kept() -> None:
    console = Console(file=io.StringIO(), force_terminal=True, width=80, no_color=True)
    with progress_shown(console) as bars:
        bars.expect(Craft("page", "pages"), 4)
        bars.advance(Craft("page", "pages"), 3)
        bars.advance(Craft("card", "cards"), 2)
    told = console.file.getvalue()  # type: ignore[attr-defined]
    assert "3/4" in told
    assert "2/2" in told


def test_files_of_one_name_are_set_aside_beside_each_other(tmp_path: Path) -> None:
    place, workshop = tmp_path / "published", tmp_path / "workshop"
    place.mkdir()
    (place / "mine.txt").write_text("the one that stands")
    for text in ("first", "second", "third"):
        old = tmp_path / "old"
        old.mkdir()
        (old / MANIFEST).write_text("{}")
        (old / "mine.txt").write_text(text)
        retire_files(old, place, workshop)
    aside = {path.name: path.read_text() for path in (workshop / "set aside").iterdir()}
    assert aside == {"mine.txt": "first", "mine.txt (2)": "second", "mine.txt (3)": "third"}


def test_a_published_folder_keeps_its_permissions(tmp_path: Path) -> None:
    for number, mode in enumerate((0o750, 0o705)):
        with Staging(tmp_path / "published") as staging:
            staging.add("a.txt", str(number).encode())
            staging.publish()
            if number:
                assert (tmp_path / "published").stat().st_mode & 0o777 == 0o750
        (tmp_path / "published").chmod(mode)


def test_what_a_killed_run_left_is_no_part_of_the_next(tmp_path: Path) -> None:
    left = tmp_path / ".guidebuild" / "published.coming"
    left.mkdir(parents=True)
    (left / "half.txt").write_text("half")
    with Staging(tmp_path / "published") as staging:
        staging.add("a.txt", b"a")
        staging.publish()
    assert sorted(path.name for path in (tmp_path / "published").iterdir()) == [MANIFEST, "a.txt"]


def test_a_part_that_stays_can_be_kept_by_its_key_again_unless_it_was_touched(tmp_path: Path) -> None:
    for number in range(3):
        with Staging(tmp_path / "published") as staging:
            if number == 0:
                staging.add("site/a.txt", b"a", "key")
                staging.add("site/b.txt", b"b", "key")
            elif number == 1:
                assert staging.keep_below("site") == 2
            else:
                assert (staging.keep("site/a.txt", "key"), staging.keep("site/b.txt", "key")) == (True, False)
                staging.add("site/b.txt", b"b", "key")
            staging.publish()
        if number == 0:
            (tmp_path / "published/site/b.txt").write_text("touched")


@pytest.mark.parametrize("anew", [True, False])
def test_where_nothing_is_trusted_the_list_goes_on_to_say_what_should_stand(tmp_path: Path, anew: bool) -> None:
    """So that a later comparison names the file; else what its author made of it is what stands."""
    with Staging(tmp_path / "published") as staging:
        staging.add("site/a.txt", b"a", "key")
        staging.publish()
    (tmp_path / "published/site/a.txt").write_text("touched")
    with Staging(tmp_path / "published", anew=anew) as staging:
        assert staging.keep_below("site") == 1
        assert staging.digest_of("site/a.txt") == digest_bytes(b"a" if anew else b"touched")


def test_a_disk_that_fills_up_leaves_no_half_entry_and_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*arguments: object) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    store = Store(tmp_path)
    monkeypatch.setattr(Path, "replace", refuse)
    store.put(digest("a"), Made((b"a",)))
    assert store.hindrance == "nothing is kept for the next run: No space left on device"
    assert [path for path in tmp_path.rglob("*") if path.is_file()] == []


def test_a_list_of_originals_that_cannot_be_written_is_told(tmp_path: Path) -> None:
    photo = tmp_path / "toad.jpg"
    photo.write_bytes(b"first")
    (tmp_path / "store").write_text("in the way")
    store = Store(tmp_path / "store")
    monkey = pytest.MonkeyPatch()
    monkey.setattr("guidebuild.press.engine.store._TOO_FRESH_NS", -1)
    store.original_digest(photo)
    store.close()
    monkey.undo()
    assert store.hindrance is not None


def test_an_emptied_store_stays_empty_until_something_is_put_there(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("guidebuild.press.engine.store._TOO_FRESH_NS", -1)
    (tmp_path / "toad.jpg").write_bytes(b"first")
    store = Store(tmp_path / "store")
    store.original_digest(tmp_path / "toad.jpg")
    store.empty()
    store.close()
    assert not (tmp_path / "store").exists()


def test_a_run_is_trusted_only_when_both_times_of_its_files_are_old(tmp_path: Path) -> None:
    guide = tmp_path / "guide"
    guide.mkdir()
    (guide / "guide.yaml").write_text("title: Invented\n")
    os.utime(guide / "guide.yaml", (1_000_000, 1_000_000))  # a copy: the content is old, the file was put here just now
    changed = (guide / "guide.yaml").stat().st_ctime_ns
    assert read_last_run(guide, guide / "published", changed + 1).now == ""
    assert read_last_run(guide, guide / "published", changed + OLD_NS).now != ""
    os.utime(guide / "guide.yaml", ns=(changed + OLD_NS, changed + OLD_NS))  # a clock that was wrong
    assert read_last_run(guide, guide / "published", changed + OLD_NS).now == ""
