"""Paths that may be written below a folder, and when the last run of a guide may be stood by."""

from __future__ import annotations

import os
import shutil
import time
from pathlib import Path

import pytest

from guidebuild.press.engine import unchanged
from guidebuild.press.engine.former import read_former, read_noted_digests, read_notes, write_notes
from guidebuild.press.engine.kept_problems import KeptProblems
from guidebuild.press.engine.problems import Problem
from guidebuild.press.engine.retire import retire_files
from guidebuild.press.engine.trees import MANIFEST, find_inside, link
from guidebuild.press.engine.unchanged import Checked, LastRun, RunNote, read_last_run


@pytest.mark.parametrize("outside", ["../a.html", "a/../../b", "/etc/passwd", "a\\b", "a\0b", "out/secret.html"])
def test_a_name_that_leads_out_of_a_folder_is_no_path_in_it(tmp_path: Path, outside: str) -> None:
    folder = tmp_path / "site"
    folder.mkdir()
    (folder / "out").symlink_to(tmp_path)
    assert find_inside(folder, outside) is None


def test_a_name_below_a_folder_is_a_path_in_it(tmp_path: Path) -> None:
    assert find_inside(tmp_path, "a/b.html") == tmp_path.resolve() / "a/b.html"
    assert find_inside(tmp_path, "a/../b.html") == tmp_path.resolve() / "b.html"


def test_one_file_that_is_too_new_makes_the_whole_last_run_one_not_to_stand_by(tmp_path: Path) -> None:
    """The old file beside it says nothing: the new one may have changed while it was read."""
    (tmp_path / "old.md").write_text("old", encoding="utf-8")
    begun = time.time_ns() + 60 * 10**9
    assert read_last_run(tmp_path, tmp_path / "published", begun).now
    (tmp_path / "new.md").write_text("new", encoding="utf-8")
    os.utime(tmp_path / "new.md", ns=(begun, begun))
    assert read_last_run(tmp_path, tmp_path / "published", begun).now == ""
    assert read_last_run(tmp_path, tmp_path / "published", None).now == ""


def test_a_run_begun_just_when_a_file_could_have_changed_stands_by_nothing(tmp_path: Path) -> None:
    (tmp_path / "guide.yaml").write_text("title: Invented\n", encoding="utf-8")
    newest = (tmp_path / "guide.yaml").stat().st_ctime_ns + 60 * 10**9
    os.utime(tmp_path / "guide.yaml", ns=(newest, newest))
    grain = unchanged._GRAIN_NS
    assert read_last_run(tmp_path, tmp_path / "published", newest + grain).now == ""
    assert read_last_run(tmp_path, tmp_path / "published", newest + grain + 1).now != ""


def test_a_folder_that_cannot_be_read_stands_by_nothing(tmp_path: Path) -> None:
    found = read_last_run(tmp_path / "gone", tmp_path / "published", time.time_ns())
    assert (found.now, found.state.name) == ("", "published-last-run.json")


def test_a_run_not_to_be_trusted_leaves_no_note_of_an_earlier_one(tmp_path: Path) -> None:
    note = RunNote((Problem("soft-print", "toad.jpg", "looks soft"),), Checked(("Toad",), 2, 1, ("Newt is as it was",)))
    trusted, fresh = LastRun(tmp_path / "note", "state"), LastRun(tmp_path / "note", "")
    fresh.remember(note)
    fresh.forget()
    assert not (tmp_path / "note").exists()
    trusted.remember(note)
    assert trusted.recall() == note
    assert LastRun(tmp_path / "note", "another state").recall() is None
    assert fresh.recall() is None
    fresh.remember(note)
    assert not (tmp_path / "note").exists()


def test_a_link_is_carried_as_a_link_and_folders_are_made_for_it(tmp_path: Path) -> None:
    (tmp_path / "real").write_text("a")
    (tmp_path / "away").symlink_to("real")
    for name in ("away", "other"):
        link(tmp_path / "away", tmp_path / "new" / "deep" / name)
        assert (tmp_path / "new" / "deep" / name).readlink() == Path("real")


def test_a_link_is_copied_as_a_link_where_the_disk_knows_no_hard_ones(tmp_path: Path, no_links: None) -> None:
    (tmp_path / "real").write_text("a")
    (tmp_path / "away").symlink_to("real")
    link(tmp_path / "away", tmp_path / "copy")
    assert (tmp_path / "copy").readlink() == Path("real")


def test_a_file_that_is_gone_is_said_to_be_gone(tmp_path: Path) -> None:
    with pytest.raises(FileNotFoundError):
        link(tmp_path / "gone", tmp_path / "copy")


def test_the_list_of_a_former_folder_goes_before_the_rest(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A run that is killed meanwhile leaves an unfinished folder, whose files are ours without being listed."""
    old, place = tmp_path / "old", tmp_path / "published"
    old.mkdir()
    (old / MANIFEST).write_text('{"files": {"a.html": "1"}}')
    (old / "a.html").write_text("a")
    removed = shutil.rmtree

    def noted(folder: Path) -> None:
        assert [path.name for path in old.iterdir()] == ["a.html"]
        removed(folder)

    monkeypatch.setattr(shutil, "rmtree", noted)
    assert retire_files(old, place, tmp_path / ".guidebuild") == ()
    assert not old.exists()
    assert not place.exists()


def test_problems_of_what_is_kept_are_remembered_from_run_to_run(tmp_path: Path) -> None:
    told = (Problem("soft-print", "toad.jpg", "looks soft"),)
    file = tmp_path / "guide" / ".guidebuild" / "kept.json"
    for _ in range(2):
        first = KeptProblems(file)
        first.remember("key", told)
        first.remember("silent", ())
        first.write()
        second = KeptProblems(file)
        assert (second.recall("key"), second.recall("silent"), second.recall("new")) == (told, (), ())
        second.write()
        assert KeptProblems(file).recall("key") == told


def test_only_notes_with_a_digest_tell_which_files_are_ours(tmp_path: Path) -> None:
    write_notes(tmp_path / "notes", {"a.html": ["key", "digest", 1, 2], "b.html": ["key", 5], "c.html": ["key"]})
    assert read_noted_digests(read_notes(tmp_path / "notes")) == {"a.html": "digest"}
    assert set(read_former(tmp_path, None, read_notes(tmp_path / "notes"))) == {"a.html"}
