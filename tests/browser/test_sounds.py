"""A sound in a browser: it plays, the head moves over its picture, and it can be slowed down; by touch and by keyboard, also from disk."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

AT = "document.querySelector('.sound audio').currentTime"


@pytest.fixture(params=["disk", "network"])
def root(request: pytest.FixtureRequest, site: Path, address: str) -> str:
    return f"{site.as_uri()}/" if request.param == "disk" else address


def test_a_sound_plays_and_the_head_moves(page: Page, root: str) -> None:
    trouble: list[str] = []
    page.on("console", lambda message: trouble.append(message.text))
    page.on("pageerror", lambda error: trouble.append(str(error)))
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{root}accounts/parent-bug.html")
    page.wait_for_load_state("networkidle")
    assert not [url for url in asked if url.endswith(".flac")]  # nothing is fetched before it is played
    drawn, head = page.locator(".gram .drawn"), page.locator(".gram .head")
    drawn.scroll_into_view_if_needed()
    expect(head).to_be_hidden()
    box = drawn.bounding_box()
    assert box is not None
    drawn.click(position={"x": box["width"] / 2, "y": box["height"] / 2})
    page.wait_for_function(f"() => {AT} > 2.05 && {AT} < 3.9")  # of four seconds
    expect(head).to_be_visible()
    page.evaluate("document.querySelector('.sound audio').pause()")
    page.wait_for_timeout(100)
    across = head.bounding_box()
    assert across is not None
    assert (across["x"] - box["x"]) / box["width"] == pytest.approx(page.evaluate(AT) / 4, abs=0.01)
    assert trouble == []


def test_keys_play_it_and_slow_it_down(page: Page, root: str) -> None:
    page.goto(f"{root}accounts/parent-bug.html")
    page.locator(".sound audio").focus()
    page.keyboard.press("Space")
    page.wait_for_function(f"() => {AT} > 0.05")
    page.locator(".speeds button").nth(1).focus()
    page.keyboard.press("Enter")
    state = page.evaluate("(({ playbackRate, preservesPitch }) => [playbackRate, preservesPitch])(document.querySelector('.sound audio'))")
    assert state == [2, False]
    expect(page.locator(".speeds button").nth(1)).to_have_attribute("aria-pressed", "true")
    expect(page.locator(".speeds button").first).to_have_attribute("aria-pressed", "false")
