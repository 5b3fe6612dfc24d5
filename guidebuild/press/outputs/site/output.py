"""The output `site`: pictures first, then pages that know their sizes, then what stands beside them."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from itertools import chain
from pathlib import Path

from guidebuild.fieldwork.published import Published
from guidebuild.press.calendars import site_calendars
from guidebuild.press.data_files import data_makers, list_media
from guidebuild.press.engine.digest import KnownFile, digest, digest_bytes
from guidebuild.press.engine.files import Files
from guidebuild.press.engine.jobs import Craft
from guidebuild.press.engine.maker import Maker, Piece
from guidebuild.press.engine.problems import Problems
from guidebuild.press.engine.toolchain import digest_tools
from guidebuild.press.outputs.site.assets import OFFLINE, offline_script, site_assets
from guidebuild.press.outputs.site.card_files import find_card, publish_cards
from guidebuild.press.outputs.site.film_files import find_sizes, publish_films
from guidebuild.press.outputs.site.offline import list_offline, paths_of_parts
from guidebuild.press.outputs.site.page import PageWork, make_page
from guidebuild.press.outputs.site.page_notes import PageNotes
from guidebuild.press.outputs.site.share_picture import ShareWork, draw_share, find_ratio
from guidebuild.press.outputs.site.sharing import share_path
from guidebuild.press.outputs.site.sound_files import publish_sounds
from guidebuild.press.outputs.site.spool import Spool, Spooled, open_spool
from guidebuild.press.photos.maker import PictureMaker
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.working_pages import font_pieces
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import cut_to_animal
from guidebuild.views.site.data import FOLDER
from guidebuild.views.site.page import PageView
from guidebuild.views.site.pages import SitePages

PAGE = Craft("page", "pages", cost=4.0, seconds=20.0)
SHARE = Craft("share picture", "share pictures", cost=40.0)


def publish_site(  # noqa: PLR0913 - what it depends on, each by its name
    guide: Published,
    asked: Published,
    files: Files,
    maker: Maker,
    pictures: PictureMaker,
    *,
    folder: Path,
    problems: Problems,
    theme: tuple[Path, ...],
    today: dt.date,
) -> None:
    """Everything under site/. `asked` is the guide as it notes what it is asked."""
    notes_of_pages = PageNotes(files.find_note_file("pages"), guide, today, trusted=files.trusts_notes)
    films = publish_films(guide, folder, files, problems)
    sounds = publish_sounds(guide, folder, files, maker, problems)
    cards = publish_cards(asked, files, maker, pictures, notes_of_pages)
    listed = SitePages(asked, today, notes_of_pages).list_all()
    with open_spool(files.scratch()) as spool:
        waiting = [notes_of_pages.take(page, spool) for page in listed]
        notes = [one.note for one in waiting]
        pages = [note.page for note in notes]
        copies = pictures.publish_copies("site", dict.fromkeys(photo for note in notes for photo in note.photos), "photos")
        sizes = tuple(_offer_data(asked, copies, files, notes_of_pages))

        def work_of(one: Spooled) -> PageWork:
            shown = tuple((photo, copies[photo]) for photo in one.note.photos if photo in copies)
            heard = tuple((sound, sounds[sound]) for sound in one.note.sounds if sound in sounds)
            offered = sizes if one.note.page.kind == "data" else (*find_sizes(films, one.note), *find_card(cards, one.note))
            return PageWork(one.place, shown, theme, offered, heard)

        # The slowest first, so that no process is left with one of them at the end.
        shares = _share_pieces(files, maker, pages, copies)
        maker.make(chain(font_pieces(guide, maker, "assets/"), _page_pieces(waiting, work_of, maker, files, spool), shares))
    for path, data in (site_calendars(guide, files.read_standing, today) | site_assets(pages, theme, today)).items():
        files.add(path, data)
    notes_of_pages.write()
    files.add(OFFLINE, offline_script(theme))
    for path, data in list_offline(files.list_files(), paths_of_parts(notes, copies), notes).items():
        files.add(path, data)


def _offer_data(asked: Published, copies: Mapping[str, PictureSet], files: Files, notes: PageNotes) -> Iterator[tuple[str, int]]:
    """Publish what the site offers of data; each file with its size. What would be as it was is not made."""
    made_with = digest(list_media(copies), digest_tools(data_makers.__module__))
    for name, make in data_makers(asked, copies).items():
        path, made = f"{FOLDER}/{name}", cache(make)
        size, mark = notes.recall(f"{name}, {made_with}", lambda made=made: (len(made()), digest_bytes(made())))  # type: ignore[misc]  # bound now
        if size and not files.keep((path,), mark):
            files.add(path, made(), key=mark)
        if size:
            yield path, size


def _page_pieces(
    waiting: Iterable[Spooled], work_of: Callable[[Spooled], PageWork], maker: Maker, files: Files, spool: Spool
) -> Iterator[Piece]:
    for one in waiting:
        path = one.note.page.path
        job = maker.job(PAGE, make_page, work_of(one), where=f"page {path}")
        if one.make and not files.stands((path,), job.key):
            # It shows what it did, but is drawn otherwise, or was lost: now it must be put together after all.
            job = maker.job(PAGE, make_page, work_of(spool.put(one.make())), where=f"page {path}")
        yield Piece(job, (path,))


def _share_pieces(files: Files, maker: Maker, pages: Iterable[PageView], copies: Mapping[str, PictureSet]) -> Iterator[Piece]:
    """Pictures for sharing, where the guide has an address: without one nobody could fetch them."""
    drawn: set[str] = set()
    for page in pages:
        shown = copies.get(page.share.id) if page.share else None
        path = share_path(page)
        if not (page.site.address and page.share and shown) or path in drawn:
            continue
        drawn.add(path)
        plate = files.find(shown.finest.path)
        if plate is None:
            continue
        job = maker.job(SHARE, draw_share, _share_work(page, page.share, plate, shown), where=f"share picture of {page.path}")
        yield Piece(job, (path,))


def _share_work(page: PageView, photo: PhotoView, plate: KnownFile, shown: PictureSet) -> ShareWork:
    """An account is shown with its name and first mark, everything else by the picture alone."""
    shape, alone = shown.height / shown.width, page.kind != "account" or page.name is None
    part = cut_to_animal(photo, shape, find_ratio(alone=alone))
    common = ShareWork(plate=plate, guide=page.site.title, credit=photo.credit_line, part=(part.x, part.y, part.width) if part else None)
    if alone or page.name is None:
        return common
    first = next((mark for mark in photo.marks if mark.number == 1), None)
    return replace(
        common,
        vernacular=page.name.vernacular,
        runs=tuple((piece.text, piece.italic) for piece in page.name.runs),
        mark=page.description.split(" · ")[0],
        point=first.point if first else None,
        wide=first.wide if first else 0.0,
    )
