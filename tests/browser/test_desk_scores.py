"""Cells of the table scored in a browser: by mouse, and by keys alone."""

from __future__ import annotations

from playwright.sync_api import Page, expect

from tests.browser.at_the_desk import PATIENCE
from tests.desk.opened import Opened, changed_lines

CELL = '[id="parent-bug:ground-colour"]'


def _show(page: Page, desk: Opened, path: str = "scores/") -> None:
    page.goto(f"{desk.origin}/-desk/{path}")
    page.wait_for_load_state("load")


def test_a_cell_is_scored_by_mouse_and_taken_back(desk: Opened, wide: Page) -> None:
    file = desk.folder / "accounts/parent-bug.md"
    before = file.read_text("utf-8")
    _show(wide, desk)
    wide.click(CELL)
    wide.check("#score-0-0")
    wide.check("#score-0-4-rarely")
    expect(wide.locator(CELL)).to_have_text("green, brown, rarely red", timeout=PATIENCE)
    assert changed_lines(before, file) == ["-   ground colour: brown", "+   ground colour: [green, brown, rarely red]"]
    wide.click("#undo")
    expect(wide.locator(CELL)).to_have_text("green, brown", timeout=PATIENCE)
    expect(wide.locator("#score-0-4-rarely")).not_to_be_checked(timeout=PATIENCE)
    wide.click("#undo")
    expect(wide.locator(CELL)).to_have_text("brown", timeout=PATIENCE)
    assert file.read_text("utf-8") == before
    # The table was put in anew by now; it stays where it was scrolled to.
    assert wide.evaluate("document.querySelector('.score-table').scrollTop") > 0
    wide.click("#score-more")
    wide.check("#score-1-0")
    expect(wide.locator(CELL)).to_have_text("brown; female: green", timeout=PATIENCE)
    assert changed_lines(before, file)[-2:] == ["+     - value: green", "+       sex: female"]


def test_cells_are_scored_by_keys_alone(desk: Opened, wide: Page) -> None:
    file = desk.folder / "accounts/parent-bug.md"
    before = file.read_text("utf-8")
    _show(wide, desk)
    wide.locator('[id="hairy-shieldbug:ground-colour"]').focus()
    for _ in range(2):
        wide.keyboard.press("Tab")
        wide.keyboard.press("Shift+Tab")
    here = wide.evaluate("document.activeElement.id")
    for _ in range(40):
        if here == "parent-bug:ground-colour":
            break
        wide.keyboard.press("ArrowDown")
        here = wide.evaluate("document.activeElement.id")
    assert here == "parent-bug:ground-colour"
    for key in ("1", "2", "3", "Shift+Digit5"):
        wide.keyboard.press(key)
    expect(wide.locator(CELL)).to_have_text("green, blue, rarely red", timeout=PATIENCE)
    wide.keyboard.press("ArrowRight")
    wide.keyboard.press("-")
    expect(wide.locator('[id="parent-bug:outline"]')).to_have_text("not applicable", timeout=PATIENCE)
    for _ in range(2):
        wide.keyboard.press("ArrowLeft")
    wide.keyboard.press("Enter")
    expect(wide.locator("#score-0-text")).to_be_focused(timeout=PATIENCE)
    wide.keyboard.press("Control+a")
    wide.keyboard.type("rather long")
    wide.keyboard.press("Enter")
    expect(wide.locator("#score-0-text-refusal")).to_contain_text("rather long", timeout=PATIENCE)
    wide.keyboard.press("Control+a")
    wide.keyboard.type("7–9 mm")
    wide.keyboard.press("Enter")
    expect(wide.locator('[id="parent-bug:body-length"]')).to_have_text("7–9 mm", timeout=PATIENCE)
    wide.keyboard.press("Escape")
    assert wide.evaluate("document.activeElement.id") == "parent-bug:body-length"
    assert sorted(changed_lines(before, file)) == [
        "+   body length: 7–9 mm", "+   ground colour: [green, blue, rarely red]", "+   outline: not applicable",
        "-   body length: 6–9 mm", "-   ground colour: brown", "-   outline: shield",
    ]  # fmt: skip
