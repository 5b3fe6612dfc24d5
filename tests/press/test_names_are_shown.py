"""Whatever has a name is shown by it: no id of an invented guide stands in the words of anything published."""

from __future__ import annotations

import datetime as dt
import re
from pathlib import Path

import pytest
from bs4 import BeautifulSoup

from guidebuild.press.engine.progress import Silence
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from guidebuild.reading.whole import read_guide
from tests.guide_files import write_files
from tests.press.small_guide import drawn_picture

ACCOUNT = """---
name: Inventa rubra
vernacular: Red Bug
family: Inventidae
group: zz-group
size: 6–9 mm
status: common
diagnostics:
  - {mark: dark spot, stage: zz-old, photo: zz-photo, at: "50, 40"}
characters:
  zz-character: zz-state
similar:
  - {account: pale-bug, tell by: [zz-character]}
host plants:
  - {plant: zz-plant, part: leaves, use: food}
habitat: [zz-place, wet-wood, bank]
seasons:
  zz-young: May
  zz-old: June
life stages:
  zz-young: Small.
  zz-old: Large.
photos: [zz-photo]
hazards: [zz-hazard]
sources: [zz-source]
---
## In brief
A bug.

## Where to look
On [tall herb](plant:zz-plant) at [its place](place:zz-place).
"""
PALE = ACCOUNT
for red, pale in (
    *(("rubra", "pallida"), ("Red Bug", "Pale Bug"), ("account: pale-bug", "account: red-bug")),
    *(("zz-character: zz-state", "zz-character: zz-other"), ("zz-photo", "zz-photo-2")),
):
    PALE = PALE.replace(red, pale)
FILES = {
    "guide.yaml": """title: Invented Bugs
hemisphere: north
region: Invented Vale
life stages:
  zz-group: {title: Odd bugs, stages: {zz-young: crawler, zz-old: flier}, sought: [zz-old]}
cautions:
  zz-hazard: {title: Sharp spines, text: Wear gloves.}
""",
    "accounts/red-bug.md": ACCOUNT,
    "accounts/pale-bug.md": PALE,
    "places.yaml": "zz-place: {name: Birch Clump, area: Larkfold, habitat: [wet wood], plants: [zz-plant], hazards: [zz-hazard]}\n",
    "plants.yaml": "zz-plant: {vernacular: Tall Herb, name: Herba alta}\n",
    "sources.yaml": "zz-source: {cite: Writer 1999, title: A Book, author: A. Writer, year: 1999}\n",
    "characters.yaml": "zz-character:\n  label: colour of the back\n  kind: states\n  question: Which?\n"
    "  states: {zz-state: red, zz-other: pale}\n",
    "photos.yaml": "".join(
        f"{photo}: {{file: {photo}.jpg, account: {owner}, stage: zz-old, view: upperside, "
        "credit: A. Maker, licence: CC-BY-4.0, alt: A bug.}\n"
        for photo, owner in (("zz-photo", "red-bug"), ("zz-photo-2", "pale-bug"))
    ),
    "walks/june.yaml": "title: A walk\ndate: 2026-06-20\nstart: 18:30\n"
    "time zone: Europe/London\nmeet: the stile\nstops: [{place: zz-place}]\n",
    "sightings/all.csv": "scientificName,eventDate,lifeStage,locality\nInventa rubra,2025-06-14,zz-old,zz-place\n",
}  # fmt: skip
ID = re.compile(r"\b(?:zz-[\w-]+|wet-wood)")

PICTURES = {"zz-photo", "zz-photo-2"}


@pytest.fixture(scope="module")
def published(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = write_files(tmp_path_factory.mktemp("guide"), FILES)
    (folder / "photos").mkdir(exist_ok=True)
    for photo, wide in (("zz-photo", 1200), ("zz-photo-2", 1300)):
        drawn_picture(folder / "photos", size=(wide, 1000), name=f"{photo}.jpg")
    today = dt.date(2026, 6, 15)
    reading = read_guide(folder, as_of=today)
    assert reading.guide is not None
    assert [str(f) for f in reading.findings] == []
    publish(folder, reading.guide, today=today, progress=Silence(), wishes=Wishes(workers=1))
    return folder / "published"


def words_of(page: Path) -> str:
    """What a reader of a page sees or hears."""
    soup = BeautifulSoup(page.read_text(encoding="utf-8"), "html.parser")
    for unseen in soup(["script", "style"]):
        unseen.decompose()
    said = [str(tag[key]) for tag in soup.find_all(True) for key in ("alt", "aria-label", "title", "content") if key in tag.attrs]
    return "\n".join((soup.get_text(" "), *(text for text in said if "/" not in text)))


def test_no_page_shows_an_id(published: Path) -> None:
    pages = {path.relative_to(published).as_posix(): words_of(path) for path in published.rglob("*.html")}
    assert len(pages) > 15
    # A script names its pictures by id on purpose: the editor looks for these files.
    shown = {path: set(ID.findall(text)) - (PICTURES if path.startswith("scripts/") else set()) for path, text in pages.items()}
    assert {path: ids for path, ids in shown.items() if ids} == {}


def test_the_names_are_there_instead(published: Path) -> None:
    (page,) = [p for p in (published / "site").rglob("red-bug*") if p.is_file() and p.suffix == ".html"] or [
        published / "site" / "red-bug" / "index.html"
    ]
    text = " ".join(words_of(page).split())
    for name in ("Birch Clump, wet wood, bank", "Tall Herb", "Sharp spines", "crawler", "flier"):
        assert name.casefold() in text.casefold()
