"""The handbook as it is read from the disk: looked through by keyboard, at every width, in light and dark."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page

from guidebuild.cli.helping import list_commands
from guidebuild.handbook.book import write_book
from tests.browser.test_accessible import AXE, RULES

pytestmark = pytest.mark.browser
PAGES = ["index.html", "pictures.html", "keys-account.html", "commands.html", "words.html"]


@pytest.fixture(scope="module")
def book(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return write_book(tmp_path_factory.mktemp("book"), list_commands()).parent


@pytest.fixture
def page(browser: Browser, request: pytest.FixtureRequest) -> Iterator[Page]:
    context = browser.new_context(**getattr(request, "param", {}))
    shown = context.new_page()
    wrong: list[str] = []
    shown.on("pageerror", lambda error: wrong.append(str(error)))
    yield shown
    context.close()
    assert wrong == []


def test_a_word_is_looked_up_without_a_mouse_and_leads_to_its_place(page: Page, book: Path) -> None:
    page.goto((book / "index.html").as_uri())
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.id") == "wanted"
    page.keyboard.type("measured")
    first = page.locator("#found li a").first
    assert first.locator("b").inner_text().startswith("measured")
    page.keyboard.press("Enter")
    page.wait_for_url("**/keys-photos.html#photos-measured")
    assert page.locator("#photos-measured").is_visible()
    page.locator("#wanted").fill("zzzz")
    assert "Nothing is called so" in page.locator("#found").inner_text()
    page.keyboard.press("Escape")
    assert page.locator("#found").is_hidden()


@pytest.mark.parametrize("typed", ["pointer", "no-pointer", "booklet", "licence", "secret"])
def test_what_one_looks_for_is_found(page: Page, book: Path, typed: str) -> None:
    page.goto((book / "index.html").as_uri())
    page.locator("#wanted").fill(typed)
    assert typed in page.locator("#found li").first.inner_text().lower()


@pytest.mark.parametrize("page", [{"color_scheme": scheme} for scheme in ("light", "dark")], ids=["light", "dark"], indirect=True)
def test_every_kind_of_page_fits_each_width_and_passes_axe(page: Page, book: Path) -> None:
    for name in PAGES:
        page.goto((book / name).as_uri())
        for width in (320, 390, 1280):
            page.set_viewport_size({"width": width, "height": 900})
            assert page.evaluate("document.documentElement.scrollWidth") <= width, (name, width)
        page.evaluate(AXE.read_text("utf-8"))
        found = page.evaluate("rules => axe.run({runOnly: rules})", RULES)
        assert [(one["id"], [node["html"][:120] for node in one["nodes"][:3]]) for one in found["violations"]] == [], name
