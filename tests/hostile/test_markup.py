"""Markup, scripts and template signs in every field an author can write: published as words, never as what they would do."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from guidebuild.cli import exit_code
from tests.hostile.harmless import faults
from tests.hostile.small_guide import change, write_small

EVIL = """x"><script>alert(1)</script><img src=x onerror=alert(2)>'{{ 7*191 }}{% include "/etc/passwd" %}"""
FIELDS = (
    ("guide.yaml", "title: Beetles of a back yard"),
    ("guide.yaml", "description: Two beetles, for trying things out."),
    ("guide.yaml", "region: the yard"),
    ("guide.yaml", "publisher: The Yard Group"),
    ("guide.yaml", "contact: yard@yard.example"),
    ("guide.yaml", "greeting: Hello from the yard."),
    ("accounts/seven-spot.md", "vernacular: Seven-spot"),
    ("accounts/seven-spot.md", "family: Coccinellidae"),
    ("accounts/seven-spot.md", "status: common"),
    ("accounts/seven-spot.md", "- mark: seven black spots"),
    ("accounts/seven-spot.md", "note: The Two-spot has two spots."),
    ("accounts/seven-spot.md", "prey: aphids"),
    ("accounts/seven-spot.md", "egg: A row of yellow eggs."),
    ("photos.yaml", "alt: A round red beetle with seven black spots, from above."),
    ("photos.yaml", "shows: Adult from above"),
    ("photos.yaml", "credit: Yard Group"),
    ("plants.yaml", "vernacular: Nettle"),
    ("plants.yaml", "note: By the wall."),
    ("places.yaml", "name: The Wall"),
    ("places.yaml", "access: By the gate."),
    ("characters.yaml", "label: spots"),
    ("characters.yaml", "question: How many spots?"),
    ("glossary.yaml", "word: elytra"),
    ("glossary.yaml", "meaning: The hard forewings."),
    ("sources.yaml", "cite: Yard notes"),
    ("walks/round-the-yard.yaml", "title: Round the yard"),
    ("walks/round-the-yard.yaml", "meet: The gate"),
    ("walks/round-the-yard.yaml", "contact: yard@yard.example"),
    ("episodes/seven-short.md", "title: Seven spots"),
)
PROSE = """
<script>alert(3)</script><style>body{display:none}</style>
<p onclick="alert(4)" style="position:fixed" title="> 5 mm">A paragraph</p>
<svg onload=alert(6)><script>alert(7)</script></svg><math><mi xlink:href="javascript:alert(1)">m</mi></math>
<iframe src="https://evil.example"></iframe><object data="file:///etc/passwd"></object><embed src="file:///etc/passwd">
<a href="javascript:alert(8)">J1</a> [J2](javascript:alert(9)) [J3](JaVaScRiPt:alert(10)) [J4](&#106;avascript:alert(11))
[J5](data:text/html,<script>alert(12)</script>) [J6](vbscript:x) <javascript:alert(13)> [J7](file:///etc/passwd)
<img src="file:///etc/passwd"> <link rel=stylesheet href="https://evil.example/x.css"> <base href="https://evil.example/">
<meta http-equiv="refresh" content="0;url=https://evil.example"> <form action="https://evil.example"><input name=a></form>
&#x202e;turned &#7; {{ config }} {% include "/etc/passwd" %} {{ ''.__class__.__mro__ }}
"""
REMOTE = "![a](file:///etc/hostname) ![b](https://evil.example/p.png) ![c](../../../etc/hostname) ![d](/etc/hostname)"


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The small guide with the same attack in every field, and others in its prose: its published folder."""
    folder = write_small(tmp_path_factory.mktemp("markup") / "guide")
    quoted = EVIL.replace('"', '\\"')
    for file, line in FIELDS:
        key, _, value = line.partition(": ")
        change(folder, file, line, f'{key}: "{value} {quoted}"')
    change(folder, "accounts/seven-spot.md", "Seven *black* spots.", f"Seven *black* spots.\n{PROSE}")
    assert exit_code(["make", str(folder), "site", "cards", "scripts", "posts", "walks", "data", "--quiet", "--workers", "1"]) in (0, 1)
    return folder / "published"


def test_nothing_published_runs_fetches_or_restyles(published: Path) -> None:
    assert list(faults(published)) == []


def test_what_was_typed_is_read_as_typed(published: Path) -> None:
    page = BeautifulSoup((published / "site/accounts/seven-spot.html").read_text("utf-8"), "html.parser")
    assert page.h1 is not None
    assert EVIL in page.h1.get_text()
    assert "{{ config }}" in page.get_text()


def test_template_signs_are_never_worked_out(published: Path) -> None:
    for file in published.rglob("*.html"):
        text = file.read_text("utf-8")
        assert str(7 * 191) not in re.sub(r"[0-9a-f]{8,}|U\+[0-9A-F]+", "", text), file
        assert "root:x:0" not in text


def test_pictures_from_elsewhere_are_errors_and_their_account_stays_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write_small(tmp_path / "guide")
    change(folder, "accounts/two-spot.md", "Smaller than the other.", f"Smaller. {REMOTE}")
    assert exit_code(["make", str(folder), "site", "data", "--quiet"]) == 1
    assert "Two-spot is not published" in capsys.readouterr().err
    site = folder / "published/site/accounts"
    assert (site / "seven-spot.html").exists()
    assert not (site / "two-spot.html").exists()


@pytest.mark.parametrize(
    "address", ["javascript:alert(1)", "data:text/html,x", "https://[::1", "//evil.example", 'https://a.example/"onclick=', "file:///etc"]
)
def test_addresses_are_web_addresses_or_left_out(tmp_path: Path, address: str, capsys: pytest.CaptureFixture[str]) -> None:
    folder = write_small(tmp_path / "guide")
    change(folder, "sources.yaml", "cite: Yard notes", f"cite: Yard notes\n  address: '{address}'")
    change(folder, "guide.yaml", "address: https://yard.example/guide", f"address: '{address}'")
    assert exit_code(["check", str(folder)]) == 1
    told = capsys.readouterr().out
    assert "guide.yaml:5" in told
    assert "sources.yaml:3" in told
    assert exit_code(["make", str(folder), "data", "posts", "--quiet"]) == 1
    assert all(address.encode() not in file.read_bytes() for file in (folder / "published").rglob("*") if file.is_file())
