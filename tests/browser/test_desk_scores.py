"""Cells of the table scored in a browser: by mouse, and by keys alone."""

from __future__ import annotations

import difflib
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_accessible import AXE, RULES
from tests.browser.test_desk_plate import PATIENCE, desk, wide
from tests.desk.opened import Opened

__all__ = ["desk", "wide"]
CELL = '[id="parent-bug:ground-colour"]'


def _show(page: Page, desk: Opened, path: str = "scores/") -> None:
    page.goto(f"{desk.origin}/-desk/{path}")
    page.wait_for_load_state("load")


def _changed(before: str, file: Path) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), file.read_text("utf-8").splitlines()) if line[:2] in ("- ", "+ ")]


def test_a_cell_is_scored_by_mouse_and_taken_back(desk: Opened, wide: Page) -> None:
    file = desk.folder / "accounts/parent-bug.md"
    before = file.read_text("utf-8")
    _show(wide, desk)
    wide.click(CELL)
    wide.check("#score-0-0")
    wide.check("#score-0-4-rarely")
    expect(wide.locator(CELL)).to_have_text("green, brown, rarely red", timeout=PATIENCE)
    assert _changed(before, file) == ["-   ground colour: brown", "+   ground colour: [green, brown, rarely red]"]
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
    assert _changed(before, file)[-2:] == ["+     - value: green", "+       sex: female"]


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
    assert sorted(_changed(before, file)) == [
        "+   body length: 7–9 mm", "+   ground colour: [green, blue, rarely red]", "+   outline: not applicable",
        "-   body length: 6–9 mm", "-   ground colour: brown", "-   outline: shield",
    ]  # fmt: skip


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1280, "light")])
@pytest.mark.parametrize("path", ["scores/", "scores/parent-bug", "scores/by/outline"])
def test_axe_finds_nothing_and_nothing_is_cut_off(browser: Browser, desk: Opened, width: int, scheme: str, path: str) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 844},
        color_scheme=scheme,  # type: ignore[arg-type]
        bypass_csp=True,
    )
    page = context.new_page()
    page.goto(desk.address)
    page.goto(f"{desk.origin}/-desk/{path}")
    cell = page.locator('[id="parent-bug:outline"]')
    if cell.is_visible():
        cell.click()
        expect(page.locator("#score-0-1")).to_be_checked(timeout=PATIENCE)
    page.evaluate(AXE.read_text(encoding="utf-8"))
    result = page.evaluate("rules => axe.run({runOnly: rules, iframes: false})", RULES)
    assert [(v["id"], [n["html"][:90] for n in v["nodes"]]) for v in result["violations"]] == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
