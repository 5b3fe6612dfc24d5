"""A year painted in a browser: by drawing, and by keys alone."""

from __future__ import annotations

from pathlib import Path

from playwright.sync_api import Page, expect

from tests.browser.at_the_desk import PATIENCE
from tests.browser.held import FirstHeld
from tests.desk.opened import Opened


def _show(page: Page, desk: Opened) -> None:
    page.goto(f"{desk.origin}/-desk/seasons/parent-bug")
    page.wait_for_load_state("load")


def _line(folder: Path) -> str:
    text = (folder / "accounts/parent-bug.md").read_text("utf-8")
    return next(line.strip() for line in text.split("\n") if line.startswith("  egg:"))


def test_a_year_is_drawn_over_and_taken_back(desk: Opened, wide: Page) -> None:
    _show(wide, desk)
    first, last = (wide.locator(f'#stage-egg button[data-at="{at}"]') for at in (6, 10))
    first.scroll_into_view_if_needed()
    start, end = first.bounding_box(), last.bounding_box()
    assert start
    assert end
    wide.mouse.move(start["x"] + 5, start["y"] + 20)
    wide.mouse.down()
    wide.mouse.move(end["x"] + 5, end["y"] + 20, steps=3)
    wide.mouse.up()
    expect(wide.locator("#stage-egg output")).to_have_text("March – mid April and late May – June", timeout=PATIENCE)
    expect(wide.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    assert _line(desk.folder) == "egg: March – mid April and late May – June"
    wide.click("#undo")
    expect(wide.locator("#stage-egg output")).to_have_text("late May – June", timeout=PATIENCE)
    assert _line(desk.folder) == "egg: late May – June"


def test_a_year_is_painted_by_keys_alone(desk: Opened, wide: Page) -> None:
    _show(wide, desk)
    wide.locator('#stage-egg button[data-at="0"]').focus()
    for key in ("2", "Space", "Shift+ArrowRight", "End", "1", "Enter"):
        wide.keyboard.press(key)
    expect(wide.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    assert _line(desk.folder) == "egg: late May – June and late December – mid January; most seen in early to mid January"
    focused = wide.evaluate("document.activeElement.getAttribute('aria-label')")
    assert focused.startswith("late December: about")


def test_two_stages_painted_one_upon_the_other_are_both_written(desk: Opened, wide: Page) -> None:
    _show(wide, desk)
    first = FirstHeld(wide, "seasons/paint")
    for stage in ("egg", "nymph"):
        wide.locator(f'#stage-{stage} button[data-at="0"]').focus()
        wide.keyboard.press("Space")
    wide.wait_for_timeout(1500)  # both hands have rested, and the disk is slow with the first
    first.let_go()
    expect(wide.locator("[data-unsaved]")).to_have_count(0, timeout=PATIENCE)
    assert not wide.locator("#elsewhere").is_visible()
    text = (desk.folder / "accounts/parent-bug.md").read_text("utf-8")
    assert "early January" in _line(desk.folder)
    assert "early January" in next(line for line in text.split("\n") if line.startswith("  nymph:"))
