"""What is too long for one page, in a browser and from disk: any two of many look-alikes, and the list of all names."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, Route, expect

from guidebuild.fieldwork.published import make_published
from guidebuild.views.site.key import MOST_COUPLETS
from tests.browser.built_site import build, serve
from tests.identify.invented import table
from tests.views.site.test_pairs import make_mutual

PEOPLE = 310
NAMES = PEOPLE + 5
"""Families and places have names too."""


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of many accounts, of which fifteen are look-alikes of one another; two of them are named."""
    return build(tmp_path_factory.mktemp("large") / "site", make_mutual(15, named=True, alone=PEOPLE - 15))


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    yield context
    context.close()


def open_two(context: BrowserContext, address: str) -> tuple[Page, list[str]]:
    page, said = context.new_page(), []
    page.on("console", lambda message: said.append(message.text))
    page.on("pageerror", lambda error: said.append(str(error)))
    page.goto(address)
    return page, said


def test_any_two_are_shown_from_disk_by_touch_and_keyboard(phone: BrowserContext, large: Path) -> None:
    page, said = open_two(phone, f"{(large / 'accounts/bug-05.html').as_uri()}")
    page.locator('a[href$="two.html#bug-03--bug-05"]').tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 03 and Bug 05")
    assert page.title().startswith("Bug 03 and Bug 05")
    bars = page.locator(".side-of-two .bar").count()
    assert bars and page.locator(".side-of-two .bar .today").count() == bars  # today's stroke, though they came later than the page
    page.get_by_label("The other").focus()
    page.keyboard.type("Bug 07")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 03 and Bug 07")
    assert page.url.endswith("two.html#bug-03--bug-07")
    page.get_by_label("One of them").select_option("bug-09")
    expect(page.locator(".side-of-two")).to_be_empty()
    page.get_by_label("The other").select_option("bug-02")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 02 and Bug 09")
    page.locator(".side-of-two").get_by_role("link", name="Bug 02").first.tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 02")
    page.go_back()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 02 and Bug 09")
    page.get_by_label("One of them").select_option("bug-00")
    page.get_by_label("The other").select_option("bug-01")  # named: it has a page of its own
    page.wait_for_url("**/compare/bug-00--bug-01.html")
    page.goto((large / "compare/two.html").as_uri() + "#bug-02--moth")
    expect(page.locator(".two-said")).to_have_text("Nothing is said of these two.")
    assert page.evaluate("document.documentElement.scrollWidth") <= 390
    assert said == []


def test_any_two_of_a_part_are_shown_without_a_network(phone: BrowserContext, large: Path) -> None:
    server = serve(large.parent)
    address = f"http://127.0.0.1:{server.server_port}/site/"
    try:
        page, _ = open_two(phone, f"{address}field.html")
        page.get_by_label("Pentatomidae").check()
        page.get_by_role("button", name="Keep what is ticked").click()
        expect(page.locator(".keeping .kept")).to_contain_text("Kept for the field", timeout=30_000)
        phone.set_offline(True)
        page.goto(f"{address}compare/two.html#bug-01--bug-02")
        expect(page.get_by_role("heading", level=1)).to_have_text("Bug 01 and Bug 02")
        page.get_by_label("One of them").select_option("bug-13")
        page.get_by_label("The other").select_option("bug-14")  # of another family, not kept
        expect(page.locator(".two-said")).to_have_text("This comparison could not be loaded.")
    finally:
        server.shutdown()
        server.server_close()


def test_every_name_is_found_from_disk_though_the_page_holds_a_part_of_them(phone: BrowserContext, large: Path) -> None:
    page, said = open_two(phone, (large / "find.html").as_uri())
    expect(page.locator(".index li")).to_have_count(NAMES)
    page.get_by_role("searchbox").fill("alone 294")
    expect(page.locator(".index li:visible a")).to_have_text(["Alone 294"])
    page.locator(".index li:visible a").tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Alone 294")
    page.goto((large / "find/2.html").as_uri())
    page.get_by_role("searchbox").fill("bug 03")
    page.locator(".index li:visible a").first.tap()
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 03")
    assert said == []


