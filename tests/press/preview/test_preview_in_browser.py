"""The preview as an author sees it: the page changes under a strict policy, stays where it was, and lists the findings."""

import threading
from pathlib import Path
from queue import Queue

import pytest
from playwright.sync_api import Browser, expect

from guidebuild.press.preview.board import Note
from guidebuild.press.preview.follow import Options, preview
from tests.press.preview.shown import Written

pytestmark = pytest.mark.browser
POLICY = "default-src 'none'; script-src 'self'; style-src 'self'; connect-src 'self'"


def page(text: str) -> str:
    lines = "".join(f'<p id="line-{number}">{text} {number}</p>' for number in range(200))
    meta = f'<meta charset="utf-8"><meta http-equiv="Content-Security-Policy" content="{POLICY}">'
    return f'<!DOCTYPE html><html lang="en"><head>{meta}<title>Toad</title></head><body>{lines}</body></html>'


def test_an_edit_shows_in_the_open_page_at_the_same_place_with_its_findings(browser: Browser, tmp_path: Path) -> None:
    folder = tmp_path / "guide"
    folder.mkdir()
    written = Written({f"accounts/{name}.html": page("before").encode() for name in ("toad", "newt")})

    def write(changed: frozenset[Path]) -> None:
        if changed:
            written.files["accounts/toad.html"] = page("after").encode()
            written.notes = Note("error", "accounts/toad.md:7", "<b>6–9</b> is no size"), Note("warning", "guide.yaml:2", "x")

    written.on_change = write
    stop, address = threading.Event(), Queue[str]()
    options = {"announce": address.put, "options": Options(port=0, stop=stop)}
    thread = threading.Thread(target=preview, args=(folder, written), kwargs=options)
    thread.start()
    try:
        url = address.get(timeout=20)
        refused: list[str] = []
        toad, newt = browser.new_page(), browser.new_page()
        toad.on("console", lambda message: refused.append(message.text))
        toad.goto(f"{url}accounts/toad.html")
        newt.goto(f"{url}accounts/newt.html")
        newt.evaluate("window.untouched = true")
        toad.locator("#line-150").scroll_into_view_if_needed()
        place = toad.evaluate("scrollY")
        assert place > 1000
        (folder / "toad.md").write_text("size: 6–9")
        expect(toad.locator("#line-150")).to_have_text("after 150", timeout=20_000)
        toad.wait_for_function(f"scrollY === {place}")
        expect(toad.locator("#guidebuild-notes summary")).to_have_text("Here: 1 error · elsewhere: 1 warning", timeout=20_000)
        assert not toad.locator("#guidebuild-notes li").first.is_visible()
        toad.locator("#guidebuild-notes summary").click()
        expect(toad.locator("#guidebuild-notes li").first).to_have_text("accounts/toad.md:7 <b>6–9</b> is no size")
        # A page that has not changed is told of the finding and is not loaded again.
        expect(newt.locator("#guidebuild-notes summary")).to_have_text("1 error, 1 warning", timeout=20_000)
        assert newt.evaluate("window.untouched")
        assert refused == []
        toad.close()
        newt.close()
    finally:
        stop.set()
        thread.join(20)
