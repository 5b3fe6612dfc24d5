"""How soon the finder of a large guide answers a tick on a slow phone.

    python -m tests.benchmarks.bench_finder

The risk: 1,000 species × 60 characters are ranked and shown anew at each tick, and a finger waits. Chromium's processor is slowed
four times (`Emulation.setCPUThrottlingRate`); what counts is the time of the page's own thread for script, style and layout, which
does not swing with what else the machine does, for each of the first six ticks of ten invented species. Ends with 1 where any of
them takes more than 50 ms.
"""

from __future__ import annotations

import datetime as dt
import random
import shutil
import statistics
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

from playwright.sync_api import CDPSession, Page, sync_playwright

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.site.assets import look_assets
from guidebuild.press.outputs.site.page import render_page
from guidebuild.shipped import on_disk, themes
from guidebuild.views.site.pages import SitePages
from tests.benchmarks.rows import Row, told
from tests.identify.invented import table

TAXA, CHARACTERS, SLOWER, LIMIT = 1000, 60, 4, 50.0
SPECIES, TICKS = 10, 6
THEME = (on_disk(themes()) / "plate",)
TICK = """([question, answer]) => {
  document.querySelectorAll('.asked fieldset')[question].querySelectorAll('input')[answer].click();
  document.body.offsetHeight;
}"""
COUNTED = ("ScriptDuration", "RecalcStyleDuration", "LayoutDuration")


def invent_rows() -> list[str]:
    """A letter a character, each as likely as any other."""
    draw = random.Random(TAXA)
    return ["".join(draw.choices("abcd", k=CHARACTERS)) for _ in range(TAXA)]


def write_finder(folder: Path) -> None:
    """The finder of an invented guide, with what it takes from beside it."""
    pages = SitePages(make_published(table({f"Species {n}": row for n, row in enumerate(invent_rows())})), dt.date(2026, 6, 1))
    files = look_assets(THEME)
    for path in ("finder.html", "finder/table.js", "finder/species.js"):
        page = pages.find(path)
        assert page is not None, path
        files[path] = render_page(page, {}, THEME)
    for path, data in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)


def time_ticks(page: Page, line: CDPSession, address: str) -> Iterator[float]:
    """Milliseconds of each tick, for one species after another."""
    page.goto(address)
    page.wait_for_selector(".finder.live")
    places = page.evaluate("[...document.querySelectorAll('.asked fieldset')].map((one) => Number(one.dataset.place))")
    invented = invent_rows()
    for species in range(SPECIES):
        for question in range(TICKS):
            before = read_time(line)
            page.evaluate(TICK, [question, "abcd".index(invented[species * 97][places[question]])])
            yield (read_time(line) - before) * 1000
        page.evaluate("document.querySelector('.ask').reset()")
        page.wait_for_timeout(200)


def read_time(line: CDPSession) -> float:
    """Seconds that the page's thread has spent so far."""
    told = {metric["name"]: metric["value"] for metric in line.send("Performance.getMetrics")["metrics"]}
    return float(sum(told[name] for name in COUNTED))


def rows() -> Iterator[Row]:
    """The longest tick, and how long the usual one takes."""
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        write_finder(Path(folder))
        browser = play.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        page = browser.new_page(viewport={"width": 390, "height": 844})
        line = page.context.new_cdp_session(page)
        line.send("Performance.enable", {"timeDomain": "threadTicks"})
        line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
        taken = list(time_ticks(page, line, (Path(folder) / "finder.html").as_uri()))
        browser.close()
    what = f"a tick in the finder of {TAXA:,} species × {CHARACTERS} characters, processor slowed {SLOWER} times, beside {LIMIT:g} ms"
    yield Row(f"{what}: the longest of {len(taken)}", f"{LIMIT:g} ms", f"{max(taken):.0f} ms", max(taken) / LIMIT, 1.0)
    yield Row(f"{what}: the usual one", f"{LIMIT:g} ms", f"{statistics.median(taken):.0f} ms", statistics.median(taken) / LIMIT, 1.0)


if __name__ == "__main__":
    sys.exit(told(rows))
