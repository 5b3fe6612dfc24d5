"""Publishing: all or nothing, ours only, and cheap when little has changed."""

import json
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest

from guidebuild.press.engine import staging as staging_module
from guidebuild.press.engine import swap
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.staging import Outcome, Staging
from guidebuild.press.engine.trees import MANIFEST, files_below
from tests.press.engine.own_list import read_manifest
from tests.press.engine.staged import publish, texts, workshop


def test_first_and_later_runs_leave_exactly_what_was_added(place: Path, way: str) -> None:
    assert publish(place, {"index.html": "1", "a/b.html": "2"}) == Outcome(("a/b.html", "index.html"), 0, ())
    assert publish(place, {"index.html": "1", "a/c.html": "3"}) == Outcome(("a/c.html",), 1, ("a/b.html",))
    assert texts(place) == {"index.html": "1", "a/c.html": "3"}
    assert workshop(place) == ["published-published.json", "published.lock"]


def test_list_names_what_is_ours_and_is_the_same_bytes_in_another_folder(tmp_path: Path) -> None:
    for folder in ("one", "two"):
        publish(tmp_path / folder, {"b.html": "2", "a.html": "é"})
    lists = [(tmp_path / folder / MANIFEST).read_bytes() for folder in ("one", "two")]
    assert lists[0] == lists[1]
    assert list(json.loads(lists[0])["files"]) == ["a.html", "b.html"]


def test_nothing_is_touched_when_nothing_has_changed(place: Path) -> None:
    publish(place, {"index.html": "1", "a/b.html": "2"})
    before = {path: (place / path).stat().st_ino for path in files_below(place)}
    folder = place.stat().st_ino
    outcome = publish(place, {"index.html": "1", "a/b.html": "2"})
    assert outcome == Outcome((), 2, ())
    assert {path: (place / path).stat().st_ino for path in files_below(place)} == before
    assert place.stat().st_ino == folder


def test_unchanged_files_are_linked_not_written(place: Path) -> None:
    publish(place, {"index.html": "1", "picture.avif": "2"})
    picture = (place / "picture.avif").stat().st_ino
    publish(place, {"index.html": "other", "picture.avif": "2"})
    assert (place / "picture.avif").stat().st_ino == picture


def test_each_published_folder_has_note_files_of_its_own_beside_it(tmp_path: Path) -> None:
    with Staging(tmp_path / "spring") as spring:
        pages = spring.find_note_file("pages")
        assert pages != spring.find_note_file("cards")
    with Staging(tmp_path / "summer") as summer:
        assert pages != summer.find_note_file("pages")
    pages.write_text("{}")
    publish(tmp_path / "spring", {"index.html": "1"})
    assert pages.is_file()
    assert texts(tmp_path / "spring") == {"index.html": "1"}


def test_keep_needs_the_same_key_and_an_untouched_file(place: Path) -> None:
    publish(place, {"index.html": "1", "edited.html": "2", "gone.html": "3"})
    (place / "edited.html").write_text("by hand")
    (place / "gone.html").unlink()
    with Staging(place) as staging:
        assert staging.keep("index.html", "1")
        assert not staging.keep("edited.html", "2")
        assert not staging.keep("gone.html", "3")
        assert not staging.keep("new.html", "4")
    with Staging(place) as staging:
        assert not staging.keep("index.html", "made from another account")
        assert not staging.keep_all(["index.html"], "made from another account")
        assert not staging.keep_all([], "1")
        assert not staging.keep_all(["index.html", "edited.html"], "1")
        assert staging.keep_all(["index.html"], "1")
        staging.add("edited.html", b"2", key="2")
        outcome = staging.publish()
    assert outcome == Outcome(("edited.html",), 1, ("gone.html",))
    assert texts(place) == {"index.html": "1", "edited.html": "2"}


def test_keep_works_without_what_was_remembered_but_rewrites_nothing_equal(place: Path) -> None:
    publish(place, {"index.html": "1"})
    inode = (place / "index.html").stat().st_ino
    for damage in ("{", "[]", "null", '{"index.html": 7}'):
        (place.parent / ".guidebuild" / "published-published.json").write_text(damage)
        with Staging(place) as staging:
            assert not staging.keep("index.html", "1")
            staging.add("index.html", b"1", key="1")
            assert staging.publish() == Outcome((), 1, ())
    assert (place / "index.html").stat().st_ino == inode


