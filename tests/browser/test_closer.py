"""A plate looked into, by touch and by keyboard: nearer, on, bare, beside its look-alike, and out again the way one came in."""

from __future__ import annotations

import gzip
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect

from tests.browser.remembered import wait_until_remembered
from tests.browser.test_accessible import AXE, RULES

# What the built site says of its photos: 8 mm on 0.8 of the height, and 10 mm on 0.6 of it; all are 1280 by 960.
PARENT_ACROSS = 8 / (0.8 * 960 / 1280)
BIRCH_ACROSS = 10 / (0.6 * 960 / 1280)
CAPTION = ".near .told-of"
INSIDE = "document.activeElement === document.body || document.querySelector('dialog.near').contains(document.activeElement)"
"""Where focus may be: past the last button a browser goes to its own bar, which counts as the body."""


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, bypass_csp=True, reduced_motion="reduce")
    yield context
    context.close()


def open_plate(context: BrowserContext, address: str) -> Page:
    page = context.new_page()
    page.goto(f"{address}accounts/parent-bug.html")
    page.locator(".shown .enlarge").tap()
    expect(page.locator("dialog.near")).to_be_visible()
    return page


def width_of(page: Page, choice: str) -> float:
    box = page.locator(choice).bounding_box()
    assert box is not None
    return box["width"]


def zoom_of(page: Page) -> float:
    return width_of(page, ".near .sheet")


def bar_error(page: Page) -> float:
    """How far off the bar is, as a share of what it says, against the picture as it stands on the screen."""
    said = page.locator(".true-length span").inner_text()
    length = float(said.split()[0]) * (10 if "cm" in said else 1)
    return abs(width_of(page, ".true-length i") / length / (width_of(page, ".mine > img") / PARENT_ACROSS) - 1)


def touch(page: Page, *steps: list[tuple[float, float]]) -> None:
    """Fingers put down, moved and taken off."""
    tools = page.context.new_cdp_session(page)
    for number, fingers in enumerate(steps):
        points = [{"x": x, "y": y, "id": n} for n, (x, y) in enumerate(fingers)]
        tools.send("Input.dispatchTouchEvent", {"type": "touchMove" if number else "touchStart", "touchPoints": points})
    tools.send("Input.dispatchTouchEvent", {"type": "touchEnd", "touchPoints": []})


