"""The same guide gives the same bytes: in another folder, with other processes, time zone, locale, hash seed and file times."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile.small_guide import change, write_small

MAY_2026 = "1777680000"


def published_bytes(folder: Path, *, workers: int, **surroundings: str) -> dict[str, str]:
    """Make a small guide of everything in a process of its own: digest of each published file, by path."""
    write_small(folder)
    change(folder, "guide.yaml", "hashtags:", "prints: [plate-a5, print shop]\nhashtags:")
    command = [sys.executable, "-m", "guidebuild", "make", str(folder), "--quiet", "--workers", str(workers)]
    done = subprocess.run(command, env={**os.environ, "SOURCE_DATE_EPOCH": MAY_2026, **surroundings}, capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
    published = folder / "published"
    files = (path for path in published.rglob("*") if path.is_file())
    return {path.relative_to(published).as_posix(): hashlib.sha256(path.read_bytes()).hexdigest() for path in files}


@pytest.mark.slow
def test_every_published_file_is_the_same_elsewhere(tmp_path: Path) -> None:
    here = published_bytes(tmp_path / "one", workers=1, TZ="UTC", LC_ALL="C.UTF-8", PYTHONHASHSEED="1")
    elsewhere = tmp_path / "another place, ü" / "deep" / "two"
    there = published_bytes(elsewhere, workers=3, TZ="Pacific/Auckland", LC_ALL="tr_TR.UTF-8", LANG="de_DE.UTF-8", PYTHONHASHSEED="77")
    assert {Path(path).suffix for path in here} >= {".html", ".pdf", ".webp", ".jpg", ".woff2", ".zip", ".ics", ".csv", ".vtt"}
    assert here.keys() == there.keys()
    assert [path for path in here if here[path] != there[path]] == []