def test_a_part_that_is_not_made_this_time_stays(place: Path) -> None:
    publish(place, {"index.html": "1", "cards/a.pdf": "2", "cards/b.pdf": "3", "cardsize.html": "4"})
    (place / "cards" / "b.pdf").unlink()
    with Staging(place) as staging:
        assert staging.keep_below("cards") == 1
        staging.add("index.html", b"new")
        outcome = staging.publish()
    assert outcome.removed == ("cards/b.pdf", "cardsize.html")
    assert texts(place) == {"index.html": "new", "cards/a.pdf": "2"}


def test_leaving_without_publishing_changes_nothing(place: Path) -> None:
    publish(place, {"index.html": "1"})
    with pytest.raises(ZeroDivisionError), Staging(place) as staging:
        staging.add("index.html", b"2")
        raise ZeroDivisionError
    with Staging(place) as staging:
        staging.add("index.html", b"3")
    assert texts(place) == {"index.html": "1"}
    assert workshop(place) == ["published-published.json", "published.lock"]


def test_files_of_others_are_carried_over_as_they_are(place: Path, way: str) -> None:
    publish(place, {"index.html": "1"})
    own = {"CNAME": "hedge.example", ".git/config": "git", "deep/er/note.txt": "x"}
    for path, text in own.items():
        (place / path).parent.mkdir(parents=True, exist_ok=True)
        (place / path).write_text(text)
    (place / "empty").mkdir()
    (place / "way-out").symlink_to("/nowhere")
    (place / "CNAME").chmod(0o640)
    os.utime(place / "CNAME", (1_000_000, 1_000_000))
    before = (place / "CNAME").stat()
    for version in ("2", "3"):
        outcome = publish(place, {"index.html": version, "a.html": version})
        assert outcome.set_aside == ()
    assert texts(place) == {
        "index.html": "3",
        "a.html": "3",
        "CNAME": "hedge.example",
        ".git/config": "git",
        "deep/er/note.txt": "x",
    }
    assert (place / "way-out").readlink() == Path("/nowhere")
    assert (place / "empty").is_dir()
    after = (place / "CNAME").stat()
    assert (after.st_ino, after.st_mode, after.st_mtime_ns) == (before.st_ino, before.st_mode, before.st_mtime_ns)
    assert "CNAME" not in read_manifest(place)


@pytest.mark.usefixtures("no_links")
def test_a_disk_without_links_gets_copies_and_sets_nothing_aside(place: Path, way: str) -> None:
    publish(place, {"index.html": "1", "same.html": "s"})
    (place / "CNAME").write_text("hedge.example")
    outcome = publish(place, {"index.html": "2", "same.html": "s"})
    assert outcome == Outcome(("index.html",), 1, ())
    assert texts(place) == {"index.html": "2", "same.html": "s", "CNAME": "hedge.example"}


def test_a_file_dropped_in_during_the_swap_is_not_lost(place: Path, monkeypatch: pytest.MonkeyPatch, way: str) -> None:
    publish(place, {"index.html": "1"})
    (place / "notes.txt").write_text("old")
    real: Callable[..., None] = swap.put_in_place

    def meanwhile(coming: Path, target: Path, former: Path) -> None:
        (place / "dropped.txt").write_text("just now")
        (place / "notes.txt").unlink()
        (place / "notes.txt").write_text("written anew")
        (place / "index.txt").write_text("foreign")
        real(coming, target, former)

    monkeypatch.setattr(staging_module, "put_in_place", meanwhile)
    outcome = publish(place, {"index.html": "2", "index.txt": "ours"})
    assert texts(place) == {"index.html": "2", "index.txt": "ours", "dropped.txt": "just now", "notes.txt": "old"}
    assert {path.name: path.read_text() for path in outcome.set_aside} == {"notes.txt": "written anew", "index.txt": "foreign"}


