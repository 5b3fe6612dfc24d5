"""A film in a browser: captions show, chapters and marks jump, from disk and over a network."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

NOW = """() => {
  const video = document.querySelector("video");
  return {
    at: video.currentTime,
    tracks: Object.fromEntries([...video.textTracks].map((track) => [track.kind, track.mode])),
    said: [...video.textTracks].filter((track) => track.kind === "captions")
      .flatMap((track) => [...(track.activeCues || [])].map((cue) => cue.text)),
  };
}"""


@pytest.fixture(params=["disk", "network"])
def root(request: pytest.FixtureRequest, site: Path, address: str) -> str:
    return f"{site.as_uri()}/" if request.param == "disk" else address


def wait_until(page: Page, second: float) -> None:
    page.wait_for_function(
        f"() => Math.abs(document.querySelector('video').currentTime - {second}) < 3 && !document.querySelector('video').seeking"
    )


def test_chapters_jump_and_what_is_said_there_shows(page: Page, root: str) -> None:
    trouble: list[str] = []
    page.on("console", lambda message: trouble.append(message.text))
    page.on("pageerror", lambda error: trouble.append(str(error)))
    page.goto(f"{root}accounts/parent-bug.html")
    chapters = page.locator(".chapters a")
    chapters.nth(1).click()
    wait_until(page, 18)
    page.wait_for_function(f"() => ({NOW})().said.join().replace('\\n', ' ') === 'A dark spot on the scutellum.'")
    assert page.evaluate(NOW)["tracks"]["captions"] == "showing"
    expect(chapters.nth(1)).to_have_attribute("aria-current", "true")
    expect(page.locator(".transcript .now")).to_have_text("A dark spot on the scutellum.")
    chapters.nth(2).focus()
    page.keyboard.press("Enter")
    wait_until(page, 32)
    expect(chapters.nth(2)).to_have_attribute("aria-current", "true")
    expect(chapters.nth(1)).not_to_have_attribute("aria-current", "true")
    page.locator(".times:not(.chapters) a").first.click()
    wait_until(page, 17)
    assert trouble == []


def test_an_address_may_name_a_moment(page: Page, root: str) -> None:
    page.goto(f"{root}films/parent-film.html#t=18")
    wait_until(page, 18)
    assert page.evaluate("document.querySelector('video').paused")


def test_nothing_of_a_film_is_fetched_before_it_is_played(page: Page, address: str) -> None:
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto(f"{address}accounts/parent-bug.html")
    page.wait_for_load_state("networkidle")
    assert not [url for url in asked if url.endswith(".webm")]
