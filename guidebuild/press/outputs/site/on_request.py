"""The site while its author writes: each file made when a browser asks for it, and nothing else."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from guidebuild.fieldwork.published import Published
from guidebuild.press.calendars import site_calendars
from guidebuild.press.data_files import data_files
from guidebuild.press.engine.crew import Crew
from guidebuild.press.engine.digest import digest
from guidebuild.press.engine.kept_problems import KeptProblems
from guidebuild.press.engine.own_places import WORKSHOP
from guidebuild.press.engine.problems import Problem, Problems
from guidebuild.press.engine.progress import Silence
from guidebuild.press.engine.store import Store
from guidebuild.press.engine.workbench import Workbench
from guidebuild.press.media.sound_making import read_drawn
from guidebuild.press.outputs.site.assets import look_assets
from guidebuild.press.outputs.site.files import write_manifest
from guidebuild.press.outputs.site.film_files import caption_files, list_film_paths
from guidebuild.press.outputs.site.output import PAGE
from guidebuild.press.outputs.site.page import PageWork, make_page, render_page
from guidebuild.press.outputs.site.sound_files import draw_sounds, list_sound_files, read_sound_picture
from guidebuild.press.outputs.site.sounds_on_page import DrawnSounds
from guidebuild.press.outputs.site.spool import spool_pages
from guidebuild.press.photos.on_request import PicturesOnRequest
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.folders import find_theme, has_own_theme
from guidebuild.press.theme.font_cutting import make_font
from guidebuild.press.theme.look import digest_look
from guidebuild.press.theme.sandbox import ThemeError, forget_templates
from guidebuild.press.theme.trust import close_page, has_closed_theme, tell_of_scripts
from guidebuild.press.theme.typefaces import FONT, font_work, signs_of
from guidebuild.views.site.data import FOLDER
from guidebuild.views.site.data import PATH as DATA
from guidebuild.views.site.page import PageView, note_page
from guidebuild.views.site.pages import SitePages

_PLACE = "preview"
_OWN = "preview-problems.json"


@dataclass(frozen=True, slots=True)
class _Shown:
    """A guide on show, and its pages as they are on a day."""

    guide: Published
    pages: SitePages
    today: dt.date
    read_rows: Callable[[], Published] | None = None
    """Reads the guide with the rows of its sightings, for which all of them are read once more: for what shows rows alone."""


class SiteOnRequest:
    """The site of a guide that is being written. Several threads may ask; one page is put together at a time."""

    def __init__(self, folder: Path) -> None:
        """Nothing is shown before `show`. Use as a context: templates of a guide's own are filled in by a process that ends with it."""
        self._folder = folder
        self._looking = RLock()
        self._problems = Problems()
        self._look = ""
        self._store = Store(folder / WORKSHOP / "store")
        self._kept = KeptProblems(folder / WORKSHOP / _OWN)
        self._crew = Crew(1)
        self._bench = self._set_up(self._crew)
        self._theme_crew = Crew(1, confined=True)
        self._theme_bench = self._set_up(self._theme_crew)
        self._pictures = PicturesOnRequest(folder, self._bench, "photos")
        self._shown: _Shown | None = None
        self._with_rows: _Shown | None = None
        self._made: dict[str, tuple[bytes, str] | None] = {}
        self._assets: dict[str, bytes] = {}

    def __enter__(self) -> SiteOnRequest:
        return self

    def __exit__(self, *_: object) -> None:
        self._crew.stop()
        self._theme_crew.stop()
        self._store.close()

    def _set_up(self, crew: Crew) -> Workbench:
        return Workbench(self._store, crew, Silence(), self._problems, self._kept)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What went wrong with all that was asked for."""
        return self._problems.all

    def show(self, guide: Published, today: dt.date, *, theme_changed: bool, read_rows: Callable[[], Published] | None = None) -> None:
        """Show this guide from now on; what went wrong with the one before is forgotten.

        `read_rows` reads it with the rows of its sightings, where they are not in it.
        """
        with self._looking:
            self._problems.forget()
            self._shown, self._made, self._with_rows = _Shown(guide, SitePages(guide, today), today, read_rows), {}, None
            if theme_changed or not self._look:
                forget_templates()
                # Its process has read templates as they were, and its bench has told them by that.
                self._theme_crew.stop()
                self._theme_bench = self._set_up(self._theme_crew)
                self._look, self._assets = digest(digest_look(self._folder), has_closed_theme(self._folder)), {}
            self._problems.tell(*tell_of_scripts(self._folder))

    def read(self, path: str) -> tuple[bytes, str] | None:
        """A file by its path from the site's root, with a mark that is another when the file, or a picture on it, is another."""
        if path.startswith("photos/"):
            data = self._pictures.read(path)  # not under the lock: a page need not wait for the pictures of another
            return None if data is None else (data, "")
        with self._looking:
            if path not in self._made:
                self._made[path] = self._make(path)
            return self._made[path]

    def find_file(self, path: str) -> Path | None:
        """A film or a sound as its author has it, who is the only one to see and hear it here; None where the path is of neither."""
        if self._shown is None or not path.startswith(("films/", "sounds/")):
            return None
        with self._looking:
            guide = self._shown.guide
            files = {place: film.file for film, place in list_film_paths(guide)} | {
                place: file for _, file, place in list_sound_files(guide)
            }
        found = self._folder / files[path] if path in files else None
        return found if found and found.is_file() else None

    def _make(self, path: str) -> tuple[bytes, str] | None:
        if self._shown is None:
            return None
        of_rows = path.startswith(f"{FOLDER}/") or path.rpartition("/")[2] == DATA
        shown = self._find_rows(self._shown) if of_rows else self._shown
        page = shown.pages.find(path) if path.endswith((".html", ".js")) and not path.startswith("assets/") else None
        if page or path.endswith(".html"):
            return self._draw(page, shown.guide) if page else None
        data = self._offer(shown.guide).get(path) if of_rows else self._beside(path, shown)
        return None if data is None else (data, digest(data))

    def _find_rows(self, shown: _Shown) -> _Shown:
        """The guide with its rows, read when they are asked for first."""
        if shown.read_rows is None:
            return shown
        if self._with_rows is None:
            guide = shown.read_rows()
            self._with_rows = _Shown(guide, SitePages(guide, shown.today), shown.today)
        return self._with_rows

    def _offer(self, guide: Published) -> dict[str, bytes]:
        """The files of data, by their paths."""
        shown = self._pictures.list_sets(guide, guide.photos)
        files = data_files(guide, {photo: pictures for photo, (pictures, _) in shown.items()})
        return {f"{FOLDER}/{name}": data for name, data in files.items()}

    def _draw(self, page: PageView, guide: Published) -> tuple[bytes, str]:
        shown = self._pictures.list_sets(guide, page.photos())
        sizes = {path: len(data) for path, data in self._offer(guide).items()} if page.kind == "data" else self._measure_films(guide)
        heard = {ident: read_drawn(made) for ident, made in draw_sounds(guide, self._bench, self._folder, note_page(page).sounds).items()}
        data = self._render(page, {photo: pictures for photo, (pictures, _) in shown.items()}, sizes, heard)
        if has_closed_theme(self._folder):
            data = close_page(data)
        return data, digest(data, self._look, *(mark for _, mark in shown.values()))

    def _render(self, page: PageView, pictures: dict[str, PictureSet], sizes: dict[str, int], sounds: DrawnSounds) -> bytes:
        theme = find_theme(self._folder)
        if not has_own_theme(self._folder):
            return render_page(page, pictures, theme, sizes, sounds)
        # Templates that are not ours are filled in by a process of their own.
        scratch = self._folder / WORKSHOP / _PLACE
        scratch.mkdir(parents=True, exist_ok=True)
        with spool_pages([page], scratch) as (waiting,):
            work = PageWork(waiting.place, tuple(pictures.items()), theme, tuple(sizes.items()), tuple(sounds.items()))
            job = self._theme_bench.job(PAGE, make_page, work, where=f"page {page.path}")
            made = next(iter(self._theme_bench.do([job]))).made
        if not made.parts:
            raise ThemeError("; ".join(problem.message for problem in made.problems))
        return made.parts[0]

    def _beside(self, path: str, shown: _Shown) -> bytes | None:
        """What stands beside the pages. What keeps the guide offline is left out: it would keep old pages too."""
        if not self._assets:
            self._assets = look_assets(find_theme(self._folder))
        if path in self._assets:
            return self._assets[path]
        if path == "guide.webmanifest" and (home := shown.pages.find("index.html")):
            return write_manifest(home)
        if path.endswith(".woff2"):
            return self._make_font(path, shown.guide)
        kept_in: dict[str, Callable[[], bytes | None]] = {
            "sounds": lambda: read_sound_picture(shown.guide, self._bench, self._folder, path),
            "films": lambda: caption_files(shown.guide).get(path),
            "walks": lambda: site_calendars(shown.guide, self._read_standing, shown.today).get(path),
        }
        read = kept_in.get(path.partition("/")[0])
        return read() if read else None

    def _measure_films(self, guide: Published) -> dict[str, int]:
        files = ((path, self._folder / film.file) for film, path in list_film_paths(guide))
        return {path: file.stat().st_size for path, file in files if file.is_file()}

    def _make_font(self, path: str, guide: Published) -> bytes | None:
        for font in font_work(signs_of(guide)) if path.startswith("assets/") else ():
            if path == f"assets/{font.name}.woff2":
                job = self._bench.job(FONT, make_font, font, where=f"font {font.name}")
                return next(iter(self._bench.do([job]))).made.parts[0]
        return None

    def _read_standing(self, path: str) -> bytes | None:
        file = self._folder / "published" / path
        return file.read_bytes() if file.is_file() else None
