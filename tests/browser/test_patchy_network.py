"""The guide where the network comes and goes: what was read before stands in for what does not arrive, and nothing is kept in part."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from playwright.sync_api import Error as BrowserError

from tests.browser.patchy import BUSY, CUT, HALTING, PART, SILENT, UNSAID, Patchy, serve_patchily
from tests.browser.remembered import wait_until_remembered
from tests.browser.test_offline import HELD, KEPT

ACCOUNT = "accounts/parent-bug.html"
PICTURE = "photos/parent-adult-360.webp"
FILM = "films/parent-film.webm"
LONG = 30_000
"""Milliseconds that a test waits for what stands in; the worker waits a few seconds of them."""
READ = """async (path) => {
    const kept = await caches.match(new URL(path, location.origin).href);
    return kept ? (await kept.text()).length : null;
}"""
FETCH = """async ([path, headers]) => {
    try { const came = await fetch('/' + path, {headers}); return [came.status, (await came.arrayBuffer()).byteLength]; }
    catch { return null; }
}"""


@pytest.fixture
def patchy(site: Path, tmp_path: Path) -> Iterator[Patchy]:
    shutil.copytree(site, tmp_path / "site")
    with serve_patchily(tmp_path / "site") as served:
        yield served


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    context.set_default_timeout(LONG)
    yield context
    context.close()


def read_once(phone: BrowserContext, patchy: Patchy, path: str = ACCOUNT) -> Page:
    """A page that was read while all was well."""
    page = phone.new_page()
    page.goto(patchy.address + path)
    page.evaluate("navigator.serviceWorker.ready")
    page.reload()
    page.wait_for_function("navigator.serviceWorker.controller")
    wait_until_remembered(page)
    return page


def change(tmp_path: Path, path: str, was: str, now: str) -> None:
    file = tmp_path / "site" / path
    text = file.read_text(encoding="utf-8")
    assert was in text
    file.write_text(text.replace(was, now), encoding="utf-8")


@pytest.mark.parametrize("fault", [CUT, UNSAID, SILENT, HALTING, BUSY])
def test_page_that_was_read_stands_in_and_gives_way_to_the_new_one(
    phone: BrowserContext, patchy: Patchy, tmp_path: Path, fault: str
) -> None:
    page = read_once(phone, patchy)
    change(tmp_path, ACCOUNT, ">Parent Bug</", ">Parent Bug, anew</")
    patchy.faults[ACCOUNT] = fault
    page.goto(patchy.address + ACCOUNT)
    assert patchy.asked == 1
    expect(page.get_by_role("heading", level=1)).to_have_text("Parent Bug")
    expect(page.locator("footer").first).to_be_attached()  # to its end
    phone.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text("Parent Bug")
    phone.set_offline(False)
    patchy.mend()
    for _ in range(5):  # after a long silence the network gets little time: what comes later is for the next time
        page.reload()
        if "anew" in page.get_by_role("heading", level=1).inner_text():
            break
    expect(page.get_by_role("heading", level=1)).to_have_text("Parent Bug, anew")
    wait_until_remembered(page)
    phone.set_offline(True)
    page.reload()
    expect(page.get_by_role("heading", level=1)).to_have_text("Parent Bug, anew")


@pytest.mark.parametrize("fault", [CUT, SILENT, HALTING])
def test_style_and_picture_that_were_read_stand_in(phone: BrowserContext, patchy: Patchy, fault: str) -> None:
    page = read_once(phone, patchy)
    patchy.faults |= dict.fromkeys(("assets/first.css", PICTURE), fault)
    page.reload()
    assert patchy.asked >= 1
    assert page.locator("body").evaluate("(b) => getComputedStyle(b).fontFamily").startswith('"Guide Se')
    whole = (page.evaluate(FETCH, [PICTURE, {}]) or [0, 0])[1]
    patchy.mend()
    assert whole == page.evaluate(FETCH, [PICTURE, {}])[1] > 0


@pytest.mark.parametrize("fault", [CUT, UNSAID])
def test_half_a_page_is_never_kept(phone: BrowserContext, patchy: Patchy, fault: str) -> None:
    page = read_once(phone, patchy)
    other = "accounts/birch-bug.html"
    patchy.faults[other] = fault
    with suppress(BrowserError):  # a browser may well refuse it
        page.goto(patchy.address + other)
    assert patchy.asked
    page.goto(patchy.address + ACCOUNT)
    assert page.evaluate(READ, other) is None
    phone.set_offline(True)
    page.goto(patchy.address + other)
    expect(page.get_by_role("heading", level=1)).to_have_text("Not kept on this device")


def test_parts_of_a_film_are_handed_on_and_not_kept(phone: BrowserContext, patchy: Patchy) -> None:
    page = read_once(phone, patchy)
    patchy.faults[FILM] = PART
    for headers in ({"Range": "bytes=0-"}, {}):
        status, size = page.evaluate(FETCH, [FILM, headers])
        assert (status, size > 0) == (206, True)
        page.evaluate("new Promise((done) => setTimeout(done, 300))")
        assert page.evaluate(READ, FILM) is None


@pytest.mark.parametrize("fault", [CUT, UNSAID])
def test_what_is_chosen_is_kept_only_when_all_of_it_arrived(phone: BrowserContext, patchy: Patchy, fault: str) -> None:
    page = phone.new_page()
    page.goto(f"{patchy.address}field.html")
    page.get_by_label("A June walk").check()
    patchy.faults |= dict.fromkeys((ACCOUNT, PICTURE, "assets/finder.js", "offline/parts/walks/june.json"), fault)
    keep = page.get_by_role("button", name="Keep what is ticked")
    for mended in ("offline/parts/walks/june.json", ACCOUNT, PICTURE, "assets/finder.js"):
        before = patchy.asked
        page.evaluate("document.querySelector('.keeping .kept').textContent = ''")
        keep.tap()
        expect(page.locator(".keeping .kept")).to_contain_text("The network gave out.")
        assert patchy.asked > before
        held = page.evaluate(HELD) if page.evaluate("caches.keys().then((n) => n.some((one) => one.startsWith('guide-whole')))") else []
        assert not [url for url in held for faulty in patchy.faults if f"/{faulty}?" in url]
        del patchy.faults[mended]
    keep.tap()
    expect(page.locator(".keeping .kept")).to_contain_text(KEPT)


@pytest.mark.parametrize("fault", [CUT, UNSAID, BUSY])
@pytest.mark.parametrize("by", ["touch", "keyboard"])
def test_a_tally_asks_again_for_the_other_species_when_one_turns_to_them(browser: Browser, patchy: Patchy, fault: str, by: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, service_workers="block")
    page = context.new_page()
    patchy.faults["seen-species.js"] = fault
    page.goto(f"{patchy.address}tallies/june.html", wait_until="networkidle")
    select = page.get_by_label("Another species").first
    expect(select.locator("option")).to_have_count(1)
    assert patchy.asked
    with page.expect_response("**/seen-species.js"):
        select.focus()  # still without luck
    expect(select.locator("option")).to_have_count(1)
    select.blur()
    patchy.mend()
    select.tap() if by == "touch" else select.focus()
    expect(select.locator("option[value=parent-bug]")).to_have_count(1)
    select.select_option("parent-bug")
    expect(page.locator(".stop").first.locator("li", has_text="Parent Bug").get_by_role("button", name="One more")).to_be_focused()
    context.close()
