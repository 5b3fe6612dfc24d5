"""A species put into another week: by pointer, by keys, from the list, and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.at_the_desk import PATIENCE
from tests.browser.held import FirstHeld
from tests.browser.test_accessible import AXE, RULES
from tests.desk.opened import Opened, copy_sample, open_desk

WEEKS = 13


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Opened]:
    """A desk in December, with a species that is out in summer alone."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("SOURCE_DATE_EPOCH", "1796083200")  # 1 December 2026, a Tuesday
        folder = copy_sample(tmp_path_factory.mktemp("desk") / "hedge")
        file = folder / "accounts" / "forest-bug.md"
        file.write_text(file.read_text("utf-8").replace("  nymph: all year\n", "  nymph: May – August\n"), "utf-8")
        with open_desk(folder, entered=False) as desk:
            yield desk


def show(browser: Browser, opened: Opened, width: int, path: str = "calendar/") -> Page:
    page = browser.new_context(viewport={"width": width, "height": 900}, bypass_csp=True, has_touch=width < 1000).new_page()
    page.set_default_timeout(PATIENCE)
    page.goto(opened.address)
    page.goto(f"{opened.origin}/-desk/{path}")
    page.wait_for_load_state("load")
    return page


def week_of(page: Page, account: str) -> str:
    week = page.locator(f".week-slot:has(#post-{account})").get_attribute("data-week")
    assert week
    return week


def wait_until_in(page: Page, account: str, week: str) -> None:
    """Until the plan was made again with the species there; it has its mark only then."""
    expect(page.locator(f"#week-{week} #post-{account}[data-chosen]")).to_be_visible(timeout=PATIENCE)


def typed(folder: Path, account: str) -> list[str]:
    return [line for line in (folder / f"accounts/{account}.md").read_text("utf-8").splitlines() if line.startswith("to post:")]


def drag(page: Page, account: str, week: str, grip: str = "img") -> None:
    start = page.locator(f"#post-{account} {grip}").bounding_box()
    assert start
    page.mouse.move(start["x"] + 12, start["y"] + 12)
    page.mouse.down()
    page.mouse.move(start["x"] + 40, start["y"] + 30, steps=3)
    expect(page.locator(".post.ghost")).to_be_visible()
    end = page.locator(f"#week-{week} h3").bounding_box()
    assert end
    page.mouse.move(end["x"] + 30, end["y"] + 8, steps=4)
    expect(page.locator(f"#week-{week}.aimed")).to_be_visible()
    page.mouse.up()


def test_a_card_is_dragged_into_another_week_and_taken_back(browser: Browser, opened: Opened) -> None:
    page = show(browser, opened, 1280)
    first = page.locator(".week-slot .post").first.get_attribute("data-account") or ""
    before = week_of(page, first)
    weeks = [slot.get_attribute("data-week") or "" for slot in page.locator(".week-slot").all()]
    assert len(weeks) == WEEKS
    drag(page, first, weeks[2])
    wait_until_in(page, first, weeks[2])
    assert typed(opened.folder, first) == [f"to post: {weeks[2]}"]
    assert page.locator(".post.ghost").count() == 0
    page.click("#undo")
    expect(page.locator(f"#week-{before} #post-{first}:not([data-chosen])")).to_be_visible(timeout=PATIENCE)
    assert typed(opened.folder, first) == []

    # By its handle, and let go where it came from: nothing is written.
    drag(page, first, before, ".grip")
    expect(page.locator("#said")).to_have_text("It stays where it was.")
    assert not page.locator("#weeks").is_visible()

    # By keys alone; the focus stays with the card.
    page.locator(f"#grip-{first}").focus()
    for key in ("Enter", "ArrowRight", "End", "ArrowLeft"):
        page.keyboard.press(key)
    title = page.locator(f"#week-{weeks[-2]}").get_attribute("data-title") or ""
    expect(page.locator("#said")).to_contain_text(f"Week of {title}")
    page.keyboard.press("Escape")
    expect(page.locator("#said")).to_have_text("It stays where it was.")
    assert typed(opened.folder, first) == []
    for key in ("Space", "ArrowDown", "ArrowDown", "ArrowUp", "Space"):
        page.keyboard.press(key)
    wait_until_in(page, first, weeks[1])
    assert typed(opened.folder, first) == [f"to post: {weeks[1]}"]
    expect(page.locator(f"#grip-{first}")).to_be_focused()
    page.context.close()


