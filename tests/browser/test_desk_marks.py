"""New marks on the plate: each is written once, where it was placed, at any pace of hand, disk and network."""

from __future__ import annotations

import json
from typing import Any

import pytest
from playwright.sync_api import APIResponse, Page, Request, Route, expect

from guidebuild.session import read_for_draft
from tests.browser.at_the_desk import PATIENCE
from tests.browser.held import FirstHeld
from tests.desk.opened import Opened

OTHER = "accounts/dock-bug.md"
"""An account that the plate says nothing of."""


@pytest.fixture
def plate(desk: Opened, wide: Page) -> Page:
    """The plate of a photo on which the next mark is to be placed, and which counts how often it was renewed."""
    wide.goto(f"{desk.origin}/-desk/plate/parent-adult")
    wide.wait_for_load_state("load")
    wide.evaluate("window.renewals = 0; document.addEventListener('desk:renewed', () => { window.renewals += 1; })")
    wide.check('input[value="mark-new"]')
    return wide


def _press(page: Page, across: float, down: float) -> None:
    box = page.locator("#stage").bounding_box()
    assert box
    page.mouse.click(box["x"] + box["width"] * across, box["y"] + box["height"] * down)


def _say(page: Page, mark: str) -> None:
    page.fill("#new-mark", mark)
    page.press("#new-mark", "Enter")


def _change_elsewhere(desk: Opened, page: Page, file: str, old: str, new: str) -> None:
    """By hand, in an editor; until the page has followed."""
    before = int(page.evaluate("window.renewals"))
    path = desk.folder / file
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")
    page.wait_for_function("before => window.renewals > before", arg=before, timeout=PATIENCE)


def _marks(desk: Opened) -> list[tuple[str, tuple[float, float] | None]]:
    return [(mark.mark.words, mark.point) for mark in read_for_draft(desk.folder).accounts["parent-bug"].diagnostics]


def _listen(page: Page) -> list[dict[str, Any]]:
    """The changes that the page has sent, as they come."""
    sent: list[dict[str, Any]] = []

    def note(request: Request) -> None:
        if request.method == "POST" and request.url.endswith("/-desk/edit"):
            sent.append(json.loads(request.post_data or "{}"))

    page.on("request", note)
    return sent


def test_a_hand_that_is_quicker_than_the_disk_writes_each_mark_where_it_was_placed(desk: Opened, plate: Page) -> None:
    known, first = len(_marks(desk)), FirstHeld(plate, "edit")
    _press(plate, 0.2, 0.8)
    _say(plate, "a pale edge")
    _press(plate, 0.6, 0.3)
    plate.wait_for_timeout(200)
    assert first.sent == 1
    first.let_go()
    expect(plate.locator("#new-mark")).to_have_value("", timeout=PATIENCE)
    _say(plate, "a dark tip")
    expect(plate.locator(".marks li")).to_have_count(known + 2, timeout=PATIENCE)
    assert _marks(desk)[known:] == [("a pale edge", (20, 80)), ("a dark tip", (60, 30))]
    assert first.sent == 2


def test_what_was_typed_in_the_file_and_is_on_show_is_no_conflict(desk: Opened, plate: Page) -> None:
    known = len(_marks(desk))
    _change_elsewhere(desk, plate, "accounts/parent-bug.md", "at: 50.2, 50.4", "at: 33, 44")
    expect(plate.locator(".marks .figure").first).to_have_text("33.0, 44.0", timeout=PATIENCE)
    _press(plate, 0.2, 0.8)
    _say(plate, "a pale edge")
    expect(plate.locator(".marks li")).to_have_count(known + 1, timeout=PATIENCE)
    assert _marks(desk)[0][1] == (33, 44)


def test_a_page_that_comes_after_a_later_one_changes_nothing(desk: Opened, plate: Page) -> None:
    held: list[tuple[Route, APIResponse]] = []
    sent, known = _listen(plate), len(_marks(desk))

    def hold_first(route: Route) -> None:
        if held or route.request.resource_type != "fetch":
            route.continue_()
        else:
            held.append((route, route.fetch()))

    plate.route("**/-desk/plate/parent-adult", hold_first)
    path = desk.folder / OTHER
    path.write_text(path.read_text("utf-8") + "\n", "utf-8")
    for _ in range(800):
        if held:
            break
        plate.wait_for_timeout(50)
    _change_elsewhere(desk, plate, "accounts/parent-bug.md", "at: 50.2, 50.4", "at: 33, 44")
    expect(plate.locator(".marks .figure").first).to_have_text("33.0, 44.0", timeout=PATIENCE)
    route, late = held[0]
    route.fulfill(response=late)
    plate.wait_for_timeout(300)
    assert plate.locator(".marks .figure").first.text_content() == "33.0, 44.0"
    _press(plate, 0.2, 0.8)
    _say(plate, "a pale edge")
    expect(plate.locator(".marks li")).to_have_count(known + 1, timeout=PATIENCE)
    assert not plate.locator("#elsewhere").is_visible()
    assert len(sent) == 1
