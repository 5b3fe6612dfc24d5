"""The real command, stopped, doubled, or refused by the disk: one line, its exit code, and the former output as it was."""

from __future__ import annotations

import os
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.benchmarks.synthetic import Invented
from tests.hostile.real_make import command, fingerprint, holder, in_one_line, made, running, session, until, until_all_ended
from tests.hostile.small_guide import change, write_small

WORK_FOR_WORKERS = ("site", "--workers", "2")

posix = pytest.mark.skipif(sys.platform == "win32", reason="signals and sessions as POSIX has them")


@pytest.fixture(scope="module")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A small guide that nothing was made of: work enough for workers to be started."""
    guide = tmp_path_factory.mktemp("fresh") / "guide"
    Invented(4).write(guide, pixels=(600, 450))
    return guide


@pytest.fixture(scope="module")
def guide(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small guide with its tables published."""
    guide = write_small(tmp_path_factory.mktemp("made") / "guide")
    assert made(guide, "data").returncode == 0
    return guide


def at_work(process: subprocess.Popen[str]) -> bool:
    """Whether a make has started its workers: beside itself the server that starts them, its helper, and one."""
    return len(session(process.pid)) >= 4


@posix
@pytest.mark.parametrize("times", [1, 2])
def test_ctrl_c_ends_a_make_and_its_workers_with_one_word(fresh: Path, times: int) -> None:
    shutil.rmtree(fresh / ".guidebuild", ignore_errors=True)
    with running(command(fresh, *WORK_FOR_WORKERS)) as process:
        until(lambda: at_work(process), process)
        for _ in range(times):
            os.killpg(process.pid, signal.SIGINT)
        out, told = process.communicate(timeout=60)
        assert process.returncode == 130
        assert out == ""
        # An empty line first: terminals show ^C. At a second Ctrl-C Python's own helper may add that it has cleared up.
        assert told.startswith("\nStopped.\n")
        assert "Traceback" not in told
        assert times == 2 or told == "\nStopped.\n"
        until_all_ended(process.pid)
    assert not (fresh / "published").exists()


@posix
def test_workers_end_when_the_make_alone_is_killed(fresh: Path) -> None:
    shutil.rmtree(fresh / ".guidebuild", ignore_errors=True)
    with running(command(fresh, *WORK_FOR_WORKERS)) as process:
        until(lambda: at_work(process), process)
        process.kill()
        process.communicate(timeout=60)
        until_all_ended(process.pid)


@posix
def test_of_two_makes_at_once_one_publishes_and_the_other_says_so_in_one_line(guide: Path) -> None:
    change(guide, "guide.yaml", "publisher: The Yard Group", "publisher: The other group")
    before = fingerprint(guide / "published")
    with running(command(guide, "data")) as first:
        until(lambda: holder(guide) == first.pid, first)
        os.kill(first.pid, signal.SIGSTOP)
        second = made(guide, "data")
        assert second.returncode == 2
        told = in_one_line(second.stderr)
        assert told == f"guidebuild: another run is publishing {guide}/published just now (process {first.pid}); wait until it has finished"
        assert fingerprint(guide / "published") == before
        os.kill(first.pid, signal.SIGCONT)
        _, told = first.communicate(timeout=60)
        assert (first.returncode, told) == (0, "")
    after = fingerprint(guide / "published")
    assert after != before
    assert made(guide, "data").returncode == 0
    assert fingerprint(guide / "published") == after


@pytest.fixture(scope="module")
def small_disk(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Path]:
    """A disk of a few hundred kilobytes with a guide on it, its tables published."""
    place = tmp_path_factory.mktemp("disk")
    options = ["-t", "tmpfs", "-o", "size=400k", "guide", str(place)]
    if shutil.which("mount") is None or subprocess.run(["mount", *options], check=False, capture_output=True).returncode:
        pytest.skip("a small disk of its own can only be had by root")
    try:
        write_small(place / "guide")
        assert made(place / "guide", "data").returncode == 0
        yield place
    finally:
        subprocess.run(["umount", "--lazy", str(place)], check=True)


