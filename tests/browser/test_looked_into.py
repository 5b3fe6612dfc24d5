"""Species of a plate at one scale looked into, there and on the page of any two: by touch, by keyboard, without a network."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Locator, Page, expect

from guidebuild.guide.measures import Measure
from guidebuild.guide.records import Photo
from guidebuild.guide.text.inline import Inline
from tests.browser.built_site import build, serve
from tests.browser.remembered import wait_until
from tests.browser.test_accessible import AXE, RULES
from tests.browser.test_closer import BIRCH_ACROSS, CAPTION, INSIDE, PARENT_ACROSS, touch, width_of, zoom_of
from tests.browser.test_every_kind import SETTLED, WATCH
from tests.views.site.test_pairs import make_mutual

PAIR = "compare/birch-bug--parent-bug.html"
FAMILY = "families/acanthosomatidae.html"
ACROSS = {"Birch Bug": BIRCH_ACROSS, "Parent Bug": PARENT_ACROSS, "Bug 03": 400 / (0.8 * 0.75), "Bug 05": 4 / (0.4 * 0.75)}
"""Millimetres that each whole picture is across."""
WINGS, LEGS = (30.0, 240.0), (190.0, 40.0)
"""How far two of them go beyond their line, in per cent of it: to the sides, and past the ends."""


def _photo(account: str, length: float = 0, part: float = 0, x: float = 50.0, reach: tuple[float, float] | None = None) -> Photo:
    """A picture on which an upright line of so many millimetres takes this part of the height; without a length none is measured."""
    said = {"credit": f"Who saw {account}", "licence": "CC-BY-4.0", "alt": Inline(account)}
    photo = replace(Photo(f"{account}-adult", f"photos/{account}.jpg", account=account, stage="adult"), **said)
    line = (x, 50 - 50 * part, x, 50 + 50 * part)
    return replace(photo, length=Measure(f"{length:g} mm", length, length), measured=line, reach=reach) if length else photo


@pytest.fixture(scope="module")
def many(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Many look-alikes of one another, which only the page of any two shows: a large one, a small one, and one that is not measured."""
    wide = (_photo("bug-08", 60, 0.2, reach=WINGS), _photo("bug-09", 6, 0.2, x=30.0, reach=LEGS))
    photos = (_photo("bug-03", 400, 0.8), _photo("bug-05", 4, 0.4), _photo("bug-07"), *wide)
    return build(tmp_path_factory.mktemp("many") / "site", make_mutual(15, photos=photos))


@pytest.fixture
def phone(browser: Browser) -> Iterator[BrowserContext]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True, bypass_csp=True, reduced_motion="reduce")
    yield context
    context.close()


def picture_of(page: Page, name: str) -> Locator:
    return page.locator(".side figure", has=page.get_by_role("link", name=name, exact=True)).locator(".enlarge")


def look_into(page: Page, name: str) -> None:
    picture_of(page, name).tap()
    expect(page.locator("dialog.near")).to_be_visible()
    expect(page.locator(CAPTION)).to_contain_text(name)


def bar_error(page: Page, name: str) -> float:
    """How far off the bar is, as a share of what it says, against the whole picture of this species as it stands on the screen."""
    said = page.locator(".true-length span").inner_text()
    length = float(said.split()[0]) * (10 if "cm" in said else 1)
    return abs(width_of(page, ".true-length i") / length / (width_of(page, ".mine > img") / ACROSS[name]) - 1)


def is_in_stage(page: Page, choice: str, across: tuple[float, float] = (0.5, 0.5), down: tuple[float, float] = (0.1, 0.9)) -> bool:
    """Whether this part of a picture, in shares of its width and height, stands where it can be seen: the body, but for a tenth."""
    image, stage = (page.locator(one).bounding_box() for one in (choice, ".near .stage"))
    assert image and stage
    sides = (("x", "width", across), ("y", "height", down))
    return all(
        stage[start] - 1 <= image[start] + share * image[size] <= stage[start] + stage[size] + 1
        for start, size, shares in sides
        for share in shares
    )


@pytest.mark.parametrize("path", [PAIR, FAMILY])
def test_fingers_go_through_the_species_of_a_plate_and_back(phone: BrowserContext, address: str, path: str) -> None:
    page = phone.new_page()
    page.goto(address + path)
    look_into(page, "Birch Bug")
    wait_until(page, "document.querySelector('.mine > img').naturalWidth === 1280")  # a smaller copy stands there while it comes
    assert bar_error(page, "Birch Bug") < 0.005
    expect(page.locator(".near .point")).to_have_count(1)  # the mark that decides, on the picture as a whole
    fitted = zoom_of(page)
    touch(page, [(150, 300), (240, 300)], [(120, 300), (270, 300)], [(60, 300), (330, 300)])
    assert zoom_of(page) == pytest.approx(fitted * 3, rel=0.05)
    assert bar_error(page, "Birch Bug") < 0.005
    for _ in range(2):
        page.touchscreen.tap(200, 300)
    assert zoom_of(page) == pytest.approx(fitted)
    touch(page, [(300, 300)], [(200, 305)], [(120, 305)])
    expect(page.locator(CAPTION)).to_contain_text("Parent Bug")
    expect(page.locator(CAPTION)).to_contain_text("Bo Example")
    expect(page.locator(CAPTION)).to_contain_text("(2 / 2)")
    assert bar_error(page, "Parent Bug") < 0.005
    page.evaluate(SETTLED)  # a tap on the heels of a swipe only ends the swipe, to the browser
    page.get_by_role("button", name="Pointers").tap()
    expect(page.locator(".near .pointers")).not_to_be_visible()
    page.go_back()
    expect(page.locator("dialog.near")).not_to_be_visible()
    assert page.url == address + path
    expect(picture_of(page, "Parent Bug")).to_be_focused()


