"""What the booklet of an invented guide costs beside bare WeasyPrint on the same final HTML: spreads in one document, and its ends.

    python -m tests.benchmarks booklet                               (200 species)
    GUIDEBUILD_BENCH_BOOKLET=40 python -m tests.benchmarks booklet

The risks: spreads laid out again and again, joining that costs as much as setting, a picture that is made anew on each page. Pictures
are prepared before the clock runs, and made smaller in both for the places that they stand in. Times are processor seconds, once each.
"""

from __future__ import annotations

import io
import json
import os
import re
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

from PIL import Image
from pypdf import PdfReader
from weasyprint import CSS, HTML

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.booklet import bind
from guidebuild.press.outputs.cards.booklet.alike import render_alike
from guidebuild.press.outputs.cards.booklet.leaf import Leaf
from guidebuild.press.outputs.cards.booklet.plates import plate_pixels
from guidebuild.press.outputs.cards.booklet.species import render_species
from guidebuild.press.paper import layout
from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.formats import format_named, paper_named
from guidebuild.press.paper.page_source import PageSource
from guidebuild.press.paper.pdf import font_configuration, log_lines
from guidebuild.press.paper.sheets import make_booklet
from guidebuild.press.photos.copies import Recipe, prepare_copies
from guidebuild.press.photos.print_copy import Picture
from guidebuild.session import open_session
from guidebuild.shipped import on_disk, themes
from guidebuild.views.booklet.book import booklet_view
from guidebuild.views.booklet.spreads import AlikeSpread
from tests.benchmarks.rows import Row, told
from tests.benchmarks.synthetic import Invented

SPECIES = int(os.environ.get("GUIDEBUILD_BENCH_BOOKLET", "200"))
PHOTOS, TIMES = 60, 1.3
LEAF, THEME = Leaf(format_named("booklet")), (on_disk(themes()) / "plate",)
_BODY = re.compile(r"<body[^>]*>\s*<main>(.*)</main>", re.DOTALL)


def rows() -> Iterator[Row]:
    """One guide in a folder that is thrown away; ours and the floor each in a process of its own."""
    with tempfile.TemporaryDirectory() as here:
        folder = Path(here)
        Invented(SPECIES).write(folder / "guide", pictures=PHOTOS)
        ours, floor = _said("made", folder), _said("floor", folder)
        pages = ours["pages"]
        if floor["pages"] != pages:
            raise SystemExit(f"the floor has {floor['pages']} pages, the booklet {pages}")
    what = f"booklet of {SPECIES} species, {pages:.0f} pages, one worker"
    bare, spent = floor["seconds"], ours["spreads"] + ours["bound"]
    yield Row(what, f"{bare:.1f} s", f"{spent:.1f} s", spent / bare, TIMES)
    yield Row("ends, joined and marked, of it", f"{spent:.1f} s", f"{ours['bound']:.1f} s", ours["bound"] / spent)
    yield Row("layouts of a spread", f"{ours['count']:.0f} spreads", f"{ours['layouts']:.0f} layouts", ours["layouts"] / ours["count"])
    yield Row("the same on its sheets", f"{bare:.1f} s", f"{ours['sheets']:.1f} s", ours["sheets"] / bare)


def _said(what: str, folder: Path) -> dict[str, float]:
    """What this module says when run for one part in a process of its own."""
    with tempfile.TemporaryFile() as out:
        command = [sys.executable, "-m", "tests.benchmarks.bench_booklet", what, str(folder)]
        process = os.posix_spawn(sys.executable, command, os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, out.fileno(), 1)])
        if os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]):
            raise SystemExit(f"{' '.join(command[2:])} failed")
        out.seek(0)
        said: dict[str, float] = json.loads(out.read())
        return said


class _Noted:
    """Keeps the page that was laid out last, and of how many there were."""

    def __init__(self) -> None:
        self.last: tuple[str, tuple[str, ...]] = ("", ())
        self.count = 0

    def read(self, html: str, fetcher: GuideFetcher, styles: Any) -> PageSource:
        """Take a page as `PageSource` does."""
        self.last, self.count = (html, tuple(styles)), self.count + 1
        return PageSource(html, fetcher, self.last[1])

    def ending(self, lay_out: Callable[..., Any], kept: dict[str, Any], name: str) -> Callable[..., Any]:
        """The same laying out, which also keeps its page."""

        def noted(*given: Any, **named: Any) -> Any:
            laid = lay_out(*given, **named)
            kept[name] = self.last
            return laid

        return noted


