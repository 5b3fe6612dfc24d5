"""Paths that may be written below a folder, and when the last run of a guide may be stood by."""

from __future__ import annotations

import os
import time
from pathlib import Path

import pytest

from guidebuild.press.engine.trees import find_inside
from guidebuild.press.engine.unchanged import read_last_run


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
