"""What the cards of whole invented guides cost beside bare WeasyPrint on the same final HTML in one document, and what memory they take.

    python -m tests.benchmarks cards                             (200 cards)
    GUIDEBUILD_BENCH_CARDS=1000 python -m tests.benchmarks cards (the ceiling for a thousand, some twenty minutes)

The risks: a card that fits is laid out twice, a font is read once a card, a run without a change prints anew, one core waits for the
other, memory grows with every card. Every run is a process of its own with its helpers; times are processor seconds of all of them, so
that other work on the machine counts little. What two workers gain is told by the clock, the better of two runs each.
"""

from __future__ import annotations

import ctypes
import gc
import json
import os
import re
import shutil
import sys
import tempfile
import time
from collections.abc import Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path

from PIL import Image
from weasyprint import CSS, HTML
from weasyprint.document import Document

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.card import card_html, fit_card, render_card
from guidebuild.press.outputs.cards.fitting import CardFitting
from guidebuild.press.outputs.cards.page import card_css, picture_pixels
from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.joining import join_pdfs
from guidebuild.press.paper.pdf import font_configuration, log_lines
from guidebuild.press.paper.setup import make_setup
from guidebuild.press.paper.theme import read_theme
from guidebuild.press.photos.print_copy import Picture
from guidebuild.session import open_session
from guidebuild.shipped import on_disk, themes
from guidebuild.views.cards.card import card_views
from tests.benchmarks.rows import Row, as_installed, told
from tests.benchmarks.synthetic import PIXELS, Invented, draw_picture

CARDS = int(os.environ.get("GUIDEBUILD_BENCH_CARDS", "200"))
PHOTOS = 60
TIMES, NO_CHANGE, WORKERS, MEGABYTES_EACH = 1.0, 0.02, 1.75, 1.5
CEILING, CEILING_EACH = 250.0, 1.5
"""Megabytes that a run may hold with its helpers, whatever it prints, and for each card: 1,750 MB for a thousand."""
_FEW, _THUMB = 40, (320, 240)
_SELDOM = 200_000, 50, 50
"""How seldom a make looks for cycles (`guidebuild.cli`)."""
A6, THEME = format_named("a6"), (on_disk(themes()) / "plate",)
_PLAIN = "import sys; from guidebuild.cli import run; run(sys.argv[1:])"
_COMMAND = """
import sys
from guidebuild.cli import run
from guidebuild.press.outputs.cards import output as out_cards
out_cards.publish_telling = lambda printing, paper, *, sheets_with: None
run(sys.argv[1:])
"""
"""The output `cards` without the printed key and the comparisons, which are no cards and take as long as all of them."""
_BODY = re.compile(r"<main>(.*)</main>", re.DOTALL)
_SUBREAPER = 36
"""PR_SET_CHILD_SUBREAPER of Linux: helpers that outlive their parent are handed to this process, which can then count them."""


@dataclass(frozen=True)
class Spent:
    """What a command took: processor seconds with those of its helpers, clock seconds, and the first process's most memory."""

    processor: float
    clock: float
    megabytes: float


def rows() -> Iterator[Row]:
    """One guide in a folder that is thrown away."""
    with tempfile.TemporaryDirectory() as here:
        own, folder, few = Path(here) / "own", Path(here) / "guide", Path(here) / "few"
        Invented(CARDS).write(own, pixels=_THUMB)
        for place, count in ((folder, CARDS), (few, _FEW)):
            Invented(count).write(place, pictures=PHOTOS)
            with (place / "guide.yaml").open("a", encoding="utf-8") as file:
                file.write("card: a6\npaper: a4\n")
        yield from _printing(own)
        yield from _making(folder, few)


def _printing(folder: Path) -> Iterator[Row]:
    """Cards and their deck alone, one worker, beside bare WeasyPrint, the better of two in turn; each card with a plate of its own."""
    ours, bare = zip(*(_pair(folder) for _ in range(2)), strict=True)
    seconds, floor = min(run["printed"] + run["joined"] for run in ours), min(bare)
    yield Row(f"{CARDS:,} cards and their deck, one worker", f"{floor:.1f} s", f"{seconds:.1f} s", seconds / floor, TIMES)
    yield from _layouts(ours[0])


