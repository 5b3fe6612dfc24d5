"""Publishing on disks that refuse, are full, are mounted, or lose their process."""

import errno
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from guidebuild.press.engine import staging as staging_module
from guidebuild.press.engine import swap
from guidebuild.press.engine.problems import PressError
from guidebuild.press.engine.staging import Outcome, Staging
from guidebuild.press.engine.trees import MANIFEST
from tests.press.engine.own_list import read_manifest
from tests.press.engine.staged import publish, texts, workshop

HERE = Path(__file__).parent


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
@pytest.mark.parametrize(("how", "rounds"), [("exchange", 200), ("rename", 200), ("few", 80)])
def test_a_kill_at_any_moment_leaves_the_former_or_the_new_output(how: str, rounds: int, tmp_path: Path) -> None:
    command = [sys.executable, str(HERE / "killed_publisher.py"), str(tmp_path / "published"), str(rounds), how]
    done = subprocess.run(command, capture_output=True, text=True, check=True, cwd=HERE.parents[2])
    killed, whole, mixed, rest = done.stdout.split(" ", 3)
    assert rest.strip() == "[] ['published-published.json', 'published.lock']"
    assert int(killed) + int(whole) == rounds
    assert int(killed) >= rounds // 2
    # Where a few files are replaced, some kills came in between; the next look had mended all of them.
    assert (int(mixed) > 0) == (how == "few")


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
