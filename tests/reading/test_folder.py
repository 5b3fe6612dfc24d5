"""Guides on disks with links, locks and large files; the sample guide reads in silence."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from guidebuild.guide.findings import Finding
from guidebuild.guide.guide import Guide
from guidebuild.reading import text_file
from guidebuild.reading.whole import GuideReading, read_guide

ROOT = Path(__file__).parents[2]


def small_guide(folder: Path, **files: str) -> Path:
    (folder / "accounts").mkdir()
    (folder / "guide.yaml").write_text("title: Toads\n", encoding="utf-8")
    for stem, text in files.items():
        (folder / "accounts" / f"{stem}.md").write_text(text, encoding="utf-8")
    return folder


def guide_of(reading: GuideReading) -> Guide:
    assert reading.guide is not None, reading.findings
    return reading.guide


def codes(findings: tuple[Finding, ...]) -> list[tuple[str, str]]:
    return [(f.code, str(f.at)) for f in findings]


def test_sample_guide_reads_in_silence() -> None:
    reading = read_guide(ROOT / "sample_guide")
    assert reading.findings == ()
    guide = guide_of(reading)
    assert len(guide.accounts) >= 14
    assert all(a.scores and a.diagnostics and a.seasons and a.sections for a in guide.accounts.values())
    assert all(photo.file in guide.photo_files for photo in guide.photos.values())


def test_no_folder_and_no_guide_are_told(tmp_path: Path) -> None:
    assert codes(read_guide(tmp_path / "none").findings) == [("no-guide", "guide.yaml")]
    assert codes(read_guide(tmp_path).findings) == [("no-guide", "guide.yaml")]
    assert read_guide(tmp_path).guide is None


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path) -> None:
    (tmp_path / "private.md").write_text("---\nname: Bufo bufo\n---\n", encoding="utf-8")
    (tmp_path / "guide").mkdir()
    folder = small_guide(tmp_path / "guide")
    (folder / "accounts" / "toad.md").symlink_to(tmp_path / "private.md")
    (folder / "photos").symlink_to(tmp_path)
    reading = read_guide(folder)
    assert codes(reading.findings) == [("outside-guide", "accounts/toad.md"), ("outside-guide", "photos")]
    assert guide_of(reading).accounts == {}


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="no named pipes")
def test_a_pipe_keeps_nobody_waiting(tmp_path: Path) -> None:
    folder = small_guide(tmp_path, toad="---\nname: Bufo bufo\n---\n")
    (folder / "sightings").mkdir()
    (folder / "photos").mkdir()
    for file in ("accounts/pipe.md", "sightings/pipe.csv", "photos/pipe.jpg", "places.yaml", "glossary.yaml"):
        os.mkfifo(folder / file)
    (folder / "accounts/to-pipe.md").symlink_to(folder / "accounts/pipe.md")
    reading = read_guide(folder)
    assert {(f.code, f.at.file) for f in reading.findings} >= {
        ("file-not-readable", file)
        for file in ("accounts/pipe.md", "accounts/to-pipe.md", "sightings/pipe.csv", "photos/pipe.jpg", "places.yaml", "glossary.yaml")
    }
    assert list(guide_of(reading).accounts) == ["toad"]


@pytest.mark.parametrize("links", [{"a.md": "a.md"}, {"a.md": "b.md", "b.md": "a.md"}, {"a.md": "a.md/x"}, {"a.md": "toad.md/x"}])
def test_links_that_lead_round_are_told(tmp_path: Path, links: dict[str, str]) -> None:
    folder = small_guide(tmp_path, toad="---\nname: Bufo bufo\n---\n")
    for name, target in links.items():
        (folder / "accounts" / name).symlink_to(target)
    reading = read_guide(folder)
    assert set(codes(reading.findings)) >= {("file-not-readable", f"accounts/{name}") for name in links}
    assert list(guide_of(reading).accounts) == ["toad"]


def test_a_link_inside_the_folder_is_read(tmp_path: Path) -> None:
    folder = small_guide(tmp_path, toad="---\nname: Bufo bufo\n---\n")
    (folder / "accounts" / "frog.md").symlink_to(folder / "accounts" / "toad.md")
    assert list(guide_of(read_guide(folder)).accounts) == ["frog", "toad"]


def test_a_link_to_nothing_is_told(tmp_path: Path) -> None:
    folder = small_guide(tmp_path)
    (folder / "accounts" / "toad.md").symlink_to(folder / "gone.md")
    assert codes(read_guide(folder).findings) == [("file-not-readable", "accounts/toad.md")]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read every file")
def test_a_locked_file_is_told(tmp_path: Path) -> None:
    folder = small_guide(tmp_path, toad="---\nname: Bufo bufo\n---\n")
    (folder / "accounts" / "toad.md").chmod(0)
    assert codes(read_guide(folder).findings) == [("file-not-readable", "accounts/toad.md")]


def test_a_folder_where_a_file_should_be_is_told(tmp_path: Path) -> None:
    folder = small_guide(tmp_path)
    (folder / "plants.yaml").mkdir()
    assert guide_of(read_guide(folder)).plants == {}


def test_a_very_large_text_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(text_file, "LARGEST", 100)
    folder = small_guide(tmp_path, toad="---\nname: Bufo bufo\n---\n" + "x" * 100)
    assert codes(read_guide(folder).findings) == [("file-too-large", "accounts/toad.md")]


def test_an_account_that_cannot_be_read_is_left_out_and_named(tmp_path: Path) -> None:
    folder = small_guide(tmp_path, toad="---\nname: '???'\n---\n", frog="---\nname: Rana temporaria\nsize: huge\n---\n")
    reading = read_guide(folder)
    assert reading.unread == ("toad",)
    assert list(guide_of(reading).accounts) == ["frog"]
    assert guide_of(reading).accounts["frog"].size is None


def test_a_name_that_cannot_be_shown_is_told(tmp_path: Path) -> None:
    folder = small_guide(tmp_path)
    for name in (b"to\xffad.md", b"to\nad.md"):
        (folder / "accounts" / os.fsdecode(name)).write_text("---\nname: Bufo bufo\n---\n", encoding="utf-8")
    findings = read_guide(folder).findings
    assert codes(findings) == [("bad-file-name", r"accounts/to\nad.md"), ("bad-file-name", r"accounts/to\udcffad.md")]
    assert all(str(finding).isprintable() for finding in findings)


def test_what_the_tool_published_is_not_read(tmp_path: Path) -> None:
    folder = small_guide(tmp_path)
    (folder / "published" / "accounts").mkdir(parents=True)
    (folder / "published" / "accounts" / "x.txt").write_text("x", encoding="utf-8")
    (folder / ".hidden").write_text("x", encoding="utf-8")
    assert read_guide(folder).findings == ()
