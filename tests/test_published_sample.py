"""What the sample publishes, read back from its files: nothing hidden travels along, every way leads somewhere."""

from __future__ import annotations

import csv
import io
import json
import zipfile
from collections import Counter
from pathlib import Path
from urllib.parse import unquote, urldefrag, urlsplit

import pikepdf
import pytest
from bs4 import BeautifulSoup
from PIL import ExifTags, Image

from guidebuild.press.engine.own_places import WORKSHOP
from tests.conftest import SAMPLE

pytestmark = pytest.mark.slow

CAMERA = b"Drawn for the sample"
PICTURES = {".jpg", ".png", ".webp", ".avif"}


@pytest.fixture(scope="module")
def published(sample_published: Path) -> Path:
    return sample_published / "published"


def files(folder: Path, *suffixes: str) -> list[Path]:
    return sorted(p for p in folder.rglob("*") if p.is_file() and (not suffixes or p.suffix in suffixes))


def test_everything_was_published_without_a_failure(sample_published: Path) -> None:
    assert (sample_published.parent / "sample_guide.done").read_text() == "0"
    for output in ("site", "cards", "scripts", "posts", "walks", "data"):
        assert files(sample_published / "published" / output), output


def test_the_originals_hold_what_must_not_travel() -> None:
    with Image.open(SAMPLE / "photos/parent-adult.jpg") as original:
        assert original.getexif().get_ifd(ExifTags.IFD.GPSInfo)
    assert CAMERA in (SAMPLE / "photos/parent-adult.jpg").read_bytes()


def test_no_published_picture_holds_exif_or_a_position(published: Path) -> None:
    pictures = files(published, *PICTURES)
    assert len(pictures) > 200
    for path in pictures:
        assert CAMERA not in path.read_bytes(), path
        with Image.open(path) as picture:
            assert not dict(picture.getexif()), path
            assert not picture.getexif().get_ifd(ExifTags.IFD.GPSInfo), path


def test_no_published_pdf_holds_them_either(published: Path) -> None:
    pdfs = files(published, ".pdf")
    assert len(pdfs) > 50
    for path in pdfs:
        assert CAMERA not in path.read_bytes()
        with pikepdf.open(path) as pdf:
            for page in pdf.pages:
                for image in page.get_images().values():
                    assert b"Exif" not in image.read_raw_bytes()[:4096], path


def test_no_published_file_names_the_machine(published: Path, sample_published: Path) -> None:
    home = str(sample_published.parent).encode()
    assert [p.name for p in files(published) if home in p.read_bytes()] == []


def test_the_secret_place_is_named_nowhere(published: Path) -> None:
    texts = files(published, ".html", ".txt", ".md", ".csv", ".json", ".js", ".xml", ".ics", ".vtt", ".srt", ".webmanifest")
    assert [p.name for p in texts if "withy" in p.read_text(encoding="utf-8").casefold()] == []


@pytest.fixture(scope="module")
def pages(published: Path) -> dict[Path, BeautifulSoup]:
    return {p: BeautifulSoup(p.read_bytes(), "html.parser") for p in files(published, ".html")}


ABSENT = "404.html"
"""Shown by a host in the place of a page that is not there, at any depth: its links lead to the guide's address."""
BASE = "/guide/"


def ways(soup: BeautifulSoup) -> list[str]:
    """Every address a page points at; each of a `srcset` apart."""
    found = [str(tag[name]) for name in ("href", "src") for tag in soup.find_all(attrs={name: True})]
    for tag in soup.find_all(attrs={"srcset": True}):
        found += [part.strip().split(" ")[0] for part in str(tag["srcset"]).split(",")]
    return found


def test_every_link_leads_to_a_file_and_every_part_is_on_it(pages: dict[Path, BeautifulSoup], published: Path) -> None:
    broken: list[str] = []
    for page, soup in pages.items():
        for way in ways(soup):
            address, part = urldefrag(way)
            if urlsplit(address).scheme or address.startswith("//"):
                continue
            path = unquote(urlsplit(address).path)
            path = path.removeprefix(BASE) if page.name == ABSENT else path
            target = (page.parent / path).resolve() if address else page
            if not target.is_file():
                broken.append(f"{page.relative_to(published)}: {way}")
            elif part and target.suffix == ".html" and not pages[target].find(id=unquote(part)):
                broken.append(f"{page.relative_to(published)}: {way} (no such part)")
    assert broken == []
    assert len(pages) > 150


def test_links_stay_relative_so_that_the_site_works_anywhere(pages: dict[Path, BeautifulSoup], published: Path) -> None:
    for page, soup in pages.items():
        assert page.name == ABSENT or [way for way in ways(soup) if way.startswith("/")] == [], page
    absent = pages[published / "site" / ABSENT]
    assert all(way.startswith((BASE, "#", "https://", "mailto:")) for way in ways(absent))


def test_every_account_page_is_complete(pages: dict[Path, BeautifulSoup], published: Path) -> None:
    for source in (SAMPLE / "accounts").glob("*.md"):
        if "." in source.stem:
            continue
        soup = pages[published / "site/accounts" / f"{source.stem}.html"]
        text = soup.get_text(" ")
        head = source.read_text(encoding="utf-8").split("---")[1]
        genus, epithet = head.split("name: ")[1].splitlines()[0].split()[:2]
        assert f"{genus} {epithet}" in {" ".join(i.get_text().split()) for i in soup.find_all("i")}, source.stem
        for mark in [line.split("mark: ")[1] for line in head.splitlines() if "- mark: " in line]:
            assert mark.strip('"') in text, (source.stem, mark)
        assert soup.find("img", alt=True), source.stem


def test_each_picture_of_the_archive_is_a_file_of_the_site(published: Path) -> None:
    with zipfile.ZipFile(published / "data/taxa.zip") as archive:
        rows = list(csv.DictReader(io.StringIO(archive.read("multimedia.csv").decode())))
    assert len(rows) > 40
    for row in rows:
        file = published / "site" / row["ac:accessURI"].removeprefix("https://larkfold.example/guide/")
        with Image.open(file) as picture:
            assert Image.MIME[str(picture.format)] == row["dc:format"]


def test_ids_are_unique_on_every_page(pages: dict[Path, BeautifulSoup]) -> None:
    for page, soup in pages.items():
        counted = Counter(str(tag["id"]) for tag in soup.find_all(id=True))
        assert [i for i, n in counted.items() if n > 1] == [], page


def test_the_manifest_lists_exactly_what_stands_there(published: Path) -> None:
    listed = json.loads((published / ".guidebuild-manifest.json").read_text(encoding="utf-8"))["files"]
    standing = {p.relative_to(published).as_posix() for p in files(published)} - {".guidebuild-manifest.json"}
    assert set(listed) == standing
    assert (published.parent / WORKSHOP).is_dir()
