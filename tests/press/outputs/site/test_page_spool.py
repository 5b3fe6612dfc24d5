"""Pages that wait on disk come back as they were, and leave nothing behind."""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path

import pytest

from guidebuild.fieldwork.published import make_published
from guidebuild.press.engine.digest import digest
from guidebuild.press.outputs.site.spool import PagePlace, spool_pages
from guidebuild.views.site.page import PageView
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

PAGES = tuple(site_pages(make_published(GUIDE), TODAY))


def test_every_page_comes_back_as_it_was(tmp_path: Path) -> None:
    with spool_pages(PAGES, tmp_path) as waiting:
        assert [one.place.page() for one in waiting] == list(PAGES)
        assert [one.place.mark for one in waiting] == [digest(page) for page in PAGES]


def test_a_note_tells_pictures_and_links_without_the_page(tmp_path: Path) -> None:
    with spool_pages(PAGES, tmp_path) as waiting:
        notes = {one.note.page.path: one.note for one in waiting}
    account = notes["accounts/parent-bug.html"]
    assert account.page.data is None
    assert account.photos == next(page for page in PAGES if page.path == "accounts/parent-bug.html").photos()
    assert "accounts/birch-bug.html" in account.links


def test_another_process_can_fetch_a_page(tmp_path: Path) -> None:
    with spool_pages(PAGES, tmp_path) as waiting, ProcessPoolExecutor(1, mp_context=get_context("spawn")) as other:
        assert other.submit(PagePlace.page, waiting[-1].place).result() == PAGES[-1]


def test_nothing_is_left_behind(tmp_path: Path) -> None:
    with spool_pages(PAGES, tmp_path) as waiting:
        file = waiting[0].place.file
        assert file.exists()
    assert list(tmp_path.iterdir()) == []


def test_nothing_is_left_behind_where_a_page_cannot_be_made(tmp_path: Path) -> None:
    def broken() -> Iterator[PageView]:
        yield PAGES[0]
        raise ValueError("no second page")

    with pytest.raises(ValueError, match="no second page"), spool_pages(broken(), tmp_path):
        pass
    assert list(tmp_path.iterdir()) == []
