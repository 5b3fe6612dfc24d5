"""Where too little is scored for a key, its page and the command say so, and what to score first, in the reader's language."""

from __future__ import annotations

import datetime as dt
import io
from dataclasses import replace
from pathlib import Path

import pytest
from bs4 import BeautifulSoup
from rich.console import Console

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.press.outputs.site.page import render_page
from guidebuild.terminal.telling import print_key
from guidebuild.views.telling.key import key_view
from tests.identify.invented import table
from tests.views.whole_site import site_pages

THEME = (Path(__file__).parents[3] / "themes" / "plate",)
SAID = {
    "en": ("Too little is scored for a key: of ", "would help most:"),
    "es": ("Hay muy pocos datos para una clave: de ", "son los que más ayudarían:"),
}


def sparse() -> Published:
    """An invented guide of twelve species, scored for one character in seven."""
    made = table({f"T{n}": "".join("abcd"[(n + c) % 4] if (n + c) % 7 == 0 else "?" for c in range(6)) for n in range(12)})
    return make_published(replace(made, settings=replace(made.settings, languages=("en", "es"))))


@pytest.mark.parametrize("language", SAID)
def test_the_page_says_what_to_score_first(language: str) -> None:
    path = "key.html" if language == "en" else "es/key.html"
    (page,) = [page for page in site_pages(sparse(), dt.date(2026, 11, 28)) if page.path == path]
    body = BeautifulSoup(render_page(page, {}, THEME), "html.parser").main
    assert body is not None and body.p is not None
    notice = body.select_one("p.notice")
    assert notice is not None
    start, end = SAID[language]
    assert notice.text.startswith(start) and notice.text.endswith(end)
    listed = body.select("ul.wanted li")
    assert (listed[0].text.startswith("c0: ") and listed[0].select_one("a[href*='account']")) or listed[0].select_one("a")
    assert not body.select(".couplet") and "Start at 1" not in body.text


def test_the_command_says_it_too_and_no_length_of_a_key_that_is_not_there() -> None:
    console = Console(file=io.StringIO(), width=200)
    print_key(console, key_view(sparse()), layout="indented")
    lines = console.file.getvalue().splitlines()  # type: ignore[attr-defined]
    assert any(line.startswith(SAID["en"][0]) for line in lines)
    assert any(line.startswith("  c0: ") for line in lines)
    assert not any("Couplets" in line for line in lines)