def test_keyboard_does_all_of_it_from_disk(page: Page, site: Path) -> None:
    page.goto((site / PAIR).as_uri())
    picture_of(page, "Parent Bug").focus()
    page.keyboard.press("Enter")
    expect(page.locator(CAPTION)).to_contain_text("Parent Bug")
    page.keyboard.press("ArrowLeft")
    expect(page.locator(CAPTION)).to_contain_text("Birch Bug")
    fitted = zoom_of(page)
    page.keyboard.press("+")
    assert zoom_of(page) == pytest.approx(fitted * 1.6)
    assert bar_error(page, "Birch Bug") < 0.005
    for _ in range(12):
        page.keyboard.press("Tab")
        assert page.evaluate(INSIDE)
    page.locator(".near .point").focus()
    page.keyboard.press("Enter")
    expect(page.locator(CAPTION)).to_have_text("1: no spot on the scutellum")
    page.locator(".near select").focus()
    page.keyboard.type("Parent")
    assert width_of(page, ".theirs img") / width_of(page, ".mine > img") == pytest.approx(PARENT_ACROSS / BIRCH_ACROSS, rel=0.005)
    slider = page.get_by_label("How much of each is seen")
    place = page.locator(".divide").bounding_box()
    slider.focus()
    page.keyboard.press("Home")
    moved = page.locator(".divide").bounding_box()
    assert place and moved and moved["x"] < place["x"] - 100
    page.keyboard.press("Escape")
    expect(page.locator("dialog.near")).not_to_be_visible()
    expect(picture_of(page, "Birch Bug")).to_be_focused()
    assert page.evaluate("history.state") is None


def test_any_two_open_after_another_pair_is_chosen(phone: BrowserContext, many: Path) -> None:
    """A hundred times as large: both bodies are seen whole, at one scale, whichever was opened."""
    page = phone.new_page()
    faults: list[str] = []
    page.on("pageerror", lambda error: faults.append(str(error)))
    page.goto((many / "compare/two.html").as_uri() + "#bug-03--bug-07")
    look_into(page, "Bug 07")
    expect(page.locator(".true-length")).not_to_be_visible()
    page.locator(".near select").select_option("Bug 03")
    expect(page.locator(".near .unscaled")).to_contain_text("Not at one scale")
    page.keyboard.press("Escape")
    page.get_by_label("The other").select_option("bug-05")
    look_into(page, "Bug 05")
    assert bar_error(page, "Bug 05") < 0.005
    page.locator(".near select").select_option("Bug 03")
    assert width_of(page, ".theirs img") / width_of(page, ".mine > img") == pytest.approx(ACROSS["Bug 03"] / ACROSS["Bug 05"], rel=0.01)
    assert is_in_stage(page, ".theirs img")
    expect(page.locator(".curtain")).to_contain_text("Bug 05")
    expect(page.locator(".curtain")).to_contain_text("Bug 03")
    page.get_by_role("button", name="Before").tap()  # the one that lay beside is now the one that is open
    expect(page.locator(".near select")).to_have_value("Bug 05")
    assert width_of(page, ".mine > img") / width_of(page, ".theirs img") == pytest.approx(ACROSS["Bug 03"] / ACROSS["Bug 05"], rel=0.01)
    assert is_in_stage(page, ".mine > img")
    page.go_back()
    expect(page.locator("dialog.near")).not_to_be_visible()
    assert page.url.endswith("#bug-03--bug-05")
    expect(page.get_by_role("heading", level=1)).to_have_text("Bug 03 and Bug 05")
    expect(picture_of(page, "Bug 03")).to_be_focused()
    assert faults == []


def all_seen(page: Page, choice: str, name: str) -> bool:
    """Whether an animal is seen with all that it reaches; its line takes a fifth of the height of its picture."""
    (past, beside), x = (WINGS, 0.5) if name == "Bug 08" else (LEGS, 0.3)
    half_wide, half_high = 0.2 * 0.75 * beside / 100, 0.2 * (0.5 + past / 100)
    return is_in_stage(page, choice, (x - half_wide, x + half_wide), (max(0.5 - half_high, 0), min(0.5 + half_high, 1)))


