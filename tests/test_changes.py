"""Changes of several files at once: all or nothing, whatever breaks them off, and never a file outside of the guide."""

from __future__ import annotations

import json
import random
import shutil
import sys
from pathlib import Path

import pytest

from guidebuild.changes import CannotChangeError, Changes, make_changes, undo_broken_change
from tests.guide_files import text_files
from tests.press.engine.forgetful_disk import ForgetfulDisk


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="notes what Linux does")
@pytest.mark.parametrize("whole", [True, False])
def test_after_a_power_cut_all_is_changed_or_nothing(tmp_path: Path, *, whole: bool) -> None:
    root, start = tmp_path / "guide", tmp_path / "start"
    before = {"accounts/one.md": b"one", "accounts/two.md": b"names one"}
    for file, data in before.items():
        (root / file).parent.mkdir(parents=True, exist_ok=True)
        (root / file).write_bytes(data)
    shutil.copytree(root, start)
    after = {"accounts/eins.md": b"eins", "accounts/two.md": b"names eins"}
    disk = ForgetfulDisk(root)
    with pytest.MonkeyPatch.context() as patch:
        disk.watch(patch, exchange=True, whole=whole)
        patch.setattr(shutil, "copy2", lambda one, other: Path(other).write_bytes(Path(one).read_bytes()))
        make_changes(root, Changes(after, (("accounts/one.md", "accounts/eins.md"),)))
    draw, seen = random.Random(20261128), set()
    for number in range(300):
        at = tmp_path / f"after-{number}"
        disk.after_a_cut(start, at, 1 + number % len(disk.steps), draw)
        undo_broken_change(at)
        stands = {file: data for file, data in text_files(at).items() if not file.endswith(".coming")}
        assert stands in (before, after), disk.steps[: 1 + number % len(disk.steps)]
        seen.add(stands == after)
    assert seen == {False, True}


def test_changes_know_what_stood_and_what_will_stand() -> None:
    changes = Changes({"b.md": b"", "c.md": b""}, (("a.md", "b.md"), ("d.jpg", "e.jpg")))
    assert changes.before == ("a.md", "d.jpg", "c.md")
    assert changes.after == ("b.md", "c.md", "e.jpg")


@pytest.mark.parametrize("damage", ["", "{", "[]", "{}", '{"fresh": 1, "coming": [], "before": []}', "\0" * 90])
def test_a_damaged_list_of_a_change_is_one_line_that_names_it(tmp_path: Path, damage: str) -> None:
    kept = tmp_path / ".guidebuild/stood-before/1"
    kept.mkdir(parents=True)
    (kept / "under-way.json").write_text(damage)
    with pytest.raises(CannotChangeError, match=r"under-way\.json cannot be read, .* stood before a change that was broken off"):
        undo_broken_change(tmp_path)


@pytest.mark.parametrize("key", ["fresh", "coming", "before"])
@pytest.mark.parametrize("way_out", ["../mine.txt", "/{tmp}/mine.txt"])
def test_a_list_that_came_with_a_guide_reaches_no_file_outside_of_it(tmp_path: Path, key: str, way_out: str) -> None:
    guide, kept = tmp_path / "guide", tmp_path / "guide/.guidebuild/stood-before/1"
    kept.mkdir(parents=True)
    for name in ("mine.txt", "mine.txt.coming", "guide/.guidebuild/stood-before/mine.txt"):
        (tmp_path / name).write_text("mine")
    note = {"before": [], "fresh": [], "coming": [], key: [way_out.format(tmp=str(tmp_path).strip("/"))]}
    (kept / "under-way.json").write_text(json.dumps(note))
    with pytest.raises(CannotChangeError, match="lies outside of its folder"):
        undo_broken_change(guide)
    assert (tmp_path / "mine.txt").read_text() == (tmp_path / "mine.txt.coming").read_text() == "mine"
