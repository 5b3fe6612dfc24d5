"""Rows of sightings are read again where a reading of them could be another, and only there. All data are invented."""

from __future__ import annotations

import datetime as dt
import os
from pathlib import Path

import pytest

from guidebuild.reading import sighting_memory
from guidebuild.reading.memory import Memory
from guidebuild.reading.sighting_memory import keep_for_sightings
from guidebuild.reading.sightings import read_sightings
from guidebuild.reading.whole import GuideReading, read_guide
from tests.guides.whole_guides import HERE, NAMES
from tests.reading.test_memory import TODAY, values_of

SAMPLE = Path(__file__).parents[2] / "sample_guide"
GUIDE = """title: Invented
languages: [en]
life stages:
  moth: {title: Moths, stages: {caterpillar: caterpillar, moth: moth}, sought: [moth], key: moth}
"""
ACCOUNT = "---\nname: Aus bus\nvernacular: Plain Bus\ngroup: moth\n---\n## In brief\nIt flies.\n"
PLACE = "fen:\n  name: Invented Fen\n  position: 51.5, -1.5\n  uncertainty: 100 m\n"
ROWS = """scientificName,eventDate,lifeStage,locality,decimalLatitude,decimalLongitude
Aus bus,2026-05-03,moth,Invented Fen,,
Aus cus,2026-06-20,caterpillar,,51.5,-1.5
Aus bus,03/04/2026,imago,Marsh,,
Grey Bus,2026-05-05,moth,,,
old-bus,2026-05-06T20:30:00Z,moth,,,
"""


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    for file, text in {"guide.yaml": GUIDE, "accounts/bus.md": ACCOUNT, "places.yaml": PLACE, "sightings/a.csv": ROWS}.items():
        (tmp_path / file).parent.mkdir(exist_ok=True)
        (tmp_path / file).write_text(text, "utf-8")
    return tmp_path


@pytest.fixture
def readings(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """One entry for each time that the rows are read with a memory."""
    seen: list[str] = []
    read = sighting_memory.read_sightings
    monkeypatch.setattr(sighting_memory, "read_sightings", lambda *given: (seen.append("read"), read(*given))[1])
    return seen


def read_both(folder: Path, memory: Memory, day: dt.date = TODAY) -> GuideReading:
    known, fresh = read_guide(folder, as_of=day, memory=memory), read_guide(folder, as_of=day)
    assert known.findings == fresh.findings
    assert values_of(known.guide) == values_of(fresh.guide)
    return known


def change(path: Path, old: str, new: str) -> None:
    """An edit that keeps the file's size and time wherever its length allows it."""
    text, stat = path.read_text("utf-8"), path.stat()
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")
    os.utime(path, ns=(stat.st_atime_ns, stat.st_mtime_ns))


@pytest.mark.parametrize("folder", [SAMPLE, *(HERE / name for name in NAMES)], ids=lambda path: path.name)
def test_rows_are_read_alike_with_what_is_kept_of_a_guide(folder: Path) -> None:
    whole = read_guide(folder, as_of=TODAY).guide
    assert whole is not None
    files = whole.sighting_files
    assert read_sightings(folder, files, keep_for_sightings(whole)) == read_sightings(folder, files, whole)


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("accounts/bus.md", "It flies.", "It flies by night."),
        ("accounts/bus.md", "group: moth", "group: moth\nstatus: rare"),
        ("guide.yaml", "title: Invented", "title: Another"),
    ],
)
def test_an_edit_of_other_words_reads_no_row(guide: Path, readings: list[str], file: str, old: str, new: str) -> None:
    memory = Memory()
    before = read_both(guide, memory)
    change(guide / file, old, new)
    after = read_both(guide, memory)
    assert readings == ["read"]
    assert before.guide is not None
    assert after.guide is not None
    assert after.guide.sightings is before.guide.sightings


@pytest.mark.parametrize(
    ("file", "old", "new"),
    [
        ("accounts/bus.md", "name: Aus bus", "name: Aus cus"),
        ("accounts/bus.md", "Plain Bus\n", "Plain Bus\nsynonyms: [Aus cus]\n"),
        ("accounts/bus.md", "group: moth", "group: seed"),
        ("accounts/bus.md", "Plain Bus\n", "Plain Bus\nsensitive: high\n"),
        ("accounts/bus.md", "Plain Bus\n", "Plain Bus\nalso called: [Grey Bus]\n"),
        ("accounts/bus.md", "Plain Bus\n", "Plain Bus\nformerly: [old-bus]\n"),
        ("guide.yaml", "languages: [en]", "time zone: Asia/Tokyo"),
        ("places.yaml", "Invented Fen", "Invented Den"),
        ("places.yaml", "51.5, -1.5", "52.5, -1.5"),
        ("guide.yaml", "caterpillar: caterpillar", "caterpillar: larva"),
        ("guide.yaml", "languages: [en]", "dates: day first"),
        ("guide.yaml", "languages: [en]", "region box: 50, -2, 51, -1"),
        ("sightings/a.csv", "2026-05-03", "2026-05-04"),
    ],
)
def test_whatever_a_row_is_read_with_has_the_rows_read_again(guide: Path, readings: list[str], file: str, old: str, new: str) -> None:
    memory = Memory()
    read_both(guide, memory)
    change(guide / file, old, new)
    read_both(guide, memory)
    assert readings == ["read", "read"]


def test_another_day_other_words_and_another_file_have_the_rows_read_again(guide: Path, readings: list[str]) -> None:
    memory = Memory()
    read_both(guide, memory)
    read_both(guide, memory, TODAY + dt.timedelta(days=60))
    (guide / "sightings.yaml").write_text("stages:\n  imago: moth\n", "utf-8")
    read_both(guide, memory, TODAY + dt.timedelta(days=60))
    (guide / "sightings" / "a.csv").rename(guide / "sightings" / "b.csv")
    read_both(guide, memory, TODAY + dt.timedelta(days=60))
    assert readings == ["read"] * 4
    read_both(guide, memory, TODAY + dt.timedelta(days=60))
    assert readings == ["read"] * 4


def test_a_file_that_is_written_while_it_is_read_is_read_again(guide: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    memory, read, file = Memory(), sighting_memory.read_sightings, guide / "sightings" / "a.csv"

    def write_and_read(*given: object) -> object:
        change(file, "2026-05-03", "2026-05-04")
        return read(*given)  # type: ignore[arg-type]

    monkeypatch.setattr(sighting_memory, "read_sightings", write_and_read)
    read_guide(guide, as_of=TODAY, memory=memory)
    monkeypatch.undo()
    change(file, "2026-05-04", "2026-05-03")
    read_both(guide, memory)