def _made(folder: Path) -> dict[str, float]:
    """Print every spread and bind them; leaves the final HTML of all for the floor."""
    view = booklet_view(make_published(open_session(folder / "guide").guide))
    pictures = _prepare_pictures(folder, {photo.id for spread in view.species for photo in spread.pictures})
    noted, ends, spreads, final = _Noted(), {}, {}, []
    layout.PageSource = noted.read  # type: ignore[assignment, misc]
    bind.lay_out_front, bind.lay_out_back = noted.ending(bind.lay_out_front, ends, "front"), noted.ending(bind.lay_out_back, ends, "back")
    start = time.process_time()
    printed_ends = bind.print_ends(view, pictures, LEAF, THEME)
    setting = time.process_time() - start
    pages, noted.count, start = bind.number_spreads(view, printed_ends.front), 0, time.process_time()
    for spread in view.spreads:
        render: Callable[..., Any] = render_alike if isinstance(spread, AlikeSpread) else render_species
        spreads[spread.id] = render(spread, pictures, LEAF, THEME, pages)
        final.append(noted.last)
    printed, layouts, start = time.process_time() - start, noted.count, time.process_time()
    bound = bind.bind_booklet(view, spreads, pictures, LEAF, THEME, ends=printed_ends)
    joined, start = time.process_time() - start, time.process_time()
    make_booklet(bound.pdf, LEAF.format, paper_named("a4"))
    sheets = time.process_time() - start
    if not bound.pdf:
        raise SystemExit(str(bound.problems[-1]))
    documents = [ends["front"], (_put_together([html for html, _ in final]), final[0][1]), ends["back"]]
    sizes = {picture.path.name: (picture.width, picture.height) for picture in pictures.values()}
    (folder / "floor.json").write_text(json.dumps({"documents": documents, "sizes": sizes}), "utf-8")
    said = {"spreads": printed, "bound": setting + joined, "sheets": sheets, "count": len(spreads), "layouts": layouts}
    return {**said, "pages": _count_pages(bound.pdf)}


def _put_together(pages: list[str]) -> str:
    """All spreads as one document."""
    inner = [found[1] for html in pages if (found := _BODY.search(html))]
    body = '<div style="break-after:page"></div>'.join(inner)
    return f'<html lang="en"><title>Floor</title><body class="booklet"><main>{body}</main></body></html>'


def _prepare_pictures(folder: Path, wanted: set[str]) -> dict[str, Picture]:
    """The guide's photos as a make prepares them, before the clock runs; each is as many as it is shown by."""
    (folder / "print").mkdir()
    wide, pictures = plate_pixels(LEAF.inner)[0], {}
    for path in sorted((folder / "guide" / "photos").iterdir()):
        with Image.open(path) as opened:
            fit = min(wide, opened.width)
        made = prepare_copies(path.read_bytes(), Recipe((fit,), ("source", "print"), jpeg_widths=(fit,), sizes_only=True), path.name)
        source, copy = made.copies  # type: ignore[union-attr]
        for name, one in ((f"{path.stem}-source.jpg", source), (f"{path.stem}.jpg", copy)):
            (folder / "print" / name).write_bytes(one.data)
        place = folder / "print"
        pictures[path.stem] = Picture(
            place / f"{path.stem}.jpg", copy.width, copy.height, None, place / f"{path.stem}-source.jpg", source.width
        )
    return {photo: pictures[photo] for photo in wanted if photo in pictures}


def _count_pages(data: bytes) -> int:
    return len(PdfReader(io.BytesIO(data)).pages)


def _floor(folder: Path) -> dict[str, float]:
    """WeasyPrint and nothing else on the same pages, with the same pictures at the same sizes."""
    given = json.loads((folder / "floor.json").read_text("utf-8"))
    place = folder / "print"
    held = [
        Picture(place / name, *size, None, place / name.replace(".jpg", "-source.jpg"), size[0]) for name, size in given["sizes"].items()
    ]
    fetcher = GuideFetcher(pictures=held)
    start, pages = time.process_time(), 0
    with log_lines() as complaints:
        fonts = font_configuration()
        for html, styles in given["documents"]:
            sheets = [CSS(string=text, base_url=BASE, font_config=fonts) for text in styles]
            document = HTML(string=html, base_url=BASE, url_fetcher=fetcher).render(
                font_config=fonts, stylesheets=sheets, pdf_variant="pdf/ua-1"
            )
            document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=True, pdf_tags=True)
            pages += len(document.pages)
    seconds = time.process_time() - start
    if missing := [line for line in complaints if "Failed to load" in line]:
        raise SystemExit(f"the floor lacks what ours shows: {missing[0]}")
    return {"seconds": seconds, "pages": pages}


_PARTS = {"made": _made, "floor": _floor}

if __name__ == "__main__":
    if len(sys.argv) == 3:
        print(json.dumps(_PARTS[sys.argv[1]](Path(sys.argv[2]))))
    else:
        sys.exit(told(rows))
