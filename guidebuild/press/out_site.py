"""The output `site`: pictures first, then pages that know their sizes, then what stands beside them."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from guidebuild.press.picture_set import PictureSet
from guidebuild.press.run import Run, Work
from guidebuild.press.site import render_page
from guidebuild.press.site_assets import site_assets
from guidebuild.press.store import Made
from guidebuild.views.site import photos_needed, site_pages
from guidebuild.views.site_page import PageView

FOLDER = "site"


@dataclass(frozen=True, slots=True)
class PageWork:
    """What rendering one page needs."""

    page: PageView
    pictures: tuple[tuple[str, PictureSet], ...]
    theme_folders: tuple[Path, ...]


def render(work: PageWork) -> Made:
    """One page's bytes."""
    return Made((render_page(work.page, dict(work.pictures), work.theme_folders),))


def publish_site(run: Run) -> None:
    """Everything under site/."""
    pages = tuple(site_pages(run.guide, run.today))
    pictures = run.pictures("site", [photo.id for photo in photos_needed(pages)], folder="photos", publish=FOLDER)

    def work() -> Iterator[Work]:
        for page in pages:
            shown = tuple((photo, pictures[photo]) for photo in page.photos() if photo in pictures)
            payload = PageWork(page, shown, run.theme_folders)
            job = run.job("page", "guidebuild.press.out_site:render", payload, seen=(page, shown), where=f"page {page.path}")
            yield Work(job, (f"{FOLDER}/{page.path}",))

    deque(run.make(work()), maxlen=0)
    for path, data in site_assets(run.guide, pages, pictures, run.theme_folders, run.today).items():
        run.add(f"{FOLDER}/{path}", data)