def test_only_numbers_are_links_and_the_way_back_closes_it(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    page.goto(f"{address}accounts/parent-bug.html")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.locator("#point-2 .hit").tap()
    assert page.url.endswith("#mark-2")
    assert not [url for url in asked if "closer" in url]
    frame = page.locator(".shown .frame").bounding_box()
    assert frame is not None
    page.locator(".shown .frame").tap(position={"x": 6, "y": frame["height"] - 6})  # the tone, where there is no number
    near = page.locator("dialog.near")
    expect(near).to_be_visible()
    assert len([url for url in asked if "closer" in url]) == 2
    page.go_back()
    expect(near).not_to_be_visible()
    assert page.url.endswith("parent-bug.html#mark-2")
    expect(page.locator(".shown .enlarge")).to_be_focused()


def test_scale_bar_is_true_at_every_zoom(phone: BrowserContext, address: str) -> None:
    page = open_plate(phone, address)
    said = {page.locator(".true-length").inner_text()}
    assert bar_error(page) < 0.005
    for _ in range(3):
        before = zoom_of(page)
        page.get_by_role("button", name="Larger").tap()
        assert zoom_of(page) > before * 1.4
        assert bar_error(page) < 0.005
        said.add(page.locator(".true-length").inner_text())
    assert len(said) > 1


def test_fingers_bring_nearer_move_and_turn(phone: BrowserContext, address: str) -> None:
    page = open_plate(phone, address)
    fitted = zoom_of(page)
    touch(page, [(150, 300), (240, 300)], [(120, 300), (270, 300)], [(60, 300), (330, 300)])
    assert zoom_of(page) == pytest.approx(fitted * 3, rel=0.05)
    left = page.locator(".near .sheet").bounding_box()
    touch(page, [(200, 300)], [(230, 320)], [(260, 340)])
    moved = page.locator(".near .sheet").bounding_box()
    assert left is not None and moved is not None
    assert (moved["x"] - left["x"]) == pytest.approx(60, abs=2)
    for _ in range(2):
        page.touchscreen.tap(200, 300)
    assert zoom_of(page) == pytest.approx(fitted)
    for _ in range(2):
        page.touchscreen.tap(200, 300)
    assert zoom_of(page) == pytest.approx(fitted * 2.5)
    page.keyboard.press("0")
    touch(page, [(300, 300)], [(200, 305)], [(120, 305)])
    expect(page.locator(CAPTION)).to_contain_text("(2 / 2)")
    assert "nymph" in (page.locator(".mine > img").get_attribute("alt") or "")
    touch(page, [(120, 300)], [(200, 305)], [(300, 305)])
    expect(page.locator(CAPTION)).to_contain_text("(1 / 2)")
    page.mouse.move(200, 300)
    page.mouse.wheel(0, -300)
    page.wait_for_function("(fitted) => document.querySelector('.near .sheet').offsetWidth > fitted * 1.5", arg=fitted)


def test_keyboard_does_all_of_it_and_focus_goes_back(page: Page, site: Path) -> None:
    """From disk, where there is no server."""
    page.goto((site / "accounts/parent-bug.html").as_uri())
    link, near = page.locator(".shown .enlarge"), page.locator("dialog.near")
    link.focus()
    page.keyboard.press("Enter")
    expect(near).to_be_visible()
    fitted = zoom_of(page)
    page.keyboard.press("+")
    assert zoom_of(page) == pytest.approx(fitted * 1.6)
    place = page.locator(".near .sheet").bounding_box()
    page.keyboard.press("ArrowRight")
    moved = page.locator(".near .sheet").bounding_box()
    assert place is not None and moved is not None and moved["x"] < place["x"]
    page.keyboard.press("0")
    page.keyboard.press("ArrowRight")
    expect(page.locator(CAPTION)).to_contain_text("(2 / 2)")
    page.keyboard.press("ArrowLeft")
    for _ in range(12):
        page.keyboard.press("Tab")
        assert page.evaluate(INSIDE)
    page.locator(".near .point").first.focus()
    page.keyboard.press("Enter")
    expect(page.locator(CAPTION)).to_have_text("1: dark spot on the scutellum")
    pointers = page.get_by_role("button", name="Pointers")
    expect(pointers).to_have_attribute("aria-pressed", "true")
    pointers.press("Enter")
    expect(page.locator(".near .pointers")).not_to_be_visible()
    expect(pointers).to_have_attribute("aria-pressed", "false")
    page.keyboard.press("Escape")
    expect(near).not_to_be_visible()
    expect(link).to_be_focused()
    assert page.evaluate("history.state") is None


def test_look_alike_lies_beside_it_at_one_scale(phone: BrowserContext, address: str) -> None:
    page = open_plate(phone, address)
    page.locator(".near select").select_option(label="Birch Bug")
    assert width_of(page, ".theirs img") / width_of(page, ".mine > img") == pytest.approx(BIRCH_ACROSS / PARENT_ACROSS, rel=0.005)
    expect(page.locator(CAPTION)).to_contain_text("Bo Example")
    middle = [page.locator(choice).bounding_box() for choice in (".mine > img", ".theirs img")]
    own, other = ((box["x"] + box["width"] / 2, box["y"] + box["height"] / 2) for box in middle if box)
    assert own == pytest.approx(other, abs=1), "the middles of both bodies lie on each other"
    slider = page.get_by_label("How much of each is seen")
    assert (page.locator(".divide").bounding_box() or {})["x"] == pytest.approx(195, abs=3)
    slider.fill("20")
    assert (page.locator(".divide").bounding_box() or {})["x"] == pytest.approx(78, abs=3)
    page.get_by_role("button", name="Next").tap()
    expect(page.locator(".near .unscaled")).to_contain_text("Not at one scale")
    page.locator(".near select").select_option(index=0)
    expect(slider).not_to_be_visible()


def test_it_opens_without_a_network_once_a_page_was_read(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    page.goto(f"{address}accounts/parent-bug.html")
    page.evaluate("navigator.serviceWorker.ready")
    page.reload()
    page.wait_for_function("navigator.serviceWorker.controller")
    wait_until_remembered(page)
    phone.set_offline(True)
    page.locator(".shown .enlarge").tap()
    expect(page.locator("dialog.near")).to_be_visible()
    assert page.locator(".mine > img").evaluate("(i) => i.decode().then(() => i.naturalWidth > 0)")


def test_without_scripts_the_picture_leads_to_the_large_file(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / "accounts/parent-bug.html").as_uri())
    page.locator(".shown .enlarge").click()
    assert re.search(r"parent-adult-1280\.(webp|jpg)$", page.url)
    context.close()


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
def test_axe_finds_no_violation_in_it_in_any_look(phone: BrowserContext, address: str) -> None:
    page = open_plate(phone, address)
    page.locator(".near select").select_option(label="Birch Bug")
    page.evaluate(AXE.read_text(encoding="utf-8"))
    found = []
    for scheme in ("light", "dark"):
        page.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
        told = page.evaluate(
            "(values) => axe.run(document.querySelector('dialog.near'), {preload: false, runOnly: {type: 'tag', values}})", RULES
        )
        found += [(scheme, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    assert found == []


def test_it_is_small_and_no_page_carries_it(site: Path) -> None:
    def pack(path: str) -> int:
        return len(gzip.compress((site / path).read_bytes(), 9))

    assert pack("assets/closer.js") <= 7_000
    assert pack("assets/closer.css") <= 2_000
    assert "closer" not in (site / "accounts/parent-bug.html").read_text(encoding="utf-8")