def _pair(folder: Path) -> tuple[dict[str, float], float]:
    """What ours says of itself, and the floor's seconds."""
    ours: dict[str, float] = json.loads(_said("printed", folder))
    return ours, json.loads(_said("floor", folder))["floor"]


def _layouts(ours: dict[str, float]) -> Iterator[Row]:
    at_once, layouts = ours["at once"], ours["layouts at once"]
    yield Row("layouts of a card that fits at once", f"{at_once} cards", f"{layouts} layouts", layouts / at_once, 1.0)
    yield Row("layouts of any card", f"{CARDS:,} cards", f"{ours['layouts']} layouts", ours["layouts"] / CARDS)


def _making(folder: Path, few: Path) -> Iterator[Row]:
    """The whole command with checks, pictures, deck, sheets and the scan for leaks, but for key and comparisons."""
    small, full = _make(few, 1), _make(folder, 1)
    time.sleep(2.1)  # files changed within two seconds of a run are not trusted to be as they were
    again = _make(folder, 1, _PLAIN)  # the other command loads what a run without a change does without
    took = f"{full.processor:.1f} s"
    yield Row(
        f"make cards without a change, {CARDS:,} cards", took, f"{again.processor:.2f} s", again.processor / full.processor, NO_CHANGE
    )
    grown = (full.megabytes - small.megabytes) / (CARDS - _FEW)
    said = f"{small.megabytes:.0f} MB at {_FEW}", f"{full.megabytes:.0f} MB at {CARDS:,}"
    yield Row("memory a card, in MB", *said, grown, MEGABYTES_EACH)
    room = CEILING + CEILING_EACH * CARDS
    yield Row(f"most memory, {CARDS:,} cards", f"{room:.0f} MB", f"{full.megabytes:.0f} MB", full.megabytes / room, 1.0)
    one, two = min(full.clock, _anew(folder, 1)), min(_anew(folder, 2), _anew(folder, 2))
    said = f"{one:.1f} s", f"{two:.1f} s"
    yield Row(f"make {CARDS:,} cards: one worker beside two, by the clock", *said, one / two, WORKERS, least=True)


def _anew(folder: Path, workers: int) -> float:
    """Clock seconds of a run that finds nothing made."""
    for made in ("published", ".guidebuild"):
        shutil.rmtree(folder / made)
    return _make(folder, workers).clock


def _make(folder: Path, workers: int, command_line: str = _COMMAND) -> Spent:
    """One command with all its helpers, those too that outlive it by a moment."""
    if sys.platform == "linux":
        ctypes.CDLL(None).prctl(_SUBREAPER, 1, 0, 0, 0)
    command = [sys.executable, "-c", command_line, "make", str(folder), "cards", "--workers", str(workers), "--quiet"]
    with tempfile.TemporaryFile() as out:
        start = time.perf_counter()
        into = [(os.POSIX_SPAWN_DUP2, out.fileno(), stream) for stream in (1, 2)]
        process = os.posix_spawn(sys.executable, command, as_installed(), file_actions=into)
        _, status, usage = os.wait4(process, 0)
        clock = time.perf_counter() - start
        out.seek(0)
        said = out.read().decode()
    # 1 is one of the tool's answers, and Python's own where it stops on an error.
    if os.waitstatus_to_exitcode(status) not in (0, 1) or "Traceback" in said or "could not be made" in said:
        raise SystemExit(f"{' '.join(command[2:])} failed:\n{said[-2000:]}")
    helpers = 0.0
    with suppress(ChildProcessError):
        while True:
            _, _, used = os.wait4(-1, 0)
            helpers += used.ru_utime + used.ru_stime
    return Spent(usage.ru_utime + usage.ru_stime + helpers, clock, usage.ru_maxrss / 1024)


def _said(what: str, folder: Path) -> str:
    """What this module says when run for one part in a process of its own."""
    with tempfile.TemporaryFile() as out:
        command = [sys.executable, "-m", "tests.benchmarks.bench_cards", what, str(folder)]
        process = os.posix_spawn(sys.executable, command, os.environ, file_actions=[(os.POSIX_SPAWN_DUP2, out.fileno(), 1)])
        if os.waitstatus_to_exitcode(os.waitpid(process, 0)[1]):
            raise SystemExit(f"{' '.join(command[2:])} failed")
        out.seek(0)
        return out.read().decode()


