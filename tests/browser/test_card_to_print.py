"""The card on a species' page: fetched by a finger and by the keyboard, in both languages; not there without a network."""

from __future__ import annotations

from pathlib import Path

import pytest
from playwright.sync_api import Browser, Locator, Page, expect

from guidebuild.views.site.account import card_path

CARD = "Card to print"
ACCOUNT = "accounts/parent-bug.html"
FINGER = 44
"""Least height of what is tapped (WCAG 2.2, 2.5.5: 44 CSS pixels)."""


def open_card(page: Page, link: Locator, *, by_key: bool) -> str:
    """Follow the link; the address of the PDF that the browser is sent, which some show and others save."""
    with page.expect_response(lambda answer: answer.url.endswith(".pdf")) as coming:
        if by_key:
            link.focus()
            page.keyboard.press("Enter")
        else:
            link.tap()
    assert coming.value.ok and coming.value.headers["content-type"] == "application/pdf"
    return coming.value.url


@pytest.mark.parametrize(("width", "by_key"), [(390, False), (1280, True)], ids=["touch", "keyboard"])
@pytest.mark.parametrize("base", ["", "es/"])
def test_the_card_is_fetched_from_its_page(browser: Browser, site: Path, address: str, base: str, width: int, by_key: bool) -> None:
    context = browser.new_context(viewport={"width": width, "height": 844}, has_touch=not by_key, service_workers="block")
    page = context.new_page()
    page.goto(f"{address}{base}{ACCOUNT}")
    link = page.get_by_role("link", name=CARD if not base else "Ficha para imprimir")
    expect(link).to_contain_text("(PDF, 1\u00a0kB)")
    box = link.bounding_box()
    assert box and box["height"] >= FINGER and box["x"] >= 0 and box["x"] + box["width"] <= width
    said = link.locator("xpath=..").inner_text()
    assert said.endswith("English") == bool(base), said
    opened = open_card(page, link, by_key=by_key)
    assert context.request.get(opened).body() == (site / card_path("parent-bug")).read_bytes()
    context.close()


def test_a_species_without_a_card_has_no_link(page: Page, address: str) -> None:
    page.goto(f"{address}accounts/birch-bug.html")
    expect(page.get_by_role("heading", level=1)).to_have_text("Birch Bug")
    expect(page.get_by_role("link", name=CARD)).to_have_count(0)


def test_without_a_network_a_card_is_said_not_to_be_kept(browser: Browser, address: str) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.goto(f"{address}index.html")
    page.get_by_role("button", name="Keep this guide for the field").tap()
    expect(page.locator(".offline [role=status]")).to_contain_text("Kept for the field", timeout=30_000)
    context.set_offline(True)
    page.goto(f"{address}{ACCOUNT}")
    page.get_by_role("link", name=CARD).tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Not kept on this device")
    context.close()
