"""The guide without a network: kept whole or in parts, by touch and by keyboard; what is not kept is said; updates come by themselves."""

from __future__ import annotations

import asyncio
import json
import re
import shutil
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect
from starlette.requests import Request

from guidebuild.press.preview.board import Board
from guidebuild.press.preview.pages import PreviewPages
from tests.browser.built_site import serve

SIZE = re.compile(r"[\d.]+ (kB|MB)")
KEPT = "Kept for the field"
HELD = """caches.keys().then(async (names) => {
    const cache = await caches.open(names.find((name) => name.startsWith("guide-whole")));
    return (await cache.keys()).map((request) => request.url);
})"""


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    yield context
    context.close()


def open_field(context: BrowserContext, address: str) -> Page:
    page = context.new_page()
    page.goto(f"{address}field.html")
    expect(page.get_by_role("button", name="Keep what is ticked")).to_be_visible()
    return page


def keep_walk(page: Page) -> None:
    page.get_by_label("A June walk").check()
    page.get_by_role("button", name="Keep what is ticked").click()
    expect(page.locator(".keeping .kept")).to_contain_text(KEPT, timeout=30_000)


def shows_picture(page: Page) -> bool:
    return bool(page.locator("main picture img").first.evaluate("(i) => i.decode().then(() => i.naturalWidth > 0)"))


