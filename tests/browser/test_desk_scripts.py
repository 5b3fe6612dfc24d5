"""A script under a hand: its time follows what is typed, it is written when its author says so, and a draft becomes one's own."""

from __future__ import annotations

import difflib
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser.test_accessible import AXE, RULES
from tests.desk.opened import Opened, open_desk

SAMPLE = Path(__file__).resolve().parents[2] / "sample_guide"
PATIENCE = 20_000


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Opened]:
    folder = tmp_path / "hedge"
    shutil.copytree(SAMPLE, folder, ignore=shutil.ignore_patterns("published", ".guidebuild", "drawing"))
    with open_desk(folder, entered=False) as opened:
        yield opened


@pytest.fixture
def page(browser: Browser, desk: Opened) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 1280, "height": 900})
    page = context.new_page()
    page.goto(desk.address)
    page.goto(f"{desk.origin}/-desk/scripts/parent-bug/full")
    page.wait_for_load_state("load")
    yield page
    context.close()


def _changed(before: str, file: Path) -> list[str]:
    return [line for line in difflib.ndiff(before.splitlines(), file.read_text("utf-8").splitlines()) if line[:2] in ("- ", "+ ")]


def test_time_follows_what_is_typed_by_keys_and_only_the_line_is_written(desk: Opened, page: Page) -> None:
    file = desk.folder / "episodes/parent-bug-full.md"
    before = file.read_text("utf-8")
    total = page.locator("#times .total").inner_text()
    page.locator("#section-1").focus()
    page.keyboard.press("Control+End")
    page.keyboard.type("\nOne more sentence, which takes a few seconds to say aloud.")
    expect(page.locator("#times .total")).not_to_have_text(total, timeout=PATIENCE)
    expect(page.locator(".script-section").first.locator(".spoken")).to_contain_text("One more sentence")
    assert file.read_text("utf-8") == before
    page.keyboard.press("Control+s")
    expect(page.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    assert _changed(before, file) == ["+ One more sentence, which takes a few seconds to say aloud."]
    expect(page.locator("#write")).to_be_disabled()
    page.keyboard.type("\n## A section")
    expect(page.locator("#section-1-refusal")).to_contain_text("##", timeout=PATIENCE)


def test_a_picture_is_put_where_the_hand_is_by_mouse(desk: Opened, page: Page) -> None:
    file = desk.folder / "episodes/parent-bug-full.md"
    before = file.read_text("utf-8")
    page.locator("#section-5").click()
    page.evaluate("document.getElementById('section-5').setSelectionRange(0, 0)")
    page.click("#show-picture")
    page.click('[data-photo="parent-adult"]')
    expect(page.locator(".script-section").last.locator(".seen-line").first).to_be_visible(timeout=PATIENCE)
    page.click("#write")
    expect(page.locator("#said")).to_have_text("Written.", timeout=PATIENCE)
    removed, added = _changed(before, file)
    assert added == removed.replace("- ", "+ [show parent-adult] ", 1)


def test_a_draft_is_made_ones_own(desk: Opened, page: Page) -> None:
    page.goto(f"{desk.origin}/-desk/scripts/hairy-shieldbug/short")
    expect(page.locator("textarea")).to_have_count(0)
    page.click("#make-own")
    expect(page.locator("#section-1")).to_be_visible(timeout=PATIENCE)
    assert (desk.folder / "episodes/hairy-shieldbug-short.md").is_file()


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(("width", "scheme"), [(390, "dark"), (1280, "light")])
def test_axe_finds_nothing_and_nothing_is_cut_off(browser: Browser, desk: Opened, width: int, scheme: str) -> None:
    context = browser.new_context(
        viewport={"width": width, "height": 844},
        color_scheme=scheme,  # type: ignore[arg-type]
        bypass_csp=True,
    )
    page = context.new_page()
    page.goto(desk.address)
    for path in ("scripts/", "scripts/parent-bug/full", "scripts/parent-bug/short"):
        page.goto(f"{desk.origin}/-desk/{path}")
        page.wait_for_load_state("load")
        page.evaluate(AXE.read_text(encoding="utf-8"))
        result = page.evaluate("rules => axe.run({runOnly: rules, iframes: false})", RULES)
        assert [(v["id"], [n["html"][:90] for n in v["nodes"]]) for v in result["violations"]] == []
        assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    context.close()