@pytest.mark.parametrize("own", ["a.html", "a", "a/b"])
def test_a_file_of_others_where_ours_should_go_stops_the_run(place: Path, own: str) -> None:
    publish(place, {"index.html": "1"})
    (place / own).parent.mkdir(exist_ok=True)
    (place / own).write_text("mine")
    ours = {"a.html": "a.html", "a": "a/b.html", "a/b": "a"}[own]
    with pytest.raises(PressError, match=r"is not ours; move it away or rename it"):
        publish(place, {"index.html": "2", ours: "x"})
    assert texts(place) == {"index.html": "1", own: "mine"}


def test_a_folder_that_is_not_ours_is_refused(place: Path) -> None:
    place.mkdir(parents=True)
    publish(place, {"index.html": "1"})
    (place / MANIFEST).unlink()
    with pytest.raises(PressError, match=r"is not empty and holds no .guidebuild-manifest.json, so its files are not ours"):
        publish(place, {"index.html": "2"})
    assert texts(place) == {"index.html": "1"}


def test_a_file_where_the_folder_should_be_is_refused(place: Path) -> None:
    place.parent.mkdir()
    place.write_text("x")
    with pytest.raises(PressError, match=r"it is a file, not a folder"):
        publish(place, {"index.html": "2"})


@pytest.mark.parametrize("damage", ["", "{", "[]", '{"files": 1}', "\0" * 90])
def test_where_the_list_is_damaged_the_workshop_knows_what_is_ours(place: Path, damage: str, way: str) -> None:
    publish(place, {"index.html": "1", "old.html": "o", "same.html": "s"})
    (place / "CNAME").write_text("mine")
    (place / MANIFEST).write_text(damage)
    assert publish(place, {"index.html": "2", "same.html": "s"}) == Outcome(("index.html",), 1, ("old.html",))
    assert texts(place) == {"index.html": "2", "same.html": "s", "CNAME": "mine"}
    assert sorted(read_manifest(place)) == ["index.html", "same.html"]
    (place / MANIFEST).write_text(damage)
    assert publish(place, {"index.html": "2", "same.html": "s"}) == Outcome((), 2, ())
    assert sorted(read_manifest(place)) == ["index.html", "same.html"]


def test_where_nothing_knows_what_is_ours_one_line_names_the_command_that_helps(place: Path, way: str) -> None:
    publish(place, {"index.html": "1", "a/b.html": "1", "same.html": "s"})
    (place / "CNAME").write_text("mine")
    (place / MANIFEST).write_text("{")
    shutil.rmtree(place.parent / ".guidebuild")
    with pytest.raises(PressError, match=r"list of what is ours .* is damaged; `guidebuild make --anew` makes everything again and moves"):
        publish(place, {"index.html": "2"})
    with Staging(place, anew=True) as staging:
        for path, text in {"index.html": "2", "a": "2", "same.html": "s"}.items():
            staging.add(path, text.encode())
        outcome = staging.publish()
    assert texts(place) == {"index.html": "2", "a": "2", "same.html": "s", "CNAME": "mine"}
    aside = place.parent / ".guidebuild/set aside"
    assert sorted(path.relative_to(aside).as_posix() for path in outcome.set_aside) == ["a/b.html", "index.html"]


@pytest.mark.parametrize("path", ["", "/etc/x", "../x", "a/../../x", "a//b", "./a", "a\\b", "a\0b", "a/", MANIFEST])
def test_paths_out_of_the_folder_are_refused(place: Path, path: str) -> None:
    with pytest.raises(PressError, match=r"no path below|list of what is ours"):
        publish(place, {path: "x"})


def test_two_files_of_one_name_are_refused(place: Path) -> None:
    with pytest.raises(PressError, match=r"“A.html” and “a.html” differ only in capitals"):
        publish(place, {"A.html": "1", "a.html": "2"})
    with pytest.raises(PressError, match=r"two things would be published as “a.html”"), Staging(place) as staging:
        staging.add("a.html", b"1")
        staging.add("a.html", b"1")


def test_a_link_to_the_published_folder_is_followed(place: Path, tmp_path: Path) -> None:
    real = tmp_path / "guide" / "www" / "site"
    real.mkdir(parents=True)
    place.symlink_to(real)
    publish(place, {"index.html": "1"})
    publish(place, {"index.html": "2"})
    assert place.is_symlink()
    assert texts(real) == {"index.html": "2"}
