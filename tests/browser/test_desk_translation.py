"""A translation filled in beside its original, in a browser."""

from __future__ import annotations

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_accessible import AXE, RULES
from tests.browser.test_desk_plate import PATIENCE, desk, wide
from tests.desk.opened import Opened

__all__ = ["desk", "wide"]


def test_words_are_written_as_their_field_is_left_and_the_next_section_opens(desk: Opened, wide: Page) -> None:
    file = desk.folder / "accounts/dock-bug.es.md"
    wide.goto(f"{desk.origin}/-desk/translation/dock-bug/es")
    first, second = wide.locator("#section-1"), wide.locator("#section-2")
    expect(second).to_be_disabled()
    wide.fill("#fact-1", "Chinche de la acedera: parda")
    wide.keyboard.press("Tab")
    expect(wide.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    assert 'vernacular: "Chinche de la acedera: parda"' in file.read_text("utf-8")
    first.fill("Grande y parda.")
    first.press("Tab")
    expect(second).to_be_enabled(timeout=PATIENCE)
    assert "## En breve\n\nGrande y parda.\n" in file.read_text("utf-8")
    first.fill("Con ## dentro\n## y otra")
    first.press("Tab")
    expect(wide.locator("#section-1-refusal")).to_contain_text("opens a section of its own", timeout=PATIENCE)
    assert "Grande y parda." in file.read_text("utf-8")


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1280, "light")])
@pytest.mark.parametrize("path", ["translation/parent-bug/es", "translation/dock-bug/es", "translation/"])
def test_axe_finds_nothing_and_nothing_is_cut_off(browser: Browser, desk: Opened, width: int, scheme: str, path: str) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 844},
        color_scheme=scheme,  # type: ignore[arg-type]
        bypass_csp=True,
    )
    page = context.new_page()
    page.goto(desk.address)
    page.goto(f"{desk.origin}/-desk/{path}")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    result = page.evaluate("rules => axe.run({runOnly: rules, iframes: false})", RULES)
    assert [(v["id"], [n["html"][:90] for n in v["nodes"]]) for v in result["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
