"""A few files of many are replaced by themselves: no other is touched, and what ends midway is finished or taken back."""

from __future__ import annotations

import errno
import json
import os
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from guidebuild.press.engine import few_files
from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.staging import Outcome, Staging
from guidebuild.press.engine.trees import MANIFEST, files_below
from guidebuild.press.engine.verify import verify_published
from tests.press.engine.own_list import read_manifest
from tests.press.engine.staged import publish, texts, workshop

FIRST = {"index.html": "1", "a/b.html": "1", "same.html": "s", "old/er.html": "1"}
SECOND = {"index.html": "2", "a/b.html": "2", "same.html": "s", "new/er/one.html": "2"}
TIDY = ["published-published.json", "published.lock"]


@pytest.fixture(autouse=True)
def any_folder_has_many(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(few_files, "MANY", 1)


@pytest.fixture
def published(place: Path) -> Path:
    """A folder with files of ours and of others, beside which little changes."""
    publish(place, FIRST)
    (place / "CNAME").write_text("mine")
    (place / "empty").mkdir()
    return place


def stamps(place: Path) -> dict[str, tuple[int, int]]:
    """What tells whether a file was touched: its number on the disk, and when its entry or links were last changed."""
    return {path: ((place / path).stat().st_ino, (place / path).stat().st_ctime_ns) for path in files_below(place)}


def numbers(place: Path) -> dict[str, int]:
    """Which file stands at each path, by its number on the disk."""
    return {path: (place / path).stat().st_ino for path in files_below(place)}


def test_only_files_that_changed_are_touched(published: Path) -> None:
    before, folder = stamps(published), published.stat().st_ino
    assert publish(published, SECOND) == Outcome(("a/b.html", "index.html", "new/er/one.html"), 1, ("old/er.html",))
    assert texts(published) == {**SECOND, "CNAME": "mine"}
    assert read_manifest(published) == {path: digest_bytes(text.encode()) for path, text in SECOND.items()}
    after = stamps(published)
    assert {path for path in before if after.get(path) == before[path]} == {"CNAME", "same.html"}
    assert published.stat().st_ino == folder
    assert (published / "empty").is_dir()
    assert not (published / "old").exists()
    assert workshop(published) == TIDY
    assert publish(published, SECOND) == Outcome((), 4, ())


def test_new_files_come_first_and_those_that_go_and_the_list_last(published: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """So that a link of a page leads somewhere at every moment."""
    order: list[str] = []
    real = few_files._do
    monkeypatch.setattr(few_files, "_do", lambda work, path, change: (order.append(path), real(work, path, change)))
    publish(published, SECOND)
    assert order == ["new/er/one.html", "a/b.html", "index.html", "old/er.html", MANIFEST]


@pytest.mark.parametrize(("few", "many"), [(3, 1), (32, 2)])
def test_many_changes_or_a_small_folder_are_replaced_as_a_whole(
    published: Path, monkeypatch: pytest.MonkeyPatch, few: int, many: int
) -> None:
    monkeypatch.setattr(few_files, "FEW", few)
    monkeypatch.setattr(few_files, "MANY", many)
    folder = published.stat().st_ino
    publish(published, SECOND)  # four changes beside one that stays
    assert published.stat().st_ino != folder
    assert texts(published) == {**SECOND, "CNAME": "mine"}


def test_a_list_that_alone_has_changed_is_replaced_alone(published: Path) -> None:
    before = stamps(published)
    with Staging(published) as staging:
        assert all(staging.keep(path, text) for path, text in FIRST.items())
        staging.publish({"wren": "2026-05-02"})
    after = stamps(published)
    assert {path for path in before if after[path] != before[path]} == {MANIFEST}


def test_files_that_the_author_edited_or_removed_are_ours_all_the_same(published: Path) -> None:
    (published / "old/er.html").write_text("by hand")
    (published / "index.html").unlink()
    publish(published, SECOND)
    assert texts(published) == {**SECOND, "CNAME": "mine"}
    assert workshop(published) == TIDY


def _own_file(place: Path) -> None:
    (place / "new").mkdir()
    (place / "new/er").write_text("mine")


def _own_folder(place: Path) -> None:
    (place / "new/er/one.html").mkdir(parents=True)
    (place / "new/er/one.html/mine.txt").write_text("mine")


def _own_page(place: Path) -> None:
    (place / "new/er").mkdir(parents=True)
    (place / "new/er/one.html").write_text("mine")


@pytest.mark.parametrize("put", [_own_file, _own_folder, _own_page])
def test_a_file_of_others_where_ours_should_go_stops_the_run(published: Path, put: Callable[[Path], None]) -> None:
    put(published)
    before = stamps(published)
    with pytest.raises(PressError, match=r"is not ours; move it away or rename it"):
        publish(published, SECOND)
    assert stamps(published).keys() == before.keys()
    assert texts(published) | FIRST == texts(published)


def test_nothing_is_written_through_a_link(published: Path, tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (elsewhere / "b.html").write_text("1")
    (published / "a/b.html").unlink()
    (published / "a").rmdir()
    (published / "a").symlink_to(elsewhere)
    with pytest.raises(PressError):
        publish(published, SECOND)
    assert (elsewhere / "b.html").read_text() == "1"


def _refuse(patch: pytest.MonkeyPatch, place: Path, after: int, error: Callable[[], BaseException]) -> None:
    """Let so many steps in the published folder be done, and refuse all others."""
    left = [after]
    for name in ("replace", "unlink", "mkdir", "rename"):
        real = getattr(Path, name)

        def step(path: Path, *arguments: Any, real: Callable[..., Any] = real, name: str = name, **options: Any) -> Any:
            target = arguments[0] if name in {"replace", "rename"} else path
            if isinstance(target, Path) and target.is_relative_to(place) and (name != "mkdir" or not target.exists()):
                left[0] -= 1
                if left[0] < 0:
                    raise error()
            return real(path, *arguments, **options)

        patch.setattr(Path, name, step)


@pytest.mark.parametrize("steps", range(7))
def test_a_step_that_is_refused_is_taken_back_and_the_folder_replaced_as_a_whole(published: Path, steps: int) -> None:
    """As where a folder in it is a disk of its own, or may not be written in."""
    folder = published.stat().st_ino
    with pytest.MonkeyPatch.context() as patch:
        left = [steps]
        real = Path.replace

        def refuse_one(path: Path, target: Path) -> Path:
            if target.is_relative_to(published):
                left[0] -= 1
                if left[0] == -1:
                    raise OSError(errno.EXDEV, os.strerror(errno.EXDEV))
            return real(path, target)

        patch.setattr(Path, "replace", refuse_one)
        publish(published, SECOND)
    assert texts(published) == {**SECOND, "CNAME": "mine"}
    assert (published.stat().st_ino == folder) == (steps >= 4)
    assert workshop(published) == TIDY


@pytest.mark.parametrize("steps", range(10))
def test_a_disk_that_refuses_all_from_some_moment_on_loses_nothing(published: Path, steps: int) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("guidebuild.press.engine.swap.exchange_folders", lambda one, other: False)
        _refuse(patch, published, steps, lambda: OSError(errno.ENOSPC, os.strerror(errno.ENOSPC)))
        if steps < 9:
            with pytest.raises(PressError, match="the disk is full"):
                publish(published, SECOND)
        else:
            publish(published, SECOND)
    with Staging(published):
        pass
    assert texts(published) in ({**FIRST, "CNAME": "mine"}, {**SECOND, "CNAME": "mine"})
    assert read_manifest(published).keys() == texts(published).keys() - {"CNAME"}
    publish(published, SECOND)
    assert texts(published) == {**SECOND, "CNAME": "mine"}
    assert workshop(published) == TIDY


def end_midway(place: Path, steps: int) -> None:
    """As a run that is killed: nothing is tidied up, and the note stands."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(Staging, "_retire", lambda staging: ())
        _refuse(patch, place, steps, KeyboardInterrupt)
        with pytest.raises(KeyboardInterrupt):
            publish(place, SECOND)
    assert "published-replacing.json" in workshop(place)


@pytest.mark.parametrize("steps", range(7))
def test_the_next_look_finishes_what_was_begun(published: Path, steps: int) -> None:
    end_midway(published, steps)
    assert verify_published(published).differing == ()
    assert texts(published) == {**SECOND, "CNAME": "mine"}
    assert workshop(published) == TIDY


@pytest.mark.parametrize("steps", range(7))
def test_the_next_look_takes_back_what_it_cannot_finish(published: Path, steps: int) -> None:
    end_midway(published, steps)
    (published / "late.html").write_text("mine")
    note = published.parent / ".guidebuild/published-replacing.json"
    told = json.loads(note.read_text())
    # As if the author had put a file where one of ours, the last to come, should go.
    (published.parent / ".guidebuild/published.coming/late.html").write_text("2")
    manifest = told.pop(MANIFEST)
    note.write_text(json.dumps({**told, "late.html": [None, digest_bytes(b"2")], MANIFEST: manifest}))
    with Staging(published):
        pass
    assert texts(published) == {**FIRST, "CNAME": "mine", "late.html": "mine"}
    assert workshop(published) == TIDY


@pytest.mark.parametrize("steps", [1, 4])
def test_what_the_author_did_meanwhile_stays(published: Path, steps: int) -> None:
    end_midway(published, steps)
    (published / "notes.txt").write_text("mine")
    (published / "old/er.html").write_text("by hand")
    with Staging(published):
        pass
    assert texts(published) == {**SECOND, "CNAME": "mine", "notes.txt": "mine", "old/er.html": "by hand"}


def _other_folder(place: Path) -> None:
    (place / MANIFEST).write_text('{"made by": "guidebuild", "files": {}}')


def _damaged(place: Path) -> None:
    (place.parent / ".guidebuild/published-replacing.json").write_text("[1")


def _leads_out(place: Path) -> None:
    note = place.parent / ".guidebuild/published-replacing.json"
    (place.parent / ".guidebuild/published.coming/x").write_text("2")
    note.write_text(json.dumps({"../x": [None, digest_bytes(b"2")], **json.loads(note.read_text())}))


@pytest.mark.parametrize("change", [_other_folder, _damaged, _leads_out])
def test_a_note_that_is_not_about_this_folder_does_nothing(published: Path, change: Callable[[Path], None]) -> None:
    end_midway(published, 1)
    change(published)
    before = numbers(published)
    with Staging(published):
        pass
    assert numbers(published) == before
    assert not (published.parent / "x").exists()
    assert workshop(published) == TIDY


def test_a_note_of_others_writes_through_no_link_and_publishes_none(published: Path, tmp_path: Path) -> None:
    """A guide from others may bring a note of its own: it reaches no more than the published folder."""
    outside = tmp_path / "outside"
    outside.mkdir()
    (outside / "secret.txt").write_text("secret")
    end_midway(published, 1)
    coming, note = published.parent / ".guidebuild/published.coming", published.parent / ".guidebuild/published-replacing.json"
    (published / "way").symlink_to(outside)
    (coming / "way").mkdir()
    (coming / "way/in.html").write_text("2")
    (coming / "shown.html").symlink_to(outside / "secret.txt")
    forged = {"shown.html": [None, digest_bytes(b"secret")], "way/in.html": [None, digest_bytes(b"2")]}
    note.write_text(json.dumps({**forged, **json.loads(note.read_text())}))
    with Staging(published):
        pass
    assert not (outside / "in.html").exists()
    assert not os.path.lexists(published / "shown.html")
    assert texts(published) == {**FIRST, "CNAME": "mine"}
