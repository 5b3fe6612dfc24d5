"""The output `site`: pictures first, then pages that know their sizes, then what stands beside them."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import chain
from pathlib import Path

from guidebuild.press.calendars import site_calendars
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.store import Made
from guidebuild.press.outputs.site.assets import offline_script, site_assets
from guidebuild.press.outputs.site.files import offline_worker
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.outputs.site.share_picture import ShareWork
from guidebuild.press.outputs.site.sharing import share_path
from guidebuild.press.outputs.site.spool import PagePlace, Spooled, spooled
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.run import Run, Work
from guidebuild.press.theme.typefaces import font_work, signs_of
from guidebuild.views.site.field import field_parts
from guidebuild.views.site.page import PageNote, PageView
from guidebuild.views.site.pages import site_pages

FOLDER = "site"


@dataclass(frozen=True, slots=True)
class PageWork:
    """What rendering one page needs."""

    place: PagePlace
    pictures: tuple[tuple[str, PictureSet], ...]
    theme_folders: tuple[Path, ...]


def render(work: PageWork) -> Made:
    """One page's bytes."""
    return Made((render_page(work.place.page(), dict(work.pictures), work.theme_folders),))


def publish_site(run: Run) -> None:
    """Everything under site/."""
    with spooled(site_pages(run.guide, run.today)) as waiting:
        notes = [one.note for one in waiting]
        pages = [note.page for note in notes]
        wanted = dict.fromkeys(photo for note in notes for photo in note.photos)
        pictures = run.pictures("site", wanted, folder="photos", publish=FOLDER)
        # The slowest first, so that no process is left with one of them at the end.
        work = chain(_fonts(run), _page_work(run, waiting, pictures), _share_pictures(run, pages, pictures))
        deque(run.make(work), maxlen=0)
    for path, data in site_calendars(run.guide).items():
        run.add(f"{FOLDER}/{path}", data)
    for path, data in site_assets(pages, run.theme_folders, run.today).items():
        run.add(f"{FOLDER}/{path}", data)
    worker = offline_worker(offline_script(run.theme_folders), run.files_below(FOLDER), files_of_parts(notes, pictures))
    run.add(f"{FOLDER}/offline.js", worker)


def _page_work(run: Run, waiting: Iterable[Spooled], pictures: Mapping[str, PictureSet]) -> Iterator[Work]:
    marks = {photo: digest(copies) for photo, copies in pictures.items()}  # once each: lists show hundreds
    for one in waiting:
        path = one.note.page.path
        shown = tuple((photo, pictures[photo]) for photo in one.note.photos if photo in pictures)
        payload = PageWork(one.place, shown, run.theme_folders)
        job = run.job(
            "page",
            "guidebuild.press.outputs.site.output:render",
            payload,
            seen=(one.mark, [marks[photo] for photo, _ in shown]),
            where=f"page {path}",
        )
        yield Work(job, (f"{FOLDER}/{path}",))


def files_of_parts(notes: Sequence[PageNote], pictures: Mapping[str, PictureSet]) -> dict[str, tuple[str, ...]]:
    """Pages and pictures of each part that can be kept for the field, by paths from the site's root."""
    return {
        part: tuple(dict.fromkeys(path for note in gathered for path in (note.page.path, *_shown_on(note, pictures))))
        for part, gathered in field_parts(notes).items()
    }


def _shown_on(note: PageNote, pictures: Mapping[str, PictureSet]) -> Iterator[str]:
    yield from (pictures[photo].variants[0].path for photo in note.photos if photo in pictures)


def _fonts(run: Run) -> Iterator[Work]:
    for font in font_work(signs_of(run.guide)):
        job = run.job("font", "guidebuild.press.theme.typefaces:make_font", font, seen=font, where=f"font {font.name}")
        yield Work(job, (f"{FOLDER}/assets/{font.name}.woff2",))


def _share_pictures(run: Run, pages: Iterable[PageView], pictures: Mapping[str, PictureSet]) -> Iterator[Work]:
    """One drawn picture an account, where the guide has an address: without one nobody could fetch it."""
    for page in pages:
        copies = pictures.get(page.share.id) if page.share else None
        if not (page.site.address and page.kind == "account" and page.name and copies):
            continue
        plate = run.standing(f"{FOLDER}/{copies.of_format('jpeg')[-1].path}")
        if plate is None:
            continue
        work = ShareWork(
            plate=plate[0],
            vernacular=page.name.vernacular,
            runs=tuple((piece.text, piece.italic) for piece in page.name.runs),
            mark=page.description.split(" · ")[0],
            guide=page.site.title,
            credit=page.share.credit_line if page.share else "",
            point=next((mark.point for mark in page.share.marks if mark.number == 1), None) if page.share else None,
        )
        where = f"share picture of {page.path}"
        job = run.job(
            "share",
            "guidebuild.press.outputs.site.share_picture:draw_share",
            work,
            seen=(page.path, plate[1], replace(work, plate=b"")),
            where=where,
        )
        yield Work(job, (f"{FOLDER}/{share_path(page)}",))
