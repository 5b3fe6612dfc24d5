"""What each craft of a full make of the sample takes, beside bare libraries on the same final pages and pictures, one by one.

    python -m tests.benchmarks outputs

The risks: prints that are laid out again and again, scripts that cost as much as the site, a last look that takes as long as what it
looks at. The floor of paper is WeasyPrint on the very HTML that each print had in the end, its own styles and fonts read once; that of
pictures is Pillow with the settings of floor.py; that of the last look is one pattern of all secret names over each file's bytes.
Everything is done in one process, after the make, on its own payloads; times are processor seconds, once each.
"""

from __future__ import annotations

import re
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

from PIL import Image
from weasyprint import CSS, HTML

from guidebuild.cli import exit_code
from guidebuild.press.engine import jobs
from guidebuild.press.engine.crew import Given, Work, do_work
from guidebuild.press.leak_scan import LeakWork
from guidebuild.press.outputs.posts.pictures import PostPictures
from guidebuild.press.paper import layout, pdf
from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.page_source import PageSource
from guidebuild.press.paper.pdf import font_configuration
from guidebuild.shipped import on_disk
from tests.benchmarks.rows import Row, told

SAMPLE = Path(__file__).parents[2] / "sample_guide"
PAPER = {
    "make_card": "cards",
    "make_spread": "spreads of a booklet",
    "make_leaflet": "leaflets",
    "render_sheet": "comparisons",
    "render_key": "printed key",
    "make_checklist": "checklists",
    "render_script": "scripts, with their captions and pages",
    "render_pack": "leaders' packs",
}
"""The functions that end in a PDF, by what they make."""
POSTED = 1080


@dataclass
class Sheet:
    """A page as it went to WeasyPrint in the end."""

    html: str
    styles: tuple[str, ...]
    fetcher: GuideFetcher


@dataclass
class Craft:
    """What one function took in all, how often it was called, and what its floor has to do."""

    seconds: float = 0.0
    count: int = 0
    payloads: list[Any] = field(default_factory=list)
    sheets: list[Sheet] = field(default_factory=list)


class Watched:
    """Notes of every job how long it took and which page it laid out last."""

    def __init__(self) -> None:
        self.crafts: dict[str, Craft] = {}
        self._last: list[Sheet] = []

    def do(self, work: Work) -> Given:
        """Do jobs as the engine does."""
        given: Given = []
        for task in work:
            self._last.clear()
            craft = self.crafts.setdefault(task.function.__name__, Craft())
            start = time.process_time()
            given += do_work((task,))
            craft.seconds += time.process_time() - start
            craft.count += 1
            craft.payloads.append(task.payload)
            craft.sheets += self._last[-1:]
        return given

    def read(self, html: str, fetcher: GuideFetcher, styles: Any) -> PageSource:
        """Take a page as `PageSource` does."""
        held = tuple(styles)
        self._last.append(Sheet(html, held, fetcher))
        return PageSource(html, fetcher, held)


def rows() -> Iterator[Row]:
    """One make of the sample in this process."""
    watched = Watched()
    jobs.do_work = watched.do
    layout.PageSource = pdf.PageSource = watched.read
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here) / "guide"
        shutil.copytree(on_disk(SAMPLE), folder, ignore=shutil.ignore_patterns("published", ".guidebuild"))
        start = time.process_time()
        exit_code(["make", str(folder), "--workers", "1", "--quiet"])
        whole = time.process_time() - start
        for name, what in PAPER.items():
            craft = watched.crafts[name]
            yield _row(f"{craft.count} {what}", craft, _seconds(lambda c=craft: _print_bare(c)))
        posts = watched.crafts["render_pictures"]
        yield _row(f"pictures of {posts.count} posts", posts, _seconds(lambda: _cut_bare(folder, posts)))
        look = watched.crafts["look_through"]
        yield _row(
            f"last look through {look.count:,} files, beside one search for the names", look, _seconds(lambda: _look_bare(folder, look))
        )
    done = sum(craft.seconds for craft in watched.crafts.values())
    yield Row("full make of the sample, one worker: all crafts, and the rest", f"{done:.1f} s", f"{whole:.1f} s", whole / done)


def _row(what: str, craft: Craft, floor: float) -> Row:
    return Row(what, f"{floor:.2f} s", f"{craft.seconds:.2f} s", craft.seconds / floor)


def _seconds(work: Callable[[], object]) -> float:
    start = time.process_time()
    work()
    return time.process_time() - start


@cache
def _read_css(text: str) -> CSS:
    return CSS(string=text, base_url=BASE, font_config=font_configuration())


def _print_bare(craft: Craft) -> None:
    for sheet in craft.sheets:
        styles = [_read_css(text) for text in sheet.styles]
        html = re.sub(r'<link rel="stylesheet"[^>]*>', "", sheet.html)
        document = HTML(string=html, base_url=BASE, url_fetcher=sheet.fetcher)
        document.write_pdf(font_config=font_configuration(), stylesheets=styles, pdf_variant="pdf/ua-1", pdf_tags=True)


def _cut_bare(folder: Path, craft: Craft) -> None:
    for number, work in enumerate(craft.payloads):
        assert isinstance(work, PostPictures)
        original = Image.open(work.path)
        original.draft("RGB", (POSTED, 1))
        for recipe in work.recipes:
            wide = recipe.widths[0]
            copy = original.resize((wide, round(wide * original.height / original.width)), Image.Resampling.LANCZOS)
            copy.save(folder / f"bare-{number}.jpg", quality=80, progressive=True, optimize=True)


def _look_bare(folder: Path, craft: Craft) -> None:
    names = {name for work in craft.payloads if isinstance(work, LeakWork) for place in work.secrets.places for name in place.names}
    pattern = re.compile("|".join(map(re.escape, sorted(names))).encode(), re.IGNORECASE)
    for work in craft.payloads:
        pattern.search((folder / "published" / work.name).read_bytes())


if __name__ == "__main__":
    sys.exit(told(rows))