def test_wings_and_legs_of_both_are_seen_whole(phone: BrowserContext, many: Path) -> None:
    """Whichever lies beside the other: the wide one ten times as large, or the long one that stands at the side of its picture."""
    page = phone.new_page()
    page.goto((many / "compare/two.html").as_uri() + "#bug-08--bug-09")
    look_into(page, "Bug 09")
    page.locator(".near select").select_option("Bug 08")
    assert all_seen(page, ".theirs img", "Bug 08") and all_seen(page, ".mine > img", "Bug 09")
    assert width_of(page, ".theirs img") / width_of(page, ".mine > img") == pytest.approx(10, rel=0.01)
    page.get_by_role("button", name="Before").tap()
    assert all_seen(page, ".mine > img", "Bug 08") and all_seen(page, ".theirs img", "Bug 09")


@pytest.mark.parametrize("size", [(1280, 800), (820, 1180), (740, 360)])
def test_keyboard_lays_wide_wings_beside_and_all_of_them_are_seen(page: Page, many: Path, size: tuple[int, int]) -> None:
    page.set_viewport_size({"width": size[0], "height": size[1]})
    page.goto((many / "compare/two.html").as_uri() + "#bug-05--bug-08")
    picture_of(page, "Bug 05").focus()
    page.keyboard.press("Enter")
    page.locator(".near select").focus()
    page.keyboard.type("Bug 08")
    assert all_seen(page, ".theirs img", "Bug 08")
    assert is_in_stage(page, ".mine > img")
    expect(page.locator(".near .unscaled")).to_have_count(0)


def test_of_what_has_no_scale_the_whole_picture_is_seen(phone: BrowserContext, many: Path) -> None:
    page = phone.new_page()
    page.goto((many / "compare/two.html").as_uri() + "#bug-07--bug-09")
    look_into(page, "Bug 09")
    page.locator(".near select").select_option("Bug 07")
    expect(page.locator(".near .unscaled")).to_contain_text("Not at one scale")
    assert is_in_stage(page, ".theirs img", (0, 1), (0, 1))


def test_what_is_kept_with_a_walk_opens_without_a_network(phone: BrowserContext, address: str) -> None:
    page = phone.new_page()
    page.goto(f"{address}field.html")
    page.get_by_label("A June walk").check()
    page.get_by_role("button", name="Keep what is ticked").click()
    expect(page.locator(".keeping .kept")).to_contain_text("Kept for the field", timeout=30_000)
    phone.set_offline(True)
    page.goto(address + PAIR)
    look_into(page, "Birch Bug")
    page.locator(".near select").select_option("Parent Bug")
    for choice in (".mine > img", ".theirs img"):
        assert page.locator(choice).evaluate("(i) => i.decode().then(() => i.naturalWidth > 0)")


def test_any_two_of_a_part_open_without_a_network(phone: BrowserContext, many: Path) -> None:
    server = serve(many.parent)
    address = f"http://127.0.0.1:{server.server_port}/site/"
    try:
        page = phone.new_page()
        page.goto(f"{address}field.html")
        page.get_by_label("Coreidae").check()
        page.get_by_role("button", name="Keep what is ticked").click()
        expect(page.locator(".keeping .kept")).to_contain_text("Kept for the field", timeout=30_000)
        phone.set_offline(True)
        page.goto(f"{address}compare/two.html#bug-03--bug-05")
        look_into(page, "Bug 05")
        assert page.locator(".mine > img").evaluate("(i) => i.decode().then(() => i.naturalWidth > 0)")
    finally:
        server.shutdown()
        server.server_close()


def test_without_scripts_the_picture_stays_and_leads_to_the_large_file(browser: Browser, site: Path) -> None:
    context = browser.new_context(java_script_enabled=False)
    page = context.new_page()
    page.goto((site / PAIR).as_uri())
    expect(page.locator(".window .ring").first).to_be_visible()
    expect(page.locator("template")).to_have_count(2)
    assert not page.locator("template").first.is_visible()
    picture_of(page, "Birch Bug").click()
    assert "birch-adult-1280" in page.url
    context.close()


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize("width", [390, 820, 1280])
def test_axe_finds_nothing_nothing_jumps_and_all_of_it_fits(browser: Browser, address: str, width: int) -> None:
    context = browser.new_context(viewport={"width": width, "height": 844}, bypass_csp=True, reduced_motion="reduce")
    page, found = context.new_page(), []
    page.add_init_script(WATCH)
    page.goto(address + PAIR)
    picture_of(page, "Birch Bug").click()
    expect(page.locator("dialog.near")).to_be_visible()
    page.evaluate(SETTLED)
    assert page.evaluate("jumps") == []
    page.locator(".near select").select_option("Parent Bug")
    box = page.get_by_role("button", name="Close").bounding_box()
    assert box and box["x"] + box["width"] <= width and box["y"] + box["height"] <= 844 and box["height"] >= 44
    page.evaluate(AXE.read_text(encoding="utf-8"))
    for scheme, colours in (("light", "none"), ("dark", "none"), ("light", "active")):
        page.emulate_media(color_scheme=scheme, forced_colors=colours)  # type: ignore[arg-type]
        told = page.evaluate("(values) => axe.run(document, {preload: false, runOnly: {type: 'tag', values}})", RULES)
        found += [(scheme, colours, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    assert found == []
    context.close()
