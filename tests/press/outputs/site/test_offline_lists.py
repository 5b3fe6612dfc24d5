"""The lists by which the site is kept for the field: one copy of each picture, parts without doubles, and few changes after an edit."""

from __future__ import annotations

import json

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.site import offline
from guidebuild.press.outputs.site.offline import EVERYTHING, PartPaths, list_offline, paths_of_parts
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.views.site.page import note_page
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

FILES = {
    "index.html": (100, "a" * 40),
    "assets/guide.css": (50, "b" * 40),
    "photos/p-360.webp": (10, "c" * 40),
    "photos/p-720.webp": (20, "d" * 40),
    "photos/p-720.jpg": (30, "e" * 40),
    "share/x.jpg": (40, "f" * 40),
    "sitemap.xml": (5, "0" * 40),
    "offline.js": (5, "1" * 40),
    "data/all.zip": (5, "2" * 40),
}


def _read(made: dict[str, bytes], part: str = EVERYTHING) -> dict[str, list[object]]:
    told = json.loads(made["offline/list.json"])
    files = [file for name in told["parts"][part][1] for file in json.loads(made[f"offline/{name}.json"])]
    assert len(files) == len({path for path, _, _ in files})
    assert told["parts"][part][0] == sum(size for _, size, _ in files)
    return {path: [size, mark] for path, size, mark in files}


def _version(files: dict[str, tuple[int, str]]) -> str:
    return str(json.loads(list_offline(files, {}, ())["offline/list.json"])["version"])


def test_one_copy_of_each_picture_is_kept_for_the_field() -> None:
    kept = _read(list_offline(FILES, {}, ()))
    assert sorted(kept) == ["assets/guide.css", "index.html", "photos/p-720.webp"]
    assert kept["index.html"] == [100, "a" * 12]


def test_version_changes_with_what_is_kept_and_with_nothing_else() -> None:
    assert _version(FILES) == _version({**FILES, "share/x.jpg": (41, "9" * 40)})
    assert _version(FILES) != _version({**FILES, "index.html": (100, "9" * 40)})


def test_every_part_of_a_site_holds_its_files_and_says_its_size() -> None:
    notes = [note_page(page) for page in site_pages(make_published(GUIDE), TODAY)]
    pictures = {photo: PictureSet(720, 540, (Variant("webp", 720, f"photos/{photo}-720.webp", 540),)) for photo in GUIDE.photos}
    files = {note.page.path: (1, note.page.path) for note in notes} | {f"photos/{photo}-720.webp": (1000, photo) for photo in pictures}
    made = list_offline(files | FILES, paths_of_parts(notes, pictures), notes)
    told = json.loads(made["offline/list.json"])
    assert told["unkept"] == {"": "unkept.html", "es/": "es/unkept.html"}
    assert set(told["parts"]) == {
        EVERYTHING,
        *(f"{b}{p}" for b in ("", "es/") for p in ("families/acanthosomatidae.html", "walks/june.html")),
    }
    assert set(_read(made)) >= {note.page.path for note in notes}
    walk = _read(made, "walks/june.html")
    assert {"walks/june.html", "accounts/parent-bug.html", "finder.html", "photos/parent-adult-720.webp", "assets/guide.css"} <= set(walk)
    assert {f"offline/{name}.json" for name in told["lists"]} | {"offline/list.json"} == set(made)


@pytest.mark.parametrize(("most", "lists"), [(1000, 1), (100, 16), (30, 256)])
def test_an_edit_changes_few_lists(monkeypatch: pytest.MonkeyPatch, most: int, lists: int) -> None:
    monkeypatch.setattr(offline, "MOST_IN_LIST", most)
    files = {f"accounts/{number}.html": (1, f"{number}") for number in range(600)}
    parts = {f"walks/{one}.html": PartPaths("", ("finder.html",), (f"accounts/{one}.html",)) for one in range(9)}
    before = list_offline(files, parts, ())
    after = list_offline(files | {"accounts/5.html": (1, "another")}, parts, ())
    assert 0.8 * lists <= sum(path.startswith("offline/all/") for path in before) <= lists
    changed = {path for path, data in after.items() if before[path] != data}
    assert {path for path in changed if not path.startswith("offline/all/")} == {"offline/list.json", "offline/parts/walks/5.json"}
    assert len(changed) == 3
