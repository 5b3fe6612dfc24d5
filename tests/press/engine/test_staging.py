"""Publishing: all or nothing, ours only, and cheap when little has changed."""

import errno
import json
import os
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from guidebuild.press.engine import staging as staging_module
from guidebuild.press.engine import swap
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.staging import Outcome, Staging
from guidebuild.press.engine.trees import MANIFEST, files_below, read_manifest

HERE = Path(__file__).parent


@pytest.fixture
def place(tmp_path: Path) -> Path:
    return tmp_path / "guide" / "published"


@pytest.fixture(params=["exchange", "rename"])
def way(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> str:
    """Both ways of putting a folder in place: one step where the system has it, two renames elsewhere."""
    if request.param == "rename":
        monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    return str(request.param)


@pytest.fixture
def no_links(monkeypatch: pytest.MonkeyPatch) -> None:
    """A disk that knows no hard links, such as a memory card."""

    def refuse(*arguments: object, **options: object) -> None:
        raise PermissionError(errno.EPERM, "Operation not permitted")

    monkeypatch.setattr(os, "link", refuse)


def publish(place: Path, files: dict[str, str], keys: bool = True) -> Outcome:
    with Staging(place) as staging:
        for path, text in files.items():
            staging.add(path, text.encode(), key=text if keys else None)
        return staging.publish()


def texts(place: Path) -> dict[str, str]:
    """What a reader would find, by path; symbolic links and our list left out."""
    found = (path for path in files_below(place) if path != MANIFEST)
    return {path: (place / path).read_text() for path in found if not (place / path).is_symlink()}


def workshop(place: Path) -> list[str]:
    return sorted(path.name for path in (place.parent / ".guidebuild").iterdir())


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


def test_only_one_run_at_a_time(place: Path) -> None:
    with (
        Staging(place),
        pytest.raises(PressError, match=rf"another run is publishing .* just now \(process {os.getpid()}\)"),
        Staging(place),
    ):
        pass
    publish(place, {"index.html": "1"})


@pytest.mark.parametrize(
    ("number", "words"),
    [
        (errno.ENOSPC, "the disk is full"),
        (errno.EROFS, "the disk can only be read"),
        (errno.EACCES, "you may not write there"),
        (errno.EIO, ""),
    ],
)
@pytest.mark.parametrize("step", ["write_bytes", "write_text", "rename", "mkdir"])
def test_what_the_disk_refuses_is_one_line_and_changes_nothing(
    place: Path, number: int, words: str, step: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    publish(place, {"index.html": "1"})
    monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)

    def refuse(*arguments: object, **options: object) -> None:
        raise OSError(number, os.strerror(number))

    with monkeypatch.context() as patch:
        patch.setattr(Path, step, refuse)
        with pytest.raises(PressError) as told:
            publish(place, {"index.html": "2", "b/c.html": "3"})
    assert str(told.value).startswith(f"cannot publish in {place}: {words}")
    assert "\n" not in str(told.value)
    with Staging(place):
        pass
    assert texts(place) == {"index.html": "1"}


def test_a_second_rename_that_is_refused_for_good_loses_nothing(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(place, {"index.html": "1"})
    monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    real, moves = Path.rename, []

    def refuse_all_but_the_first(path: Path, target: Path) -> Path:
        moves.append(path.name)
        if len(moves) > 1:
            raise OSError(errno.EROFS, os.strerror(errno.EROFS))
        return real(path, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", refuse_all_but_the_first)
        with pytest.raises(PressError, match="the disk can only be read"):
            publish(place, {"index.html": "2"})
    assert moves[:2] == ["published", "published.coming"]
    assert not place.exists()
    with Staging(place):
        pass
    assert texts(place) == {"index.html": "1"}
    assert publish(place, {"index.html": "2"}).written == ("index.html",)


def test_a_second_rename_that_is_refused_once_is_taken_back_at_once(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(place, {"index.html": "1"})
    monkeypatch.setattr(swap, "exchange_folders", lambda one, other: False)
    real = Path.rename

    def refuse_what_comes(path: Path, target: Path) -> Path:
        if path.name == "published.coming":
            raise OSError(errno.EIO, os.strerror(errno.EIO))
        return real(path, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "rename", refuse_what_comes)
        with pytest.raises(PressError, match="Input/output error"):
            publish(place, {"index.html": "2"})
    assert texts(place) == {"index.html": "1"}
    assert workshop(place) == ["published-published.json", "published.lock"]


def held_in_its_place(monkeypatch: pytest.MonkeyPatch) -> None:
    """As where the published folder is a disk of its own, which no one can move."""

    def refuse(coming: Path, place: Path, former: Path) -> None:
        raise OSError(errno.EBUSY, os.strerror(errno.EBUSY))

    monkeypatch.setattr(staging_module, "put_in_place", refuse)


@pytest.mark.usefixtures("no_links")
def test_a_folder_that_is_a_disk_of_its_own_has_its_files_exchanged_one_by_one(place: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    publish(place, {"index.html": "1", "old/er.html": "o", "same.html": "s", "a/b.html": "1", "c": "1"})
    (place / "CNAME").write_text("mine")
    held_in_its_place(monkeypatch)
    before = (place / "same.html").stat().st_ino
    outcome = publish(place, {"index.html": "2", "same.html": "s", "a": "2", "c/d.html": "2"})
    assert (outcome.at_once, outcome.set_aside) == (False, ())
    assert texts(place) == {"index.html": "2", "same.html": "s", "a": "2", "c/d.html": "2", "CNAME": "mine"}
    assert sorted(read_manifest(place)) == ["a", "c/d.html", "index.html", "same.html"]
    assert (place / "same.html").stat().st_ino == before
    assert not (place / "old").exists()
    assert workshop(place) == ["published-published.json", "published.lock"]
    assert publish(place, {"index.html": "2", "same.html": "s", "a": "2", "c/d.html": "2"}) == Outcome((), 4, ())


@pytest.mark.usefixtures("no_links")
@pytest.mark.parametrize("steps", range(1, 5))
def test_a_run_that_ends_between_two_such_files_is_finished_by_the_next(place: Path, steps: int, monkeypatch: pytest.MonkeyPatch) -> None:
    former, new = {"a.html": "1", "b.html": "1", "c.html": "1", "gone.html": "1"}, {"a.html": "2", "b.html": "2", "c.html": "2"}
    publish(place, former)
    (place / "CNAME").write_text("mine")
    held_in_its_place(monkeypatch)
    real, left = Path.replace, [steps]

    def end_after_some(path: Path, target: Path) -> Path:
        if path.parent == place:
            left[0] -= 1
            if left[0] < 0:
                raise KeyboardInterrupt
        return real(path, target)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "replace", end_after_some)
        with pytest.raises(KeyboardInterrupt):
            publish(place, new)
    publish(place, new)
    assert texts(place) == {**new, "CNAME": "mine"}
    assert sorted(read_manifest(place)) == sorted(new)


def test_a_folder_for_a_run_alone_is_gone_after_it_and_after_a_kill(place: Path) -> None:
    with Staging(place) as staging:
        (staging.scratch() / "pages").write_text("x")
        staging.scratch()
        left = place.parent / ".guidebuild" / "published.scratch"
        assert left.is_dir()
    assert not left.exists()
    left.mkdir()
    (left / "pages").write_text("of a run that was killed")
    with Staging(place):
        assert not left.exists()


def test_a_folder_that_cannot_be_made_is_one_line(tmp_path: Path) -> None:
    (tmp_path / "guide").write_text("a file")
    with pytest.raises(PressError, match=r"cannot publish in .*published: "):
        publish(tmp_path / "guide" / "published", {"index.html": "1"})


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills need processes that fork")
@pytest.mark.parametrize("how", ["exchange", "rename"])
def test_a_kill_at_any_moment_leaves_the_former_or_the_new_output(how: str, tmp_path: Path) -> None:
    command = [sys.executable, str(HERE / "killed_publisher.py"), str(tmp_path / "published"), "200", how]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=HERE.parents[2])
    killed, whole, rest = done.stdout.split(" ", 2)
    assert rest.strip() == "[] ['published-published.json', 'published.lock']"
    assert int(killed) + int(whole) == 200
    assert int(killed) >= 100


def test_a_list_that_names_files_outside_the_folder_reaches_none(place: Path) -> None:
    publish(place, {"cards/a.pdf": "1"})
    secret = place.parent / "guide.yaml"
    secret.write_text("mine")
    told = json.loads((place / MANIFEST).read_text())
    told["files"]["cards/../../guide.yaml"] = told["files"]["cards/a.pdf"]
    (place / MANIFEST).write_text(json.dumps(told))
    with pytest.raises(PressError, match="no path below the published folder"), Staging(place) as staging:
        staging.keep_below("cards")
    publish(place, {"index.html": "2"})
    assert texts(place) == {"index.html": "2"}
    assert secret.read_text() == "mine"
