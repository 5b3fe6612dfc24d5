"""The sample guide passes in silence; each of the named ways to break it gives its finding, at the file and line of the change."""

from __future__ import annotations

import datetime as dt
import shutil
from functools import cache
from pathlib import Path

import pytest
import yaml

from guidebuild.checks.registry import check_guide
from guidebuild.guide.findings import Finding, Level
from guidebuild.reading.whole import read_guide

ROOT = Path(__file__).resolve().parents[2]
SAMPLE = ROOT / "sample_guide"
AS_OF = dt.date(2026, 11, 25)
BREAKS = yaml.safe_load(Path(__file__).with_name("breaks.yaml").read_text(encoding="utf-8"))


def findings(folder: Path) -> tuple[Finding, ...]:
    reading = read_guide(folder, as_of=AS_OF)
    return check_guide(reading.guide, reading.findings).findings if reading.guide else reading.findings


@pytest.fixture(scope="module")
def copy(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The sample without its output; pictures are linked, since no break touches them."""
    folder = tmp_path_factory.mktemp("broken") / "guide"
    ignored = shutil.ignore_patterns("published", ".guidebuild", "drawing")
    shutil.copytree(SAMPLE, folder, ignore=ignored)
    return folder


@cache
def before() -> frozenset[tuple[str, str, str]]:
    return frozenset((f.code, f.at.file, f.message) for f in findings(SAMPLE))


def test_the_sample_guide_has_nothing_to_mend() -> None:
    assert [str(f) for f in findings(SAMPLE) if f.level is not Level.NOTE] == []


def test_there_are_at_least_twenty_five_ways_of_different_kinds() -> None:
    assert len({b["name"] for b in BREAKS}) == len(BREAKS) >= 25
    assert len({b["code"] for b in BREAKS}) >= 25


@pytest.mark.parametrize("broken", BREAKS, ids=[b["name"] for b in BREAKS])
def test_a_break_is_found_where_it_was_made(broken: dict[str, str], copy: Path) -> None:
    file = copy / broken["file"]
    sound = file.read_text(encoding="utf-8")
    find, put = (broken[key].replace("{TAB}", "\t").replace("{NBSP}", "\N{NO-BREAK SPACE}") for key in ("find", "put"))
    assert find in sound, "the sample has changed: choose another place to break"
    line = sound[: sound.index(find)].count("\n") + 1
    try:
        file.write_text(sound.replace(find, put, 1), encoding="utf-8")
        new = [f for f in findings(copy) if (f.code, f.at.file, f.message) not in before()]
    finally:
        file.write_text(sound, encoding="utf-8")
    found = [f for f in new if f.code == broken["code"]]
    assert found, f"found instead: {[str(f) for f in new]}"
    if broken.get("line") == "any":
        assert all(f.at.line for f in found), found
    else:
        assert (broken["file"], line) in [(f.at.file, f.at.line) for f in found], [str(f) for f in found]
    assert all(f.mend for f in found)