def test_guide_kept_whole_opens_without_a_network(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    page.goto(f"{address}index.html")
    button = page.get_by_role("button", name="Keep this guide for the field")
    expect(button).to_contain_text(SIZE)
    button.tap()
    expect(page.locator(".offline [role=status]")).to_contain_text(KEPT, timeout=30_000)
    phone.set_offline(True)
    page.goto(f"{address}accounts/birch-bug.html")
    expect(page.get_by_role("heading", level=1)).to_have_text("Birch Bug")
    assert shows_picture(page)
    page.goto(f"{address}es/key.html")
    expect(page.get_by_role("heading", level=1)).to_contain_text("Clave")


def test_a_walk_kept_by_touch_brings_its_tools_and_is_taken_off_again(phone: BrowserContext, address: str) -> None:
    page = open_field(phone, address)
    walk, everything = page.get_by_label("A June walk"), page.get_by_label("The whole guide")
    for box in (walk, everything):
        expect(box.locator("xpath=..")).to_contain_text(SIZE)  # before anything is fetched
    page.get_by_text("A June walk", exact=False).last.tap()
    button = page.get_by_role("button", name="Keep what is ticked")
    expect(button).to_contain_text(SIZE)
    button.tap()
    expect(page.locator(".keeping .kept")).to_contain_text(KEPT, timeout=30_000)
    have = page.locator(".have li:visible")
    expect(have).to_contain_text(["A June walk"])
    expect(have.first).to_contain_text(SIZE)
    phone.set_offline(True)
    page.goto(f"{address}walks/june.html")
    page.get_by_role("link", name="Parent Bug").first.tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Parent Bug")
    assert shows_picture(page)
    tools = ("finder", "key", "practice", "seasons/index", "seasons/06-2", "compare/birch-bug--parent-bug", "plants/silver-birch", "find")
    for path in tools:
        page.goto(f"{address}{path}.html")
        assert page.url == f"{address}{path}.html"
    page.goto(f"{address}finder.html")
    page.get_by_text("a dark spot on it").tap()
    expect(page.locator(".tray .many")).to_have_text("1")  # its script is there too
    phone.set_offline(False)
    page.goto(f"{address}field.html")
    expect(walk).to_be_checked()
    page.get_by_role("button", name="Take off").tap()
    expect(page.locator(".keeping .kept")).to_have_text("Nothing is kept.")
    expect(page.locator(".have")).not_to_be_visible()
    assert page.evaluate("caches.keys().then((names) => names.filter((name) => name.startsWith('guide-whole')))") == []


def test_what_is_not_kept_says_so_by_keyboard_and_opens_once_there_is_a_network(phone: BrowserContext, address: str) -> None:
    page = open_field(phone, address)
    keep_walk(page)
    phone.set_offline(True)
    page.goto(f"{address}sources.html")  # no part of the walk
    expect(page.get_by_role("heading", level=1)).to_have_text("Not kept on this device")
    expect(page.locator(".wanted")).to_contain_text("sources.html")
    assert page.locator("body").evaluate("(b) => getComputedStyle(b).fontFamily").startswith('"Guide Se')
    expect(page.locator(".have li:visible")).to_contain_text(["A June walk"])
    kept = page.get_by_role("link", name="A June walk")
    kept.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("A June walk")
    page.goto(f"{address}es/sources.html")
    expect(page.get_by_role("heading", level=1)).to_have_text("No guardado en este aparato")
    again = page.get_by_role("link", name="Probar de nuevo")
    again.focus()
    page.keyboard.press("Enter")
    expect(page.get_by_role("heading", level=1)).to_have_text("No guardado en este aparato")
    phone.set_offline(False)
    expect(page.locator(".back-online")).to_have_text("Vuelve a haber red.")
    page.keyboard.press("Enter")  # the way there has the focus
    expect(page.get_by_role("heading", level=1)).to_contain_text("Fuentes")


def test_nothing_kept_is_said_too(phone: BrowserContext, address: str) -> None:
    page = open_field(phone, address)
    phone.set_offline(True)
    page.goto(f"{address}glossary.html")
    expect(page.locator(".nothing-kept")).to_be_visible()
    page.goto(f"{address}field.html")  # read before
    expect(page.get_by_role("heading", level=1)).to_have_text("Keep for the field")


def test_an_update_takes_place_with_a_network_fetches_what_changed_and_is_said(phone: BrowserContext, site: Path, tmp_path: Path) -> None:
    copy = shutil.copytree(site, tmp_path / "site")
    server = serve(tmp_path)
    address = f"http://127.0.0.1:{server.server_port}/site/"
    try:
        page = open_field(phone, address)
        keep_walk(page)
        account, list_ = copy / "accounts/parent-bug.html", copy / "offline/parts/walks/june.json"
        account.write_text(account.read_text(encoding="utf-8").replace(">Parent Bug</", ">Parent Bug, anew</"), encoding="utf-8")
        lines = {path: [path, size, mark] for path, size, mark in json.loads(list_.read_bytes())}
        lines["accounts/parent-bug.html"][2] = "another"
        list_.write_text(json.dumps(list(lines.values())), encoding="utf-8")
        told = json.loads((copy / "offline/list.json").read_bytes())
        told["lists"]["parts/walks/june"] = told["version"] = "another"
        (copy / "offline/list.json").write_text(json.dumps(told), encoding="utf-8")
        page.goto(f"{address}index.html")
        expect(page.locator(".brought")).to_have_text("What you keep for the field has been brought up to date.")
        held = page.evaluate(HELD)
        assert [url for url in held if "accounts/parent-bug" in url] == [f"{address}accounts/parent-bug.html?another"]
        phone.set_offline(True)
        page.goto(f"{address}accounts/parent-bug.html")
        expect(page.get_by_role("heading", level=1)).to_contain_text("anew")
    finally:
        server.shutdown()
        server.server_close()


def answer_with(text: str, route: Route) -> None:
    route.fulfill(body=text, content_type="text/html")


def test_a_page_that_follows_edits_does_not_ask_to_be_kept(phone: BrowserContext, address: str, site: Path) -> None:
    follow = PreviewPages(lambda path: ((site / path).read_bytes(), ""), Board()).routes[-1].endpoint
    page = phone.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    for path in ("index.html", "field.html"):
        with ThreadPoolExecutor(1) as thread:  # this one's loop is the browser's
            shown = thread.submit(asyncio.run, follow(Request({"type": "http", "raw_path": f"/{path}".encode()}))).result().body.decode()
        assert "follow.js" in shown
        page.route(f"**/{path}", partial(answer_with, shown))
        page.goto(f"{address}{path}")
        page.wait_for_load_state("load")
        expect(page.locator(".look")).to_be_visible()  # the page's script has run to its end
    assert any(url.endswith("guide.js") for url in asked)
    assert [url for url in asked if "offline" in url or "webmanifest" in url] == []
