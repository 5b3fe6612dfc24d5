"""A translation filled in beside its original, in a browser."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.at_the_desk import PATIENCE
from tests.desk.opened import Opened


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