def test_an_old_list_gives_way_to_that_of_the_day_and_never_to_the_chosen_place(phone: BrowserContext, large: Path) -> None:
    server = serve(large.parent)
    page = phone.new_page()
    held: list[Route] = []

    def hold(route: Route) -> None:
        held.append(route)

    try:
        page.clock.set_fixed_time("2026-05-12T12:00:00")  # the site was made in June, when other species are out
        page.route("**/now/anywhere.js", hold)
        page.goto(f"http://127.0.0.1:{server.server_port}/site/index.html", wait_until="domcontentloaded")
        where = page.get_by_role("combobox", name="Where")
        where.select_option(index=1)
        expect(page.locator(".now .by")).to_contain_text("meeting each here")
        held[0].continue_()
        page.wait_for_load_state("networkidle")
        expect(page.locator(".now .by")).to_contain_text("meeting each here")
        where.select_option("")
        expect(page.locator(".now .entry:visible b").first).to_contain_text("Alone")
    finally:
        server.shutdown()
        server.server_close()


def test_long_lists_and_the_page_of_two_read_without_scripts(browser: Browser, large: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((large / "find.html").as_uri())
    expect(page.locator(".index li")).to_have_count(300)
    page.get_by_role("link", name=f"301–{NAMES}").click()
    expect(page.locator(".index li")).to_have_count(NAMES - 300)
    page.goto((large / "compare/two.html").as_uri())
    expect(page.locator(".alike li")).to_have_count(15)
    expect(page.locator(".notice")).to_contain_text("needs JavaScript")
    context.close()


@pytest.fixture(scope="module")
def scored(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of many species that are told apart by five characters."""
    rows = {f"T{n:03}": "".join("abc"[n // 3**c % 3] for c in range(5)) for n in range(120)}
    return build(tmp_path_factory.mktemp("scored") / "site", make_published(table(rows)))


def test_finder_of_many_species_takes_its_table_from_beside_the_page_also_from_disk(phone: BrowserContext, scored: Path) -> None:
    assert len((scored / "finder.html").read_bytes()) < 20_000
    page, said = open_two(phone, (scored / "finder.html").as_uri())
    many = page.locator(".tray .many")
    expect(many).to_have_text("120")
    box = page.locator(".asked:visible fieldset").first.locator("input").first
    box.check()
    expect(many).to_have_text("40")
    page.locator(".tray .list").tap()
    link = page.locator("#candidates li:visible a b").first
    name = link.inner_text()
    link.tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text(name)
    assert said == []


def test_long_key_is_walked_from_disk_and_reads_without_scripts(phone: BrowserContext, browser: Browser, scored: Path) -> None:
    page, said = open_two(phone, (scored / "key.html").as_uri())
    seen = set()
    while (ahead := page.locator(".couplet:visible .to")).count():
        expect(page.locator(".couplet:visible")).to_have_count(1)
        ahead.last.tap()  # the last leads furthest: beyond the first page
        page.wait_for_function("n => document.querySelector('.couplet.here').id !== n", arg=max(seen, default=""))
        seen = {page.locator(".couplet.here").get_attribute("id") or ""}
    assert int(seen.pop()[1:]) > MOST_COUPLETS
    assert "/key.html#" in page.url
    name = page.locator(".couplet:visible .ends a").first.inner_text()
    page.locator(".couplet:visible .ends a").first.tap()
    expect(page.get_by_role("heading", level=1)).to_contain_text(name)
    assert said == []
    plain = browser.new_context(java_script_enabled=False).new_page()
    plain.goto((scored / "key.html").as_uri())
    expect(plain.locator(".couplet")).to_have_count(MOST_COUPLETS)
    across = plain.locator('.to[href*="key/2.html#"]').first
    number = across.inner_text()
    across.click()
    expect(plain.locator(f"#c{number}")).to_be_visible()
    assert plain.url.endswith(f"key/2.html#c{number}")
    plain.context.close()
