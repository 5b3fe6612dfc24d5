"""A script under a hand: its time follows what is typed, it is written when its author says so, and a draft becomes one's own."""

from __future__ import annotations

import pytest
from playwright.sync_api import Page, expect

from tests.browser.at_the_desk import PATIENCE
from tests.desk.opened import Opened, changed_lines


@pytest.fixture
def page(desk: Opened, wide: Page) -> Page:
    wide.goto(f"{desk.origin}/-desk/scripts/parent-bug/full")
    wide.wait_for_load_state("load")
    return wide


def test_time_follows_what_is_typed_by_keys_and_only_the_line_is_written(desk: Opened, page: Page) -> None:
    file = desk.folder / "episodes/parent-bug-full.md"
    before = file.read_text("utf-8")
    total = page.locator("#times .total").inner_text()
    page.locator("#section-1").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("\nOne more sentence, which takes a few seconds to say aloud.")
    expect(page.locator("#times .total")).not_to_have_text(total, timeout=PATIENCE)
    expect(page.locator(".script-section").first.locator(".spoken")).to_contain_text("One more sentence")
    assert file.read_text("utf-8") == before
    page.keyboard.press("Control+s")
    expect(page.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    assert changed_lines(before, file) == ["+ One more sentence, which takes a few seconds to say aloud."]
    expect(page.locator("#write")).to_be_disabled()
    page.keyboard.type("\n## A section")
    expect(page.locator("#section-1-refusal")).to_contain_text("##", timeout=PATIENCE)


def test_a_picture_is_put_where_the_hand_is_by_mouse(desk: Opened, page: Page) -> None:
    file = desk.folder / "episodes/parent-bug-full.md"
    before = file.read_text("utf-8")
    page.locator("#section-5").click()
    page.evaluate("document.getElementById('section-5').setSelectionRange(0, 0)")
    page.click("#show-picture")
    page.click('[data-photo="parent-adult"]')
    expect(page.locator(".script-section").last.locator(".seen-line").first).to_be_visible(timeout=PATIENCE)
    page.click("#write")
    expect(page.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    removed, added = changed_lines(before, file)
    assert added == removed.replace("- ", "+ [show parent-adult] ", 1)


def test_a_draft_is_made_ones_own(desk: Opened, page: Page) -> None:
    page.goto(f"{desk.origin}/-desk/scripts/hairy-shieldbug/short")
    expect(page.locator("textarea")).to_have_count(0)
    page.click("#make-own")
    expect(page.locator("#section-1")).to_be_visible(timeout=PATIENCE)
    assert (desk.folder / "episodes/hairy-shieldbug-short.md").is_file()