def test_a_full_disk_is_said_in_one_line_and_costs_nothing(small_disk: Path) -> None:
    guide = small_disk / "guide"
    before = fingerprint(guide / "published")
    change(guide, "guide.yaml", "publisher: The Yard Group", "publisher: The other group")
    filler = small_disk / "filler"
    with pytest.raises(OSError, match="No space"), filler.open("wb", buffering=0) as file:
        while True:
            file.write(bytes(4096))
    refused = made(guide, "data")
    assert refused.returncode == 2
    assert in_one_line(refused.stderr).startswith(f"guidebuild: cannot publish in {guide}/published: the disk is full; nothing was changed")
    assert fingerprint(guide / "published") == before
    filler.unlink()
    assert made(guide, "data").returncode == 0
    assert fingerprint(guide / "published") != before


def test_a_disk_that_can_only_be_read_is_said_in_one_line(small_disk: Path) -> None:
    guide = small_disk / "guide"
    change(guide, "accounts/two-spot.md", "status: common", "status: rare")
    before = fingerprint(small_disk)
    subprocess.run(["mount", "-o", "remount,ro", str(small_disk)], check=True)
    try:
        refused = made(guide, "data")
    finally:
        subprocess.run(["mount", "-o", "remount,rw", str(small_disk)], check=True)
    assert refused.returncode == 2
    assert in_one_line(refused.stderr) == f"guidebuild: cannot publish in {guide}/published: the disk can only be read, not written"
    assert fingerprint(small_disk) == before


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no symbolic links")
@pytest.mark.parametrize("link", ["published", ".guidebuild", ".guidebuild/store", ".guidebuild/print", ".guidebuild/store/made"])
@pytest.mark.parametrize("target", ["others", "nowhere", "itself"])
def test_a_link_out_of_the_guide_is_refused_in_one_line(tmp_path: Path, link: str, target: str) -> None:
    guide = write_small(tmp_path / "guide")
    others = tmp_path / "others"
    others.mkdir()
    (guide / link).parent.mkdir(parents=True, exist_ok=True)
    (guide / link).symlink_to(guide / link if target == "itself" else tmp_path / target)
    refused = made(guide, "data")
    assert refused.returncode == 2
    assert in_one_line(refused.stderr).startswith(f"guidebuild: {guide}/{link} is a link that leads out of the guide, ")
    assert not any(others.iterdir())
    assert not (tmp_path / "nowhere").exists()


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no symbolic links")
def test_a_link_that_stays_in_the_guide_is_followed(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    (guide / "www/site").mkdir(parents=True)
    (guide / "published").symlink_to(guide / "www/site")
    assert made(guide, "data").returncode == 0
    assert (guide / "published").is_symlink()
    assert (guide / "www/site/data/checklist.csv").is_file()


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no symbolic links")
def test_a_link_to_a_folder_of_others_is_refused_and_nothing_there_is_touched(tmp_path: Path) -> None:
    guide = write_small(tmp_path / "guide")
    others = tmp_path / "others"
    (others / "data").mkdir(parents=True)
    (others / "data/checklist.csv").write_text("mine")
    (guide / "published").symlink_to(others)
    refused = made(guide, "data")
    assert refused.returncode == 2
    assert "is a link that leads out of the guide" in in_one_line(refused.stderr)
    assert (others / "data/checklist.csv").read_text() == "mine"
    assert {path.name for path in others.rglob("*")} == {"data", "checklist.csv"}
    assert (guide / "published").is_symlink()


def test_a_file_of_others_in_the_way_is_refused_and_one_beside_is_kept(guide: Path) -> None:
    published = guide / "published"
    (published / "notes.txt").write_text("mine")
    (published / "walks").write_text("mine too, where a folder is to stand")
    refused = made(guide, "walks")
    assert refused.returncode == 2
    assert "is not ours; move it away or rename it" in in_one_line(refused.stderr)
    assert (published / "walks").read_text().startswith("mine too")
    (published / "walks").unlink()
    assert made(guide, "data").returncode == 0
    assert (published / "notes.txt").read_text() == "mine"
