"""What a set of cards costs beside bare WeasyPrint on the same final HTML in one document, and what memory it takes.

Run as `python -m tests.benchmarks.bench_cards [CARDS]`.  The floor is measured in the same run, so a busy machine slows
both.  The risks: a card laid out twice, a font read once a card, memory that grows with every card.
"""

from __future__ import annotations

import json
import re
import resource
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

from weasyprint import CSS, HTML

from guidebuild.press.card_page import card_css
from guidebuild.press.card_theme import theme
from guidebuild.press.cards import Job, card_html, fit, render_card
from guidebuild.press.drawing import PLAIN
from guidebuild.press.fetching import BASE, GuideFetcher
from guidebuild.press.formats import format_named
from guidebuild.press.joining import join
from guidebuild.press.pdf import font_configuration
from guidebuild.views.card import card_views
from tests.benchmarks.rows import Row, told

sys.path.insert(0, str(Path(__file__).resolve().parents[1] / "press_print"))
from small_guide import THEME, drawn_picture, guide

TIMES = 2.0
_BODY = re.compile(r"<main>(.*)</main>", re.DOTALL)


def measure(count: int) -> dict[str, float]:
    card_format = format_named("a6")
    with tempfile.TemporaryDirectory() as folder:
        pictures = {"plate": drawn_picture(Path(folder))}
        seeds = card_views(guide())
        cards = [replace(seeds[n % 3], id=f"{seeds[n % 3].id}-{n}") for n in range(count)]
        render_card(seeds[0], pictures, card_format, THEME)  # fonts, templates and stylesheet are read
        jobs = [Job(card, pictures, card_format, theme(THEME), PLAIN, contrast=False, bleed=0.0) for card in cards]
        inner = [_BODY.search(card_html(job, fit(job)[0])[0]) for job in jobs[:3]]
        html = (
            '<html lang="en"><title>Floor</title><body class="tall"><main>'
            + '<div style="break-after:page"></div>'.join(inner[n % 3].group(1) for n in range(count) if inner[n % 3])  # type: ignore[union-attr]
            + "</main></body></html>"
        )
        css = card_css(theme(THEME), card_format, 0.0)
        before = _peak()
        start = time.process_time()
        results = [render_card(card, pictures, card_format, THEME) for card in cards]
        printed = time.process_time() - start
        grown = _peak() - before
        start = time.process_time()
        peak = _peak()
        deck = join([(result.id, result.pdf) for result in results], "Deck")
        joined = time.process_time() - start
        # The floor comes last: one document of all cards would hide how little each card takes.
        floor = _floor(html, css, jobs[0].fetcher)
    return {
        "cards": count,
        "floor s": round(floor, 2),
        "printed s": round(printed, 2),
        "joined s": round(joined, 2),
        "ratio": round((printed + joined) / floor, 3),
        "layouts a card": sum(result.layouts for result in results) / count,
        "grown MB a card": round(grown / count, 3),
        "peak MB": round(peak, 1),
        "deck MB": round(len(deck) / 1e6, 2),
    }


def _floor(html: str, css: str, fetcher: GuideFetcher) -> float:
    start = time.process_time()
    fonts = font_configuration()
    sheet = CSS(string=css, base_url=BASE, font_config=fonts)
    document = HTML(string=html, base_url=BASE, url_fetcher=fetcher).render(font_config=fonts, stylesheets=[sheet], pdf_variant="pdf/ua-1")
    document.write_pdf(pdf_variant="pdf/ua-1", pdf_identifier=True, pdf_tags=True)
    return time.process_time() - start


def _peak() -> float:
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def rows() -> Iterator[Row]:
    """Measure a hundred cards."""
    found = measure(100)
    ours = found["printed s"] + found["joined s"]
    yield Row("100 cards and their deck, beside bare WeasyPrint", f"{found['floor s']:.2f} s", f"{ours:.2f} s", found["ratio"], TIMES)


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps(measure(int(sys.argv[1])), indent=2))
    else:
        sys.exit(told(rows))