def test_a_finger_carries_a_card_by_its_handle_and_a_tap_opens_the_list(browser: Browser, opened: Opened) -> None:
    page = show(browser, opened, 820)
    card = page.locator(".week-slot .post:not([data-chosen])").nth(1)
    account, week = card.get_attribute("data-account") or "", page.locator(".week-slot").nth(3).get_attribute("data-week") or ""
    page.locator(f"#week-{week}").scroll_into_view_if_needed()
    start, end = page.locator(f"#grip-{account}").bounding_box(), page.locator(f"#week-{week} h3").bounding_box()
    assert start
    assert end
    client = page.context.new_cdp_session(page)
    for part in range(5):
        at = {"x": start["x"] + 15 + (end["x"] - start["x"]) * part / 4, "y": start["y"] + 15 + (end["y"] - start["y"]) * part / 4}
        client.send("Input.dispatchTouchEvent", {"type": "touchMove" if part else "touchStart", "touchPoints": [at]})
    expect(page.locator(f"#week-{week}.aimed")).to_be_visible()
    client.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})
    wait_until_in(page, account, week)
    assert typed(opened.folder, account) == [f"to post: {week}"]
    assert not page.locator("#weeks").is_visible()
    page.click(f"#grip-{account}")
    expect(page.locator("#weeks")).to_be_visible()
    page.context.close()


def test_a_phone_has_the_list_of_weeks_and_is_told_what_is_not_out_then(browser: Browser, opened: Opened) -> None:
    page = show(browser, opened, 390)
    assert not page.locator(".grip").first.is_visible()
    page.select_option("#other-account", "forest-bug")
    page.click("#other button")
    rows = page.locator("#weeks li button")
    expect(rows).to_have_count(WEEKS)
    row = rows.nth(4)
    expect(row).to_contain_text("no stage is out then")
    if AXE.is_file():
        page.evaluate(AXE.read_text(encoding="utf-8"))
        result = page.evaluate("rules => axe.run({exclude: ['iframe']}, {runOnly: rules, iframes: false})", RULES)
        assert [(v["id"], [n["html"][:90] for n in v["nodes"]]) for v in result["violations"]] == []
    row.click()
    expect(page.locator("#said")).to_contain_text("No stage is out then.")
    card = page.locator("#post-forest-bug[data-chosen]")
    expect(card).to_contain_text("no stage is out then", timeout=PATIENCE)
    small = "all => all.filter(one => one.checkVisibility() && one.getBoundingClientRect().height < 44).map(one => one.outerHTML)"
    assert page.locator(".calendar button").evaluate_all(small) == []
    card.locator("[data-weeks]").click()
    page.click("#weeks [data-free]")
    expect(page.locator("#post-forest-bug")).to_have_count(0, timeout=PATIENCE)
    assert typed(opened.folder, "forest-bug") == []
    page.context.close()


def test_a_card_is_moved_on_before_its_first_move_is_written(browser: Browser, opened: Opened) -> None:
    page = show(browser, opened, 1280)
    account = page.locator(".week-slot .post").first.get_attribute("data-account") or ""
    weeks = [slot.get_attribute("data-week") or "" for slot in page.locator(".week-slot").all()]
    first = FirstHeld(page, "calendar/move")
    for week in weeks[2:4]:
        drag(page, account, week)
    first.let_go()
    wait_until_in(page, account, weeks[3])
    assert not page.locator("#elsewhere").is_visible()
    assert typed(opened.folder, account) == [f"to post: {weeks[3]}"]
    for _ in range(2):
        page.click("#undo")
        expect(page.locator("#said")).to_contain_text("Undone", timeout=PATIENCE)
    page.context.close()
