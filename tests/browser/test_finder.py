"""Finder and key of the sample in a browser, from disk: nothing moves under the finger, and every way leads back."""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.site.assets import look_assets
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.photos.jobs import set_of_sizes
from guidebuild.reading.whole import read_guide
from guidebuild.views.site.pages import SitePages
from tests.browser.built_site import THEME
from tests.browser.test_accessible import AXE, RULES
from tests.conftest import SAMPLE

JUNE = dt.datetime(2026, 6, 15, 12)


def drawn() -> bytes:
    made = io.BytesIO()
    Image.new("RGB", (36, 27), "#6b8a4f").save(made, "WEBP")
    return made.getvalue()


@pytest.fixture(scope="module")
def telling(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The two pages with pictures of one colour, in a folder."""
    folder = tmp_path_factory.mktemp("finder")
    guide = read_guide(SAMPLE).guide
    assert guide is not None
    pages = SitePages(make_published(guide), JUNE.date())
    files, picture = look_assets(THEME), drawn()
    for path in ("finder.html", "key.html"):
        page = pages.find(path)
        assert page is not None
        sets = {photo: set_of_sizes(photo, [("webp", 360, 270)], "photos") for photo in page.photos()}
        files |= {variant.path: picture for one in sets.values() for variant in one.variants}
        files[path] = render_page(page, sets, THEME)
    for path, data in files.items():
        (folder / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / path).write_bytes(data)
    return folder


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, has_touch=True)
    page = context.new_page()
    page.clock.install(time=JUNE)
    page.on("pageerror", lambda error: pytest.fail(str(error)))
    yield page
    context.close()


def names(page: Page) -> list[str]:
    return page.locator(".tray .entry:not(.doubt) b").all_inner_texts()


ASTRAY = """() => [...document.querySelectorAll('.thumb svg.cut')].filter((svg) => {
  const [x, y, wide] = svg.getAttribute('viewBox').split(' ').map(Number);
  const frame = svg.getBoundingClientRect(), image = svg.querySelector('img').getBoundingClientRect(), unit = frame.width / wide;
  const wanted = [frame.left - x * unit, frame.top - y * unit, 100 * unit];
  return wanted.some((value, n) => Math.abs(value - [image.left, image.top, image.width][n]) > 1.5);
}).length"""
"""How many small pictures of species do not lie in their frame as its numbers say."""


@pytest.mark.parametrize("width", [390, 820, 1280])
def test_small_pictures_of_species_show_their_subject(phone: Page, telling: Path, width: int) -> None:
    phone.set_viewport_size({"width": width, "height": 844})
    phone.goto((telling / "finder.html").as_uri())
    expect(phone.locator(".finder.live")).to_be_visible()
    assert phone.locator(".tray .thumb svg.cut").count() > 3
    assert phone.evaluate(ASTRAY) == 0


def place_of(page: Page, question: str) -> float:
    return float(page.evaluate("(id) => document.getElementById(id).getBoundingClientRect().top + scrollY", question))


def test_nothing_moves_under_the_finger_and_what_helps_no_more_is_quiet(phone: Page, telling: Path) -> None:
    phone.goto((telling / "finder.html").as_uri())
    order = phone.locator(".asked:visible fieldset").evaluate_all("all => all.map((one) => one.id)")
    assert order[:3] == ["q1-ground-colour", "q1-body-length", "q1-outline"]  # colour, size, shape; the stage stands above
    before = {question: place_of(phone, question) for question in order}
    phone.get_by_label("green or yellow-green").tap()
    expect(phone.locator(".many")).to_have_text("6")
    assert "Green Shieldbug" in names(phone)
    after = {question: place_of(phone, question) for question in order}
    assert after == pytest.approx(before, abs=1)
    quiet = phone.locator("#q1-outline")
    expect(quiet).to_be_visible()
    said = "(one) => { const style = getComputedStyle(one, '::after'); return [style.content, style.visibility]; }"
    assert quiet.locator(".ease").evaluate(said) == ['"helps no more"', "visible"]
    assert phone.locator("#q1-wing-pattern .ease").evaluate(said) == ['"helps no more"', "hidden"]
    expect(phone.locator("#q1-body-length label.out").first).to_be_visible()
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


CELLS = """() => [...document.querySelectorAll('.asked:not([hidden]) .pictured:has(.bare)')].map((answers) =>
  [...answers.querySelectorAll('label')].map((label) => {
    const { left, top, width, height } = label.getBoundingClientRect();
    return [label.classList.contains('bare'), Math.round(left), Math.round(top + scrollY), Math.round(width), height];
  }))"""
"""Of each question with a state that has no picture: whether it has none, left, top, width and height of each of its answers."""


@pytest.mark.parametrize("width", [320, 390, 820, 1280])
def test_an_answer_without_a_picture_takes_a_cell_like_the_others(phone: Page, telling: Path, width: int) -> None:
    phone.set_viewport_size({"width": width, "height": 844})
    phone.goto((telling / "finder.html").as_uri())
    expect(phone.locator(".finder.live")).to_be_visible()
    questions = phone.evaluate(CELLS)
    assert len(questions) >= 3
    for cells in questions:
        lefts = sorted({left for _, left, *_ in cells})
        assert len(lefts) > 1
        # As many in a row as there are columns, so that nothing stands alone where others could stand beside it.
        assert [left for _, left, *_ in cells] == [lefts[number % len(lefts)] for number in range(len(cells))]
        assert len({wide for *_, wide, _ in cells}) == 1
        assert all(wide >= 44 and high >= 44 for *_, wide, high in cells)
    phone.locator(".asked:visible .bare").first.tap()
    expect(phone.locator(".asked:visible .bare").first).to_have_class(re.compile("ticked"))
    assert phone.evaluate(CELLS) == questions


def test_the_tray_keeps_in_sight_with_count_and_pictures(phone: Page, telling: Path) -> None:
    phone.goto((telling / "finder.html").as_uri())
    for where in (0, 1500, 3000):
        phone.evaluate("(y) => scrollTo({top: y, behavior: 'instant'})", where)
        box = phone.locator(".tray").bounding_box()
        ways = phone.locator(".ways").bounding_box()
        assert box is not None
        assert ways is not None
        assert box["y"] + box["height"] <= ways["y"] + 2
        assert box["y"] > 844 / 2
    assert phone.locator(".tray .entry img").first.is_visible()
    phone.get_by_role("button", name="List").tap()
    expect(phone.locator(".tray .mark").first).to_be_visible()
    for target in phone.locator(".tray button:visible, .ask label:visible, .part-of a:visible").all()[:40]:
        size = target.bounding_box()
        assert size is not None
        assert size["height"] >= 44


def test_what_fits_alike_is_ranked_by_today_and_by_where_one_is(phone: Page, telling: Path) -> None:
    phone.goto((telling / "finder.html").as_uri())
    table = phone.evaluate("JSON.parse(document.getElementById('table').textContent)")
    adult = next(one for one in table["stages"] if one["id"] == "adult")
    cells = [
        adult["years"][adult["taxa"].index(place)]
        for place in phone.locator(".entry").evaluate_all("all => all.map((one) => Number(one.dataset.place))")
    ]
    ranks = [{"2": 0, "1": 1, "0": 4}[cell[16]] if cell else 2 for cell in cells]  # mid June is the 17th third of a month
    assert ranks == sorted(ranks)
    assert len(set(ranks)) > 1
    phone.get_by_role("button", name="List").tap()
    place = next(place for place, known in table["here"].items() if 2 < len(known) < 15)
    phone.locator("#place").select_option(place)
    first = phone.locator(".entry").evaluate_all("all => all.map((one) => Number(one.dataset.place))")
    out = [number for number in first if adult["years"][adult["taxa"].index(number)][16] == cells[0][16]]
    here = [number in table["here"][place] for number in out]
    assert here == sorted(here, reverse=True)
    assert any(here)
    assert not all(here)


def test_ticks_can_be_undone_shared_and_kept_by_their_address(phone: Page, telling: Path) -> None:
    phone.goto((telling / "finder.html").as_uri())
    expect(phone.get_by_role("button", name="Undo")).to_be_disabled()
    phone.get_by_label("green or yellow-green").tap()
    phone.get_by_label("10–11.5").tap()
    assert phone.evaluate("location.hash") == "#stage=adult&body-length=10-11.5&ground-colour=green"
    narrowed = names(phone)
    other = phone.context.new_page()
    other.goto(phone.url)
    assert names(other) == narrowed
    expect(other.get_by_label("green or yellow-green")).to_be_checked()
    other.close()
    phone.get_by_role("button", name="Undo").tap()
    expect(phone.get_by_label("10–11.5")).not_to_be_checked()
    assert phone.evaluate("location.hash") == "#stage=adult&ground-colour=green"
    phone.evaluate("() => { navigator.share = async (what) => { globalThis.shared = what.url; }; }")
    phone.get_by_role("button", name="Share", exact=True).tap()
    assert phone.evaluate("shared").endswith("#stage=adult&ground-colour=green")
    phone.evaluate("location.hash = 'stage=nymph&nymph-colour=brown&unheard-of=1'")
    expect(phone.get_by_label("nymph", exact=True)).to_be_checked()
    expect(phone.locator("#q0-nymph-colour")).to_be_visible()
    expect(phone.locator("#q1-ground-colour")).to_be_hidden()


def test_where_none_fits_each_answer_can_be_doubted(phone: Page, telling: Path) -> None:
    phone.goto((telling / "finder.html").as_uri())
    phone.get_by_label("blue all over").tap()
    phone.locator("#q1-legs").get_by_label("orange or red").tap()
    expect(phone.locator(".many")).to_contain_text("0 (")
    phone.get_by_role("button", name="List").tap()
    phone.get_by_text("None of these fits").tap()
    expect(phone.get_by_text("Then it may be a species")).to_be_visible()
    button = phone.get_by_role("button", name="without “legs”: 1")
    button.tap()
    expect(phone.locator(".many")).to_have_text("1")
    assert names(phone) == ["Blue Shieldbug"]


def test_the_finder_goes_by_keyboard_and_leads_to_what_tells_most(page: Page, telling: Path) -> None:
    page.goto((telling / "finder.html").as_uri())
    page.get_by_label("green or yellow-green").focus()
    page.keyboard.press("Space")
    expect(page.get_by_label("green or yellow-green")).to_be_focused()
    page.locator(".next a").focus()
    question = page.locator(".next a").get_attribute("href")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.closest('fieldset').id") == (question or "").removeprefix("#")
    # Not below the tray, once the page has come to rest.
    below = "document.activeElement.getBoundingClientRect().bottom - document.querySelector('.tray').getBoundingClientRect().top"
    for _ in range(50):
        if page.evaluate(below) <= 0:
            break
        page.wait_for_timeout(100)
    assert page.evaluate(below) <= 0


def test_the_key_asks_one_couplet_at_a_time_and_leads_back(phone: Page, telling: Path) -> None:
    phone.goto((telling / "key.html").as_uri())
    expect(phone.locator(".couplet:visible")).to_have_count(1)
    assert phone.locator(".couplet:visible .cut img").count() >= 1
    taken = []
    while phone.locator(".couplet:visible a.to").count():
        lead = phone.locator(".couplet:visible li:has(a.to)").last
        taken.append(lead.get_attribute("data-lead"))
        lead.tap(position={"x": 30, "y": 12})  # anywhere on the lead
        expect(phone.locator(".couplet:visible")).to_have_count(1)
        assert phone.locator(".trail a").evaluate_all("all => all.map((one) => one.textContent.split(' ')[0])") == taken
    assert len(taken) >= 2
    assert phone.locator(".couplet:visible .ends a").count()
    phone.locator(".couplet:visible .back").tap()
    expect(phone.locator(".couplet:visible")).to_have_id(f"c{(taken[-1] or '')[:-1]}")
    phone.locator(".trail a").first.tap()
    expect(phone.locator(".couplet:visible")).to_have_id("c1")
    phone.go_back()
    expect(phone.locator(".couplet:visible")).to_have_id(f"c{(taken[-1] or '')[:-1]}")
    phone.get_by_role("button", name="The whole key").tap()
    assert phone.locator(".couplet:visible").count() > 10
    for number in phone.locator(".couplet a.to, .couplet .back").all():
        size = number.bounding_box()
        assert size is not None
        assert 44 <= size["height"] < 60  # one line
    assert phone.evaluate("document.documentElement.scrollWidth") <= 390


def test_finder_and_key_read_without_javascript(browser: Browser, telling: Path) -> None:
    context = browser.new_context(java_script_enabled=False, viewport={"width": 390, "height": 844})
    page = context.new_page()
    page.goto((telling / "key.html").as_uri())
    assert page.locator(".couplet:visible").count() > 10
    page.goto((telling / "finder.html").as_uri())
    expect(page.get_by_role("link", name="The key works without.")).to_be_visible()
    expect(page.get_by_role("button", name="Share", exact=True)).to_be_hidden()
    assert page.locator(".tray .entry:visible").count() == 18
    context.close()


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
@pytest.mark.parametrize(("width", "scheme"), [(390, "light"), (1280, "dark")])
def test_axe_finds_nothing_once_something_is_ticked(browser: Browser, telling: Path, width: int, scheme: str) -> None:
    context = browser.new_context(viewport={"width": width, "height": 844}, color_scheme=scheme, bypass_csp=True)  # type: ignore[arg-type]
    page = context.new_page()
    found = {}
    for path in ("finder.html#stage=adult&ground-colour=blue&legs=orange-red", "key.html#c4"):
        page.goto((telling / path.split("#")[0]).as_uri() + "#" + path.split("#")[1])
        page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true")
        page.evaluate(AXE.read_text(encoding="utf-8"))
        result = page.evaluate("rules => axe.run({runOnly: rules})", RULES)
        found[path] = [(v["id"], [n["html"][:120] for n in v["nodes"]]) for v in result["violations"]]
    context.close()
    assert list(found.values()) == [[], []]
