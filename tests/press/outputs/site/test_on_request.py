"""Pages drawn when they are asked for: the same bytes as those that are published, and nothing that was not asked for."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.engine.progress import Silence
from guidebuild.press.outputs.site.on_request import SiteOnRequest
from guidebuild.press.photos import copying
from guidebuild.press.publication import Wishes
from guidebuild.press.publish import publish
from guidebuild.reading.whole import read_guide
from guidebuild.views.site.pages import SitePages
from tests.guides.whole_guides import copy_guide
from tests.views.invented_site import GUIDE
from tests.views.invented_site import TODAY as DAY

TODAY = dt.date(2026, 1, 15)


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return copy_guide("estuary-waders", tmp_path_factory.mktemp("shown"))


def read(folder: Path) -> Guide:
    guide = read_guide(folder, as_of=TODAY).guide
    assert guide is not None
    return guide


@pytest.fixture
def site(folder: Path) -> Iterator[SiteOnRequest]:
    with SiteOnRequest(folder) as site:
        site.show(make_published(read(folder)), TODAY, theme_changed=False)
        yield site


def test_a_page_that_is_asked_for_is_the_page_among_all() -> None:
    pages = SitePages(make_published(GUIDE), DAY)
    everything = [page.make() for page in pages.list_all()]
    assert len(everything) > 50
    for page in everything:
        assert pages.find(page.path) == page, page.path
    assert pages.find("accounts/no-such-bug.html") is None


def test_first_pages_make_no_picture_and_pictures_come_when_asked(
    folder: Path, site: SiteOnRequest, monkeypatch: pytest.MonkeyPatch
) -> None:
    made: list[str] = []
    make = copying.prepare_copies
    monkeypatch.setattr(copying, "prepare_copies", lambda data, recipe, where: (made.append(where), make(data, recipe, where))[1])
    found = site.read("accounts/dunlin.html")
    assert found is not None
    text = found[0].decode()
    assert made == []
    shown_as = next(part for part in text.split('"') if part.startswith("../photos/dunlin") and ".webp" in part)
    picture = shown_as.split()[0].removeprefix("../")
    assert site.read("photos/no-such-picture-720.webp") is None
    shown = site.read(picture)
    assert shown is not None, (picture, site.problems)
    assert shown[0][8:12] == b"WEBP"
    assert len(made) == 1
    assert site.read("../guide.yaml") is None
    assert site.read("photos/../../guide.yaml") is None


def test_pages_on_show_are_those_that_are_published(folder: Path) -> None:
    guide = read(folder)
    made = publish(folder, guide, today=TODAY, progress=Silence(), wishes=Wishes(outputs=("site",), workers=1))
    assert made.outcome is not None
    published = folder / "published" / "site"
    with SiteOnRequest(folder) as site:
        site.show(make_published(guide), TODAY, theme_changed=False)
        files = sorted(path.relative_to(published).as_posix() for path in published.rglob("*") if path.is_file())
        left_out = {"offline.js", "changes.atom", "sitemap.xml"}
        shown = [path for path in files if path not in left_out and not path.startswith(("share/", "offline/"))]
        sounds = [path for path in shown if path.startswith("sounds/") and not path.endswith(".webp")]
        assert sounds
        assert [site.find_file(path) for path in sounds] == [folder / path for path in sounds]  # the author's own
        assert [site.find_file(path) for path in ("sounds/no-such.flac", "films/../guide.yaml", "sounds/../guide.yaml")] == [None] * 3
        shown = [path for path in shown if path not in sounds]
        differing = [path for path in shown if (site.read(path) or (b"",))[0] != (published / path).read_bytes()]
    assert len(files) > 100
    assert differing == []


def test_a_mark_tells_of_another_text_and_of_another_picture(folder: Path, site: SiteOnRequest) -> None:
    def mark_of(path: str) -> str:
        found = site.read(path)
        assert found is not None
        return found[1]

    before = {path: mark_of(path) for path in ("accounts/dunlin.html", "accounts/curlew.html", "cautions.html")}
    account = folder / "accounts" / "dunlin.md"
    text = account.read_text("utf-8")
    account.write_text(text.replace("size: 17–21 cm", "size: 17–22 cm"), "utf-8")
    site.show(make_published(read(folder)), TODAY, theme_changed=False)
    after = {path: mark_of(path) for path in before}
    account.write_text(text, "utf-8")
    assert text.count("size: 17–21 cm") == 1
    assert [path for path in before if before[path] != after[path]] == ["accounts/dunlin.html"]
    picture = next(path for path in (folder / "photos").iterdir() if path.stem.startswith("curlew"))
    data = picture.read_bytes()
    picture.write_bytes(next(path for path in (folder / "photos").iterdir() if path.stem.startswith("redshank")).read_bytes())
    site.show(make_published(read(folder)), TODAY, theme_changed=False)
    shown = {path: mark_of(path) for path in before}
    picture.write_bytes(data)
    assert [path for path in before if before[path] != shown[path]] == ["accounts/curlew.html"]


def test_a_picture_that_is_mended_is_told_of_no_more(folder: Path, site: SiteOnRequest) -> None:
    picture = next(path for path in (folder / "photos").iterdir() if path.stem.startswith("dunlin"))
    data = picture.read_bytes()
    try:
        picture.write_bytes(b"no picture")
        site.show(make_published(read(folder)), TODAY, theme_changed=False)
        site.read("accounts/dunlin.html")
        assert [problem.where for problem in site.problems] == [f"photos/{picture.name}"]
    finally:
        picture.write_bytes(data)
    site.show(make_published(read(folder)), TODAY, theme_changed=False)
    assert site.read("accounts/dunlin.html")
    assert site.problems == ()


def test_a_theme_of_the_guide_is_filled_in_elsewhere_and_followed(folder: Path, tmp_path: Path) -> None:
    guide = read(folder)
    template = folder / "theme" / "site" / "glossary.html"
    template.parent.mkdir(parents=True)
    try:
        template.write_text("<!DOCTYPE html><title>{{ page.title }}</title><p>Own words", "utf-8")
        with SiteOnRequest(folder) as site:
            site.show(make_published(guide), TODAY, theme_changed=True)
            found = site.read("glossary.html")
            assert found is not None
            assert b"Own words" in found[0]
            template.write_text("<!DOCTYPE html><title>{{ page.title }}</title><p>Other words", "utf-8")
            site.show(make_published(guide), TODAY, theme_changed=True)
            other = site.read("glossary.html")
            assert other is not None
            assert b"Other words" in other[0]
            assert other[1] != found[1]
    finally:
        template.unlink()
        template.parent.rmdir()
        template.parent.parent.rmdir()
