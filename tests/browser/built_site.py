"""The invented guide as a site on disk, with drawn pictures, for a browser to open."""

from __future__ import annotations

import base64
import hashlib
import io
from dataclasses import replace
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread

from PIL import Image, ImageDraw
from pypdf import PdfWriter

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.films import Film, FilmChapter, FilmCue
from guidebuild.guide.measures import Measure
from guidebuild.guide.sounds import Sound
from guidebuild.press.calendars import site_calendars
from guidebuild.press.media.sonogram import draw_sonogram
from guidebuild.press.outputs.site.assets import OFFLINE, offline_script, site_assets
from guidebuild.press.outputs.site.film_files import caption_files
from guidebuild.press.outputs.site.offline import list_offline, paths_of_parts
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.outputs.site.sounds_on_page import picture_path
from guidebuild.press.photos.copies import Copies, Recipe, prepare_copies
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.press.theme.font_cutting import make_font
from guidebuild.press.theme.typefaces import font_work, signs_of
from guidebuild.shipped import on_disk, themes
from guidebuild.views.site.account import card_path
from guidebuild.views.site.films import FilmPage
from guidebuild.views.site.page import note_page
from tests.views.invented_site import GUIDE, TODAY
from tests.views.whole_site import site_pages

FILM = Film(
    "parent-film",
    "A mother bug",
    file="films/parent.webm",
    length=82.0,
    accounts=("parent-bug",),
    chapters=(FilmChapter(0, "Opening"), FilmChapter(18, "The dark spot"), FilmChapter(32, "Look-alikes")),
    still="parent-adult",
    credit="Ada Example",
    licence="CC-BY-4.0",
    cues=(FilmCue(0, 10, "Hello."), FilmCue(17, 24, "A dark spot\non the scutellum."), FilmCue(32, 40, "And others.")),
)
SONG = Sound(
    "parent-song",
    "A song",
    file="sounds/song.flac",
    kind="song",
    accounts=("parent-bug",),
    recordist="Ada Example",
    licence="CC-BY-4.0",
)
# Both look-alikes are measured, so that one can be laid beside the other at one scale.
SHOWN = replace(
    GUIDE,
    photos={
        **GUIDE.photos,
        "birch-adult": replace(GUIDE.photos["birch-adult"], length=Measure("10 mm", 10, 10), measured=(50.0, 20.0, 50.0, 80.0)),
    },
    films={"parent-film": FILM},
    film_files=frozenset({FILM.file}),
    sounds={SONG.id: SONG},
    sound_files=frozenset({SONG.file}),
)
SAMPLE_SONG = Path(__file__).parents[2] / "sample_guide/sounds/parent-bug-song.flac"
SAMPLE_FILM = Path(__file__).parents[2] / "sample_guide/films/parent-bug.webm"
THEME = (on_disk(themes()) / "plate",)


def build(folder: Path, guide: Published | None = None) -> Path:
    """Write the whole site of a guide, or of the invented one, into a folder."""
    guide = guide or make_published(SHOWN)
    pages = tuple(site_pages(guide, TODAY))
    files: dict[str, bytes] = {}
    pictures = {photo: _copies(photo, number, files) for number, photo in enumerate(guide.photos)}
    film = {view.file: SAMPLE_FILM.read_bytes() for page in pages if isinstance(page.data, FilmPage) and (view := page.data.film).file}
    cards = {card_path("parent-bug"): _blank_card()}
    sizes = {path: len(data) for path, data in (film | cards).items()}
    song, picture = draw_sonogram(SAMPLE_SONG.read_bytes())
    files |= {"sounds/parent-song.flac": SAMPLE_SONG.read_bytes(), picture_path(SONG.id): picture} if guide.sounds else {}
    files |= cards | film | caption_files(guide) | {page.path: render_page(page, pictures, THEME, sizes, {SONG.id: song}) for page in pages}
    files |= site_assets(pages, THEME, TODAY) | site_calendars(guide, {}.get, TODAY)
    files |= {f"assets/{work.name}.woff2": make_font(work).parts[0] for work in font_work(signs_of(guide))}
    told = {path: (len(data), hashlib.sha256(data).hexdigest()) for path, data in files.items()}
    notes = [note_page(page) for page in pages]
    files |= list_offline(told, paths_of_parts(notes, pictures), notes) | {OFFLINE: offline_script(THEME)}
    for path, data in files.items():
        place = folder / path
        place.parent.mkdir(parents=True, exist_ok=True)
        place.write_bytes(data)
    return folder


def _blank_card() -> bytes:
    """A card of A6 without a word."""
    written, card = io.BytesIO(), PdfWriter()
    card.add_blank_page(298, 420)
    card.write(written)
    return written.getvalue()


def _copies(photo: str, number: int, files: dict[str, bytes]) -> PictureSet:
    drawn = Image.new("RGB", (1280, 960), "#ecebdd")
    draw = ImageDraw.Draw(drawn)
    draw.ellipse((400, 200, 880, 800), fill=("#6b4a2f", "#8a7a3a", "#4d7a3a")[number % 3])
    draw.ellipse((600, 340, 700, 440), fill="#201510")
    original = io.BytesIO()
    drawn.save(original, "PNG")
    made = prepare_copies(original.getvalue(), Recipe((360, 1280), jpeg_widths=(360,)), photo)
    assert isinstance(made, Copies)
    variants = []
    for copy in made.copies:
        path = f"photos/{photo}-{copy.width}{copy.suffix}"
        files[path] = copy.data
        variants.append(Variant(copy.encoding, copy.width, path, copy.height))
    return PictureSet(1280, 960, tuple(variants), f"data:image/webp;base64,{base64.b64encode(made.placeholder).decode()}")


class _Quiet(SimpleHTTPRequestHandler):
    def log_message(self, *_: object) -> None:
        """Say nothing."""


def serve(folder: Path) -> ThreadingHTTPServer:
    """Serve a folder on a free port of this machine until `shutdown`."""
    server = ThreadingHTTPServer(("127.0.0.1", 0), partial(_Quiet, directory=str(folder)))
    Thread(target=server.serve_forever, daemon=True).start()
    return server
