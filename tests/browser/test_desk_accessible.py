"""Each page of the desk looked at by axe, on a phone in the dark and on a wide screen by day; nothing is cut off."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.at_the_desk import PATIENCE, UNEXPLAINED
from tests.browser.test_accessible import AXE, RULES
from tests.desk.opened import Opened, copy_sample, open_desk

PAGES = (
    "account/", "calendar/", "guide/", "guide/places", "guide/characters", "pictures/", "plate/parent-adult", "scores/",
    "scores/parent-bug", "scores/by/outline", "seasons/", "seasons/parent-bug", "sightings/", "scripts/", "scripts/parent-bug/full",
    "scripts/parent-bug/short", "translation/", "translation/parent-bug/es", "translation/dock-bug/es",
)  # fmt: skip


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    folder = copy_sample(tmp_path_factory.mktemp("desk") / "hedge")
    (folder / "sightings" / "club.csv").write_text(UNEXPLAINED, "utf-8")
    with open_desk(folder, entered=False) as desk:
        yield desk


@pytest.fixture(scope="module", params=[(390, "dark"), (1280, "light")], ids=["phone", "wide"])
def shown(request: pytest.FixtureRequest, browser: Browser, opened: Opened) -> Iterator[Page]:
    width, scheme = request.param
    context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True)
    page = context.new_page()
    page.goto(opened.address)
    yield page
    context.close()


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize("path", PAGES)
def test_axe_finds_nothing_and_nothing_is_cut_off(opened: Opened, shown: Page, path: str) -> None:
    shown.goto(f"{opened.origin}/-desk/{path}")
    shown.wait_for_load_state("load")
    cell = shown.locator('[id="parent-bug:outline"]')
    if cell.is_visible():
        cell.click()
        expect(shown.locator("#score-0-1")).to_be_checked(timeout=PATIENCE)
    shown.evaluate(AXE.read_text(encoding="utf-8"))
    result = shown.evaluate("rules => axe.run({exclude: ['iframe']}, {runOnly: rules, iframes: false})", RULES)
    assert [(v["id"], [n["html"][:90] for n in v["nodes"]]) for v in result["violations"]] == []
    assert shown.evaluate("document.documentElement.scrollWidth <= innerWidth")
