"""Maps on pages: on a phone, by ear, in forced colours and in grey. Squares are invented, the region is the sample's."""

from __future__ import annotations

import datetime as dt
import io
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page, expect

from guidebuild.fieldwork.public_records import Cell, PublicSquares
from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.projection import find_square
from guidebuild.guide.region import box_of
from guidebuild.press.outputs.site.assets import site_assets
from guidebuild.press.outputs.site.page import render_page
from guidebuild.session import open_session
from guidebuild.views.site.pages import SitePages
from tests.browser.built_site import THEME, serve
from tests.browser.test_accessible import AXE, RULES
from tests.desk.opened import copy_sample

TODAY = dt.date(2026, 11, 28)
SHOWN = re.compile(r"(accounts/parent-bug|places/long-hedge|walks/september-hedge)\.html")
KINDS = {
    "seen": "seen since 2016",
    "old": "seen before 2016, or in no known year",
    "sought": "looked for and not found",
    "looked": "other species reported here",
    "cell": "somewhere in here; the place is not told",
}


def with_every_sign(guide: Published) -> Published:
    """The guide with squares of every kind for one species, each in a row of its own across the region."""
    assert guide.region is not None
    west, south, east, north = box_of(guide.region.corners())

    def row(height: float) -> list[tuple[int, int]]:
        assert guide.region is not None
        at = [(west + (east - west) * across / 10, south + (north - south) * height) for across in (2, 4, 6, 8)]
        return [find_square(guide.region.grid, spot) for spot in at]

    day, long_ago = dt.date(2026, 5, 1).toordinal(), dt.date(1990, 5, 1).toordinal()
    seen = (*((square, day) for square in row(0.8)), *((square, long_ago) for square in row(0.6)))
    cell = Cell(round(south + (north - south) * 0.2, 4), round((west + east) / 2, 4), (north - south) / 4)
    squares = PublicSquares(seen, tuple(row(0.4)), (cell,))
    looked = (*guide.looked, *(square for square, _ in seen), *squares.sought, *row(0.5))
    return replace(guide, squares={**guide.squares, "parent-bug": squares}, looked=tuple(sorted(set(looked))))


@pytest.fixture(scope="module")
def maps(tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    folder = tmp_path_factory.mktemp("maps")
    guide = with_every_sign(make_published(open_session(copy_sample(folder / "guide")).guide))
    pages = [page.make() for page in SitePages(guide, TODAY).list_all() if SHOWN.fullmatch(page.path)]
    assert len(pages) == 3
    for path, data in ({page.path: render_page(page, {}, THEME) for page in pages} | site_assets(pages, THEME, TODAY)).items():
        (folder / "site" / path).parent.mkdir(parents=True, exist_ok=True)
        (folder / "site" / path).write_bytes(data)
    server = serve(folder)
    yield f"http://127.0.0.1:{server.server_port}/site/"
    server.shutdown()
    server.server_close()


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844}, bypass_csp=True)
    yield context.new_page()
    context.close()


def test_a_map_has_its_legend_and_the_same_in_words(phone: Page, maps: str) -> None:
    phone.goto(f"{maps}accounts/parent-bug.html")
    figure = phone.locator(".mapped")
    expect(figure.get_by_role("img", name="Map: where Parent Bug was seen")).to_be_visible()
    legend = figure.locator(".signs li")
    assert sorted(text.strip() for text in legend.all_inner_texts()) == sorted(KINDS.values())
    for item in legend.all():
        sign, box = item.locator("svg").bounding_box(), item.bounding_box()
        assert sign and box and sign["width"] >= 12 and box["x"] + box["width"] <= 390
    words = figure.get_by_text("The map in words")
    box = words.bounding_box()
    assert box and box["height"] >= 44
    words.click()
    for kind in ("seen", "old", "sought", "cell"):
        expect(figure.locator("dt", has_text=KINDS[kind])).to_be_visible()
    named = figure.locator("dd", has_text=re.compile(r"^(S[A-Z]\d{4}[A-Z](; )?){4}$"))
    expect(named).to_have_count(3)  # four squares of 200 m each
    assert phone.evaluate("document.documentElement.scrollWidth <= innerWidth")


def test_pages_with_maps_are_clean_for_screen_readers(phone: Page, maps: str) -> None:
    axe, found = AXE.read_text(encoding="utf-8"), []
    for path in ("accounts/parent-bug.html", "places/long-hedge.html", "walks/september-hedge.html"):
        phone.goto(f"{maps}{path}")
        expect(phone.locator(".mapped .map").first).to_be_visible()
        phone.evaluate(axe)
        for scheme in ("light", "dark"):
            phone.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            told = phone.evaluate("(only) => axe.run('.mapped', {runOnly: {type: 'tag', values: only}})", RULES)
            found += [(path, scheme, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    assert found == []


def shoot_signs(page: Page) -> dict[str, Image.Image]:
    """The signs of the legend in grey, each by its kind; all of one size."""
    signs = {kind: page.locator(f".signs .map.sign:has(.{kind})").screenshot() for kind in KINDS}
    return {kind: Image.open(io.BytesIO(shot)).convert("L").resize((48, 48)) for kind, shot in signs.items()}


def find_shape(sign: Image.Image) -> set[int]:
    """Which of its pixels are ink, by whichever of ink and ground is the lighter; the ground is in its corner."""
    pixels = sign.tobytes()
    middle = (min(pixels) + max(pixels)) / 2
    return {at for at, pixel in enumerate(pixels) if (pixel > middle) != (pixels[0] > middle)}


@pytest.mark.parametrize(
    "shown",
    [
        {"color_scheme": "light"}, {"color_scheme": "dark"}, {"media": "print"},
        {"forced_colors": "active", "color_scheme": "light"}, {"forced_colors": "active", "color_scheme": "dark"},
    ],
)  # fmt: skip
def test_signs_are_told_apart_without_colours(browser: Browser, maps: str, shown: dict[str, Any]) -> None:
    context = browser.new_context(viewport={"width": 390, "height": 844}, bypass_csp=True, device_scale_factor=3)
    page = context.new_page()
    page.emulate_media(**shown)
    page.goto(f"{maps}accounts/parent-bug.html")
    signs = shoot_signs(page)
    context.close()
    for kind, sign in signs.items():
        darkest, lightest = sign.getextrema()
        assert lightest - darkest >= 90, kind  # of 255: three to one between ink and ground, near enough
    shapes = {kind: find_shape(sign) for kind, sign in signs.items()}
    for one, other in combinations(shapes, 2):
        # By shape alone, for colours may be the same: of what either inks, less than half is inked by both.
        assert len(shapes[one] & shapes[other]) < 0.5 * len(shapes[one] | shapes[other]), (one, other)


INK = """() => {
  const probe = document.body.appendChild(document.createElement("i")), map = document.querySelector(".mapped .sheet .map");
  probe.style.color = "CanvasText";
  const system = getComputedStyle(probe).color, drawn = (kind, ink) => getComputedStyle(map.querySelector("." + kind))[ink];
  probe.remove();
  return [system, drawn("seen", "fill"), ...["old", "sought", "looked", "cell"].map((kind) => drawn(kind, "stroke"))];
}"""


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_in_forced_colours_a_map_is_drawn_in_the_readers_own(phone: Page, maps: str, scheme: Any) -> None:
    phone.emulate_media(forced_colors="active", color_scheme=scheme)
    phone.goto(f"{maps}accounts/parent-bug.html")
    assert len(set(phone.evaluate(INK))) == 1
