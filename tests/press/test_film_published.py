"""A whole run with a film: what it carries unseen is taken off, and one that tells a secret is nowhere in what is published (invented)."""

from __future__ import annotations

from pathlib import Path

import pytest

from guidebuild.cli import exit_code
from tests.guide_files import write_files
from tests.press.media.recordings import PLACE, SPOT, telltale_film

FILES = {
    "guide.yaml": "title: Toads\nlevel: sketch\ngroup: amphibian\naddress: https://toads.example\n",
    "places.yaml": "weir: {name: Otter Weir, area: the valley, sensitive: high}\n",
    "accounts/toad.md": "---\nname: Bufo bufo\nvernacular: Toad\nfamily: Bufonidae\n---\n## In brief\nA toad.\n",
    "films.yaml": "by-the-water:\n  title: By the water\n  file: toad.webm\n  captions: toad.vtt\n  accounts: toad\n  credit: A. Maker\n"
    "  licence: CC-BY-4.0\n  chapters: ['0:00 Opening', '0:04 {second}']\n",
    "films/toad.vtt": "WEBVTT\n\n00:00.000 --> 00:04.000\nWe stand by {first}\n\n00:04.000 --> 00:08.000\nWeir, and here is a toad.\n",
}


def publish(folder: Path, first: str, second: str) -> dict[str, bytes]:
    filled = {file: text.replace("{first}", first).replace("{second}", second) for file, text in FILES.items()}
    write_files(folder, filled)
    (folder / "films/toad.webm").write_bytes(telltale_film("webm", "libopus", "libvpx-vp9"))
    exit_code(["make", str(folder), "site", "posts", "--quiet"])
    site = folder / "published"
    return {path.relative_to(site).as_posix(): path.read_bytes() for path in site.rglob("*") if path.is_file()}


def test_a_film_is_published_without_what_it_carries_unseen(tmp_path: Path) -> None:
    files = publish(tmp_path, "the", "The toad")
    given = (tmp_path / "films/toad.webm").read_bytes()
    assert b"LOCATION" in given and SPOT.encode() in given and PLACE.encode() in given
    film = files["site/films/by-the-water.webm"]
    assert b"LOCATION" not in film and SPOT.encode() not in film and PLACE.encode() not in film
    assert b"media-src" in files["site/films/by-the-water.html"]
    assert "site/films/by-the-water.vtt" in files


@pytest.mark.parametrize(("first", "second"), [("Otter", "The toad"), ("the", "At Otter Weir")])
def test_a_film_that_tells_a_secret_place_is_nowhere(tmp_path: Path, first: str, second: str) -> None:
    files = publish(tmp_path, first, second)
    assert "site/accounts/toad.html" in files
    assert not [path for path in files if "by-the-water" in path or path.startswith("site/films/")]
    assert not [path for path, data in files.items() if b"by-the-water" in data or b"Otter" in data]