def _printed(folder: Path) -> dict[str, float]:
    """Print every card and join the deck; leaves the final HTML of all for the floor."""
    gc.set_threshold(*_SELDOM)
    cards = card_views(make_published(open_session(folder).guide))
    pictures, layouts, once = _pictures(folder, {photo.id for card in cards for photo in card.photos}), _Counted(), []
    start = time.process_time()
    results = []
    for card in cards:
        before = layouts.count
        results.append(render_card(card, pictures, A6, THEME))
        if results[-1].layouts == 1:
            once.append(layouts.count - before)
    printed, counted = time.process_time() - start, layouts.count
    start = time.process_time()
    join_pdfs([(result.id, result.pdf) for result in results], "Deck")
    joined = time.process_time() - start
    _leave_html(folder, [CardFitting(card, make_setup(pictures, A6, THEME)) for card in cards])
    return {"printed": printed, "joined": joined, "layouts": counted, "at once": len(once), "layouts at once": sum(once)}


class _Counted:
    """Counts every layout that WeasyPrint really does."""

    def __init__(self) -> None:
        self.count, bare = 0, HTML.render

        def counted(*given: object, **named: object) -> object:
            self.count += 1
            return bare(*given, **named)

        HTML.render = counted


def _pictures(folder: Path, wanted: set[str]) -> dict[str, Picture]:
    """The guide's photos at 300 pixels an inch of an A6 card, before the clock runs."""
    size, place = picture_pixels(A6), folder / "print"
    place.mkdir(exist_ok=True)
    pictures = {}
    wide = min(size[0], round(size[1] * PIXELS[0] / PIXELS[1]))
    high = round(wide * PIXELS[1] / PIXELS[0])
    for name in sorted(wanted):
        path = place / f"{name}.jpg"
        draw_picture(int(name.removeprefix("photo-"))).resize((wide, high)).save(path, quality=88)
        pictures[name] = Picture(path, wide, high)
    return pictures


def _leave_html(folder: Path, jobs: Sequence[CardFitting]) -> None:
    """All cards as they were set in the end, as one document."""
    inner = [found[1] for fitting in jobs if (found := _BODY.search(card_html(fitting, fit_card(fitting)[0])[0]))]
    body = '<div style="break-after:page"></div>'.join(inner)
    (folder / "floor.html").write_text(f'<html lang="en"><title>Floor</title><body class="tall"><main>{body}</main></body></html>', "utf-8")
    (folder / "floor.css").write_text(card_css(read_theme(THEME), A6, 0.0), "utf-8")


def _floor(folder: Path) -> dict[str, float]:
    """WeasyPrint and nothing else, with the very pictures that ours shows."""
    html, css = (folder / "floor.html").read_text("utf-8"), (folder / "floor.css").read_text("utf-8")
    fetcher = GuideFetcher(pictures=[Picture(path, *Image.open(path).size) for path in (folder / "print").iterdir()])
    start = time.process_time()
    with log_lines() as complaints:
        document = _print_bare(html, css, fetcher)
    spent = time.process_time() - start
    if missing := [line for line in complaints if "Failed to load" in line]:
        raise SystemExit(f"the floor lacks what ours shows: {missing[0]}")
    return {"floor": spent, "pages": len(document.pages)}


def _print_bare(html: str, css: str, fetcher: GuideFetcher) -> Document:
    fonts = font_configuration()
    sheet = CSS(string=css, base_url=BASE, font_config=fonts)
    document = HTML(string=html, base_url=BASE, url_fetcher=fetcher).render(font_config=fonts, stylesheets=[sheet], pdf_variant="pdf/ua-1")
    document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=True, pdf_tags=True)
    return document


_PARTS = {"printed": _printed, "floor": _floor}

if __name__ == "__main__":
    if len(sys.argv) == 3:
        print(json.dumps(_PARTS[sys.argv[1]](Path(sys.argv[2]))))
    else:
        sys.exit(told(rows))
