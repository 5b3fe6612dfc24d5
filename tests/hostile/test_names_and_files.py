"""Names and files that would mislead a reader, a disk or a spreadsheet, or use up the machine."""

from __future__ import annotations

import csv
import io
import os
import struct
import time
import zipfile
import zlib
from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from tests.hostile.fuzz import use
from tests.hostile.harmless import faults
from tests.hostile.small_guide import FILES, change, write_small


@pytest.fixture
def guide(tmp_path: Path) -> Path:
    """A fresh small guide."""
    return write_small(tmp_path / "guide")


def made(folder: Path, *outputs: str) -> int:
    """Make without bars and with one process."""
    return exit_code(["make", str(folder), *outputs, "--quiet", "--workers", "1"])


def test_control_and_direction_signs_never_reach_a_page(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(guide, "accounts/two-spot.md", "vernacular: Two-spot", 'vernacular: "Two\\u202espot\\x07\\e[31m"')
    change(guide, "plants.yaml", "vernacular: Nettle", 'vernacular: "Net\\u2066tle"')
    change(guide, "guide.yaml", "title: Beetles", "title: Beetles\u202e")
    assert made(guide, "data", "posts") == 1
    assert list(faults(guide / "published")) == []
    exit_code(["check", str(guide)])
    told = capsys.readouterr()
    assert "U+202E" in told.out
    assert "\u202e" not in told.out + told.err
    assert "\x1b" not in told.out + told.err


STEMS = ("con", "aux", "nul.bak", "lpt1", "n" * 240, "Two Spot", "two:spot", "two#spot")
IDS = ("../x", "../../x", "a/b", "..", ".", "a\\\\b", "/etc/x", "c:x", "aux", "n" * 300, "x?y", "", " ")


def test_accounts_and_ids_whose_names_fail_elsewhere_stay_out(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    text = FILES["accounts/two-spot.md"].replace("Adalia bipunctata", "Adalia decempunctata").replace("Two-spot", "Ten-spot")
    for stem in STEMS:
        (guide / f"accounts/{stem}.md").write_text(text, encoding="utf-8")
    for name, first in (
        ("photos", "seven-adult"),
        ("plants", "nettle"),
        ("places", "wall"),
        ("glossary", "elytra"),
        ("sources", "yard-notes"),
    ):
        record = FILES[f"{name}.yaml"].split("\n", 1)[1].partition("\ntwo-adult:")[0]
        assert FILES[f"{name}.yaml"].startswith(first)
        more = "".join(f'"{wanted}":\n{record}\n' for wanted in IDS)
        (guide / f"{name}.yaml").write_text(FILES[f"{name}.yaml"] + more, encoding="utf-8")
    listed = ", ".join(f'"{wanted}"' for wanted in IDS)
    change(guide, "accounts/two-spot.md", "vernacular: Two-spot", f"vernacular: Two-spot\nformerly: [{listed}]")
    change(guide, "guide.yaml", "languages: [en]", f"languages: [en, {listed}]")
    change(guide, "guide.yaml", "- {name: short,", "".join(f'- {{name: "{w}", length: 60–90 s}}\n  ' for w in IDS) + "- {name: short,")
    before = tree(guide.parent)
    assert made(guide, "site", "posts", "scripts", "data") == 1
    assert tree(guide.parent) - before <= {guide / "published", guide / ".guidebuild"}
    told = capsys.readouterr().err
    assert "Traceback" not in told
    names = {path.stem for path in (guide / "published").rglob("*")}
    assert {"seven-spot", "seven-short", "nettle"} <= names
    assert names.isdisjoint(stem.partition(".")[0] for stem in (*STEMS, "x", "b", "two-spot"))
    exit_code(["check", str(guide), "--format", "json"])
    shown = capsys.readouterr().out
    assert all(f"'{stem[:20]}" in shown for stem in STEMS if "." not in stem)


def tree(folder: Path) -> set[Path]:
    """Every path below a folder but what is published there."""
    return {path for path in folder.rglob("*") if not {"published", ".guidebuild"} & set(path.parent.parts)}


def test_cells_that_a_spreadsheet_would_run_are_plain_text(guide: Path) -> None:
    attack = '=HYPERLINK(""https://evil.example"",""x"")'
    change(guide, "sightings/yard.csv", "A. Holt,HumanObservation\nyard-2", f'"{attack}",HumanObservation\nyard-2')
    change(guide, "accounts/two-spot.md", "vernacular: Two-spot", "vernacular: '@SUM(1+1)*cmd|'' /C calc''!A0'")
    change(guide, "accounts/two-spot.md", "family: Coccinellidae", "family: '+Coccinellidae'")
    change(guide, "sources.yaml", "cite: Yard notes", "cite: '-1+1'")
    change(guide, "places.yaml", "name: The Wall", "name: '=HYPERLINK(1)'")
    assert made(guide, "data") in (0, 1)
    data = guide / "published/data"
    assert list(faults(data)) == []
    with (data / "checklist.csv").open(newline="", encoding="utf-8") as file:
        assert any("'@SUM(1+1)*cmd|' /C calc'!A0" in row for row in csv.reader(file))
    with zipfile.ZipFile(data / "sightings.zip") as archive:
        rows = [row for name in archive.namelist() if name.endswith(".csv") for row in csv.reader(io.StringIO(archive.read(name).decode()))]
    assert any(cell.startswith("'=HYPERLINK") for row in rows for cell in row)


BOMB = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
    f"{now}: &{now} [{', '.join(f'*{before}' for _ in range(9))}]\n" for before, now in zip("abcdefgh", "bcdefghi", strict=True)
)


@pytest.mark.parametrize(
    ("file", "text"),
    [
        ("plants.yaml", BOMB),
        ("plants.yaml", f"open: [1\n{BOMB}"),
        ("accounts/two-spot.md", f"---\n{BOMB}---\n## In brief\n"),
        ("plants.yaml", "a: " + "[" * 100_000),
        ("plants.yaml", "a: " + "{a: " * 3_000),
        ("plants.yaml", "a: !!python/object/apply:os.system [touch stolen]"),
        ("accounts/two-spot.md", FILES["accounts/two-spot.md"] + "> " * 20_000 + "deep"),
        ("accounts/two-spot.md", FILES["accounts/two-spot.md"] + "<div>" * 20_000),
        ("accounts/two-spot.md", FILES["accounts/two-spot.md"] + "[" * 5_000 + "(" * 5_000),
        ("accounts/two-spot.md", FILES["accounts/two-spot.md"] + "*a **b " * 3_000),
    ],
    ids=["aliases", "aliases behind a slip", "aliases in an account", "brackets", "braces", "python", "quotes", "tags", "links", "stars"],
)
def test_bombs_of_text_are_met_soon(guide: Path, file: str, text: str, capsys: pytest.CaptureFixture[str]) -> None:
    started = time.process_time()
    use(guide)
    harmless = time.process_time() - started
    (guide / file).write_text(text, encoding="utf-8")
    assert made(guide, "data") in (0, 1)
    started = time.process_time()
    use(guide)
    # A bomb takes hours or all memory: many times what the guide needs without it.
    assert time.process_time() - started < 60 * max(harmless, 0.5)
    assert "Traceback" not in capsys.readouterr().err
    assert (guide / "published/data/checklist.csv").exists()
    assert not Path("stolen").exists()


def png_bomb(side: int) -> bytes:
    """A PNG head that promises side × side pixels, with next to nothing behind it (PNG specification, section 11.2)."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", side, side, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 1_000_000)) + chunk(b"IEND", b"")


SVG = b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;">]><svg xmlns="http://www.w3.org/2000/svg">&b;<script>alert(1)</script></svg>'


NO_PHOTOS = {
    "pixels.png": (png_bomb(60_000), "pixels"),
    "drawing.jpg": (SVG, "SVG"),
    "page.jpg": (b"<html><script>alert(1)</script></html>", "web page"),
    "head.png": (b"\x89PNG\r\n\x1a\n", "photo"),
    "empty.jpg": (b"", "empty"),
    "postscript.jpg": (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n(/etc/passwd) (r) file\n", "photo"),
}


def test_a_file_that_is_no_photo_costs_only_its_picture(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    record = FILES["photos.yaml"].partition("two-adult:\n")[2]
    more = ""
    for name, (data, _) in NO_PHOTOS.items():
        (guide / "photos" / name).write_bytes(data)
        more += f"{Path(name).stem}:\n{record.replace('two-adult.png', name)}"
    (guide / "photos.yaml").write_text(FILES["photos.yaml"] + more, encoding="utf-8")
    listed = ", ".join(Path(name).stem for name in NO_PHOTOS)
    change(guide, "accounts/two-spot.md", "photos: [two-adult]", f"photos: [two-adult, {listed}]")
    assert made(guide, "site") == 1
    told = capsys.readouterr().err.splitlines()
    for name, (_, words) in NO_PHOTOS.items():
        assert any(line.startswith(f"photos/{name}: error:") and words in line for line in told), name
    published = guide / "published"
    assert (published / "site/accounts/two-spot.html").exists()
    assert list(published.rglob("seven-adult-*.webp"))
    assert list(published.rglob("two-adult-*.webp"))
    assert not [file for name in NO_PHOTOS for file in published.rglob(f"{Path(name).stem}-*")]
    assert all(b"alert(1)" not in file.read_bytes() for file in published.rglob("*") if file.is_file())


@pytest.mark.skipif(not hasattr(os, "symlink"), reason="no symbolic links")
def test_links_out_of_the_guide_are_not_followed(guide: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    secret = tmp_path / "secret.jpg"
    secret.write_bytes((guide / "photos/seven-adult.jpg").read_bytes() + b"SECRET WORDS")
    words = tmp_path / "secret.md"
    words.write_text(FILES["accounts/two-spot.md"].replace("Two-spot", "SECRET WORDS"), encoding="utf-8")
    (guide / "photos/two-adult.png").unlink()
    (guide / "photos/two-adult.png").symlink_to(secret)
    (guide / "accounts/secret.md").symlink_to(words)
    (guide / "theme").mkdir()
    (guide / "theme/static").symlink_to(tmp_path)
    assert made(guide, "site") == 1
    exit_code(["check", str(guide)])
    assert "outside-guide" in capsys.readouterr().out
    published = guide / "published"
    assert all(b"SECRET WORDS" not in file.read_bytes() for file in published.rglob("*") if file.is_file())
    assert not list(published.rglob("secret*"))
    assert not list(published.rglob("two-adult-*"))


def test_paths_out_of_the_guide_are_not_opened(guide: Path, tmp_path: Path) -> None:
    (tmp_path / "secret.jpg").write_bytes((guide / "photos/seven-adult.jpg").read_bytes())
    for wanted in ("../secret.jpg", str(tmp_path / "secret.jpg"), (tmp_path / "secret.jpg").as_uri()):
        text = FILES["photos.yaml"].replace("photos/two-adult.png", wanted)
        (guide / "photos.yaml").write_text(text, encoding="utf-8")
        assert made(guide, "posts") in (0, 1)
        assert not list((guide / "published/posts/two-spot").glob("*.jpg"))


def test_square_brackets_in_names_are_words_on_the_terminal(guide: Path, capsys: pytest.CaptureFixture[str]) -> None:
    change(guide, "accounts/two-spot.md", "vernacular: Two-spot", 'vernacular: "Two [/bold] [link=file:///etc]spot"')
    for command in (["check"], ["key"], ["season"], ["fieldlist"], ["walk", "round-the-yard"], ["compare", "two-spot", "seven-spot"]):
        where = [str(guide)] if command[0] == "check" else ["--in", str(guide)]
        code = exit_code([*command, *where])
        told = capsys.readouterr()
        assert code in (0, 1), told.err
        assert "Traceback" not in told.err
