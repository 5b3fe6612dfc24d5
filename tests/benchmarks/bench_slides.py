"""What a set of eight slides costs beside bare WeasyPrint and pypdfium2 on the same final HTML, and what two workers gain.

    python -m tests.benchmarks slides

The risks: a slide that fits is laid out several times, pictures are cut anew for each try, one core waits for the other. The floor lays
all slides out as one document, writes it, draws each page and packs it as JPEG with the same settings; both are told in processor
seconds of this process, the least of five. What two workers gain is told by the clock, of a make of every set that the sample has:
reading and checking the guide is in it, and is done by one. Each make is a process of its own, as an author's is, so that neither finds
modules that the other has imported; the median of three pairs counts.
"""

from __future__ import annotations

import io
import re
import shutil
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pypdfium2
from PIL import Image
from weasyprint import CSS, HTML

import guidebuild
from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.slides.fitting import Sheet, fit_slide, slide_css, slide_html
from guidebuild.press.outputs.slides.render import SlidesWork, list_sheets, render_slides
from guidebuild.press.outputs.slides.shapes import DENSITY
from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.pdf import font_configuration
from guidebuild.press.photos.print_copy import Picture
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.slides.sets import account_set
from tests.benchmarks.bench_guide import ours as command
from tests.benchmarks.bench_guide import spent
from tests.benchmarks.rows import Row, told

SAMPLE = Path(__file__).parents[2] / "sample_guide"
EIGHT = "birch-shieldbug"
TIMES, WORKERS, PAIRS = 1.5, 1.7, 3
_BODY = re.compile(r'<body style="(?P<style>[^"]*)">(?P<inner>.*)</body>', re.DOTALL)


def rows() -> Iterator[Row]:
    """The set alone, then whole sets with one worker and with two."""
    work = _work_of(EIGHT)
    sheets = list_sheets(work)
    fitted = [(sheet, fit_slide(sheet).setting) for sheet in sheets]
    pages = "".join(_as_part(slide_html(sheet, setting)) for sheet, setting in fitted)
    html = f'<!doctype html><html lang="en"><head><title>slides</title></head><body>{pages}</body></html>'
    ours = _least(lambda: render_slides(work))
    bare = _least(lambda: _bare(html, sheets[0]))
    yield Row(f"a set of {len(sheets)} slides", f"{bare:.2f} s", f"{ours:.2f} s", ours / bare, TIMES)
    spent("-m", "compileall", "-q", str(Path(guidebuild.__file__).parent))
    pairs = sorted(((_make(1), _make(2)) for _ in range(PAIRS)), key=lambda pair: pair[0][0] / pair[1][0])
    (one, sets), (two, _) = pairs[PAIRS // 2]
    what = f"make {sets} sets of slides: one worker beside two, by the clock"
    yield Row(what, f"{one:.1f} s", f"{two:.1f} s", one / two, WORKERS, least=True)


def _work_of(account: str) -> SlidesWork:
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    published = make_published(guide)
    slides = account_set(make_pieces(published), published.accounts[account])
    pictures = []
    for photo in slides.photos:
        path = SAMPLE / published.photos[photo].file
        with Image.open(path) as opened:
            pictures.append((photo, Picture(path, *opened.size)))
    return SlidesWork(slides, "portrait", tuple(pictures), (on_disk(themes()) / "plate",))


def _as_part(html: str) -> str:
    """What stands on one slide, as a part of a document of all."""
    body = _BODY.search(html)
    assert body
    return f'<div style="{body["style"]};break-after:page">{body["inner"]}</div>'


def _bare(html: str, sheet: Sheet) -> list[bytes]:
    fetcher = GuideFetcher(pictures=sheet.pictures.values())
    style = CSS(string=slide_css(sheet), base_url=BASE, font_config=font_configuration())
    document = HTML(string=html, base_url=BASE, url_fetcher=fetcher).render(font_config=font_configuration(), stylesheets=[style])
    drawn = []
    for page in pypdfium2.PdfDocument(document.write_pdf()):
        written = io.BytesIO()
        picture = page.render(scale=DENSITY * 25.4 / 72).to_pil().convert("RGB")
        picture.save(written, "JPEG", quality=88, subsampling="4:4:4", progressive=True, optimize=True)
        drawn.append(written.getvalue())
    return drawn


def _least(do: Callable[[], object]) -> float:
    """Processor seconds, the least of five after one that warms up."""
    do()
    taken = []
    for _ in range(5):
        begun = time.process_time()
        do()
        taken.append(time.process_time() - begun)
    return min(taken)


def _make(workers: int) -> tuple[float, int]:
    """Clock seconds of a make of all the sample's slides, and how many sets these are."""
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here) / "guide"
        shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
        with (folder / "guide.yaml").open("a", encoding="utf-8") as file:
            file.write("slides: [all]\n")
        clock = command("make", str(folder), "slides", "--quiet", "--workers", str(workers)).clock
        return clock, len(list((folder / "published" / "slides").glob("*/")))


if __name__ == "__main__":
    sys.exit(told(rows))
