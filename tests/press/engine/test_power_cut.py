"""The power fails at any moment: a reader finds the former output or the new one, and the next run succeeds."""

from __future__ import annotations

import random
import shutil
import sys
from pathlib import Path

import pytest

from guidebuild.press.engine import few_files
from guidebuild.press.engine.digest import digest_bytes
from guidebuild.press.engine.staging import Staging
from guidebuild.press.engine.trees import MANIFEST, files_below
from tests.press.engine.forgetful_disk import ForgetfulDisk
from tests.press.engine.own_list import read_manifest

CUTS = 150
"""So many a way; five ways."""


def texts_of(version: int) -> dict[str, str]:
    """Pages that all change, one that stays, one of each version alone."""
    pages = {f"accounts/bug-{number}.html": f"{number} of version {version}" for number in range(4)}
    return {**pages, "index.html": f"home of version {version}", "same.html": "never changes", f"news/{version}.html": "news"}


def publish(place: Path, version: int) -> None:
    with Staging(place) as staging:
        for path, text in texts_of(version).items():
            if not staging.keep(path, text):
                staging.add(path, text.encode(), key=text)
        staging.publish()


def found(place: Path) -> dict[str, str]:
    return {path: (place / path).read_bytes().decode() for path in files_below(place) if path != MANIFEST}


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="notes what Linux does")
@pytest.mark.parametrize(
    ("exchange", "whole", "few"),
    [(True, True, False), (True, False, False), (False, True, False), (False, False, False), (True, False, True)],
)
def test_after_a_power_cut_the_former_or_the_new_output_stands_and_the_next_run_succeeds(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, exchange: bool, whole: bool, few: bool
) -> None:
    """`few`: the files are replaced by themselves, and what was begun is finished by the next look."""
    if few:
        monkeypatch.setattr(few_files, "MANY", 0)
    root, start = tmp_path / "guide", tmp_path / "start"
    publish(root / "published", 1)
    (root / "published/CNAME").write_text("mine")
    shutil.copytree(root, start)
    disk = ForgetfulDisk(root)
    with pytest.MonkeyPatch.context() as patch:
        disk.watch(patch, exchange=exchange, whole=whole)
        publish(root / "published", 2)
    draw, seen = random.Random(20261128), set()
    versions = [{**texts_of(version), "CNAME": "mine"} for version in (1, 2)]
    for number in range(CUTS):
        at = tmp_path / "after"
        disk.after_a_cut(start, at, 1 + number % len(disk.steps), draw)
        place = at / "published"
        if few or not place.exists():  # between two renames
            assert few or not exchange
            with Staging(place):
                pass
        stands = found(place)
        assert stands in versions, (number, disk.steps[: 1 + number % len(disk.steps)])
        assert {path: digest_bytes(text.encode()) for path, text in stands.items() if path != "CNAME"} == read_manifest(place)
        seen.add(versions.index(stands))
        publish(place, 3)
        assert found(place) == {**texts_of(3), "CNAME": "mine"}
        assert not [path.name for path in (at / ".guidebuild").iterdir() if path.name.endswith((".former", "published.coming", ".scratch"))]
        shutil.rmtree(at)
    assert seen == {0, 1}
