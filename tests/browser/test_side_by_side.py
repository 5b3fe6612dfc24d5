"""Species side by side in a browser: one scale at every width, nothing off the screen, pictures large enough, nothing that axe minds."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from PIL import Image
from playwright.sync_api import Browser, Page

from guidebuild.fieldwork.published import Published, make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.outputs.site.assets import site_assets
from guidebuild.press.outputs.site.page import render_page
from guidebuild.press.photos.published_set import PictureSet, Variant
from guidebuild.reading.whole import read_guide
from guidebuild.views.pieces.one_scale import find_width
from guidebuild.views.pieces.parts import make_pieces
from guidebuild.views.site.pages import SitePages
from tests.browser.built_site import THEME
from tests.browser.test_accessible import AXE, OF_LOOK, RULES

ROOT = Path(__file__).resolve().parents[2]
TODAY = dt.date(2026, 5, 12)
WIDTHS = (320, 390, 820, 1280)
FIVE = "compare/birch-shieldbug--hairy-shieldbug--hawthorn-shieldbug--juniper-shieldbug--parent-bug.html"
PAIR = "compare/green-shieldbug--southern-green-shieldbug.html"
FAMILY = "families/pentatomidae.html"
GODWITS = "compare/bar-tailed-godwit--black-tailed-godwit--curlew.html"
JUVENILES = "compare/redshank--spotted-redshank.html"
BESIDE_A_TREE = "compare/birch-shieldbug--parent-bug.html"
"""Where the Birch Shieldbug is said to be a hundred times as long as it is, so that its neighbour must be enlarged."""
UNMEASURED = "compare/hawthorn-shieldbug--juniper-shieldbug.html"
MILLIMETRES = {"cm": 10.0, "mm": 1.0}

LENGTHS = """
() => [...document.querySelectorAll('.one-scale')].map(set => ({
  bar: [set.querySelector('.scale path').getBoundingClientRect().width, set.querySelector('.scale span').textContent],
  pictures: [...set.querySelectorAll('figure')].filter(f => f.querySelector('.true foreignObject')).map(f => [
    f.dataset.photo, f.querySelector('.true foreignObject').getBoundingClientRect().width])}))
"""


def _larger(guide: Guide) -> Guide:
    """The sample with one picture of something much larger, and one without its line."""
    birch, juniper = guide.photos["birch-adult"], guide.photos["juniper-adult"]
    assert birch.length
    large = replace(birch, length=replace(birch.length, low=1000.0, high=1000.0))
    return replace(guide, photos={**guide.photos, birch.id: large, juniper.id: replace(juniper, measured=None)})


@pytest.fixture(scope="module")
def guides() -> Mapping[str, Published]:
    sample = read_guide(ROOT / "sample_guide").guide
    return {
        "sample": make_published(sample),
        "larger": make_published(_larger(sample)),
        "waders": make_published(read_guide(ROOT / "tests" / "guides" / "estuary-waders").guide),
    }


@pytest.fixture(scope="module")
def folder(guides: Mapping[str, Published], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The pages that are looked at, in a folder for each guide, with pictures of one colour but of the right shape."""
    wanted = {"sample": (FIVE, PAIR, FAMILY), "larger": (BESIDE_A_TREE, UNMEASURED), "waders": (GODWITS, JUVENILES)}
    whole = tmp_path_factory.mktemp("side by side")
    for name, guide in guides.items():
        site = SitePages(guide, TODAY)
        pages = tuple(page for path in wanted[name] if (page := site.find(path)))
        assert {page.path for page in pages} == set(wanted[name])
        pictures = {photo: PictureSet(720, 540, (Variant("jpeg", 720, "one.jpg", 540),)) for photo in guide.photos}
        files = {page.path: render_page(page, pictures, THEME) for page in pages} | dict(site_assets(pages, THEME, TODAY))
        for path, data in files.items():
            place = whole / name / path
            place.parent.mkdir(parents=True, exist_ok=True)
            place.write_bytes(data)
        Image.new("RGB", (720, 540), "#7a8a3a").save(whole / name / "one.jpg")
    return whole


@pytest.fixture
def wide(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(bypass_csp=True, reduced_motion="reduce")
    yield context.new_page()
    context.close()


def _open(page: Page, folder: Path, name: str, path: str, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    if not page.url.endswith(f"{name}/{path}"):
        page.goto((folder / name / path).as_uri())


@pytest.mark.parametrize(
    ("name", "path"), [("sample", FIVE), ("sample", PAIR), ("sample", FAMILY), ("waders", GODWITS), ("larger", BESIDE_A_TREE)]
)
def test_pictures_and_bar_share_one_scale_at_every_width(
    wide: Page, folder: Path, guides: Mapping[str, Published], name: str, path: str
) -> None:
    """The width of each whole picture, over the millimetres that it shows, is that of the bar, over what the bar says."""
    make = make_pieces(guides[name])
    for width in WIDTHS:
        _open(wide, folder, name, path, width)
        sets = wide.evaluate(LENGTHS)
        assert sets
        for drawn in sets:
            pixels, words = drawn["bar"]
            number, unit = words.split(":")[0].split()
            scale = pixels / (float(number) * MILLIMETRES[unit])
            assert len(drawn["pictures"]) >= 2
            for photo, across in drawn["pictures"]:
                view = make.photo_of(photo)
                millimetres = find_width(view, 0.75) if view else None
                assert millimetres
                assert across / millimetres == pytest.approx(scale, rel=0.02)


@pytest.mark.parametrize(("name", "path"), [("sample", FIVE), ("sample", PAIR), ("sample", FAMILY), ("waders", GODWITS)])
def test_all_fits_or_stacks_and_pictures_stay_large(wide: Page, folder: Path, name: str, path: str) -> None:
    for width in WIDTHS:
        _open(wide, folder, name, path, width)
        assert wide.evaluate("document.documentElement.scrollWidth") == width
        frames = wide.evaluate("[...document.querySelectorAll('.window, .whole')].map(f => f.getBoundingClientRect().width)")
        assert min(frames) >= (160 if width >= 390 else 130)
        assert wide.evaluate(
            """() => [...document.querySelectorAll('.window')].every(w => { const f = w.getBoundingClientRect();
            return [...w.querySelectorAll('.ring')].every(r => { const b = r.getBoundingClientRect();
            return b.width >= 14 && b.left >= f.left - 1 && b.right <= f.right + 1
            && b.top >= f.top - 1 && b.bottom <= f.bottom + 1 }) })"""
        )


def test_small_one_is_shown_enlarged_and_at_scale(wide: Page, folder: Path) -> None:
    _open(wide, folder, "larger", BESIDE_A_TREE, 390)
    across = "c => document.querySelector(`[data-photo='parent-adult'] ${c} foreignObject`).getBoundingClientRect().width"
    widths = wide.evaluate(f"['.enlarged', '.true'].map({across})")
    said = wide.locator("[data-photo='parent-adult'] .times").first.inner_text()
    assert said.startswith("× ")
    assert widths[0] / widths[1] == pytest.approx(float(said.split()[1]), rel=0.02)


def test_picture_without_a_line_stands_apart_and_says_so(wide: Page, folder: Path) -> None:
    _open(wide, folder, "larger", UNMEASURED, 390)
    assert wide.locator(".one-scale figure").count() == 1
    assert wide.locator(".one-scale .scale > span").inner_text() == "5 mm", "of one alone there are no others to have the scale"
    assert wide.locator(".unscaled [data-photo='juniper-adult'] .uncut img").count() == 1
    assert wide.locator(".unscaled [data-photo='juniper-adult'] .ring").count() > 0
    assert wide.locator(".notice").first.inner_text() == "Not at that scale, as no length is measured on the picture:"
    _open(wide, folder, "waders", JUVENILES, 390)
    juveniles = wide.locator("section.group", has=wide.get_by_role("heading", name="Juveniles"))
    assert juveniles.locator(".one-scale").count() == 0
    assert juveniles.locator(".notice").inner_text() == "Not at one scale, as no length is measured on these pictures:"


def test_what_all_share_is_folded_and_opens(wide: Page, folder: Path) -> None:
    _open(wide, folder, "sample", FIVE, 390)
    shared = wide.locator("details.agreed")
    assert not shared.locator("dd").first.is_visible()
    shared.locator("summary").focus()
    wide.keyboard.press("Enter")
    assert shared.locator("dd").first.is_visible()


LINES = """
() => [...document.querySelectorAll('.answers li')].map(li => {
  const tops = new Set(), walker = document.createTreeWalker(li, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const range = document.createRange();
    range.selectNodeContents(walker.currentNode);
    if (walker.currentNode.data.trim()) for (const box of range.getClientRects()) tops.add(Math.round(box.bottom));
  }
  const link = li.querySelector('a').getBoundingClientRect();
  return {tops: [...tops].sort((a, b) => a - b), link: [link.top, link.bottom], size: parseFloat(getComputedStyle(li).fontSize)};
})
"""


@pytest.mark.parametrize(("name", "path"), [("sample", FIVE), ("waders", GODWITS)])
def test_lines_of_an_answer_stand_as_close_as_lines_do(wide: Page, folder: Path, name: str, path: str) -> None:
    """Also where the link at its end, as high as a finger is broad, comes to stand on another line; no two links share a spot."""
    wrapped = 0
    for width in (280, *WIDTHS):
        _open(wide, folder, name, path, width)
        answers = wide.evaluate(LINES)
        assert answers
        for one in answers:
            wrapped += len(one["tops"]) > 1
            assert all(below - above < one["size"] * 1.5 for above, below in pairwise(one["tops"])), (width, one)
            assert one["link"][1] - one["link"][0] >= 44
        assert all(above["link"][1] <= below["link"][0] + 1 for above, below in pairwise(answers)), width
    assert wrapped


def test_a_name_of_one_line_stands_as_close_to_what_is_under_it_as_one_of_two(wide: Page, folder: Path) -> None:
    """Though as a link it is as high as a finger is broad."""
    _open(wide, folder, "sample", FIVE, 390)
    told = wide.evaluate(
        """() => [...document.querySelectorAll('.side figcaption')].map(one => {
        const link = one.querySelector(':is(h2, h3) a'), words = document.createRange();
        words.selectNodeContents(link);
        const lines = new Set([...words.getClientRects()].map(box => Math.round(box.bottom)));
        const [height, foot] = [link.getBoundingClientRect().height, Math.max(...lines)];
        return [lines.size, height, one.querySelector('.latin').getBoundingClientRect().top - foot] })"""
    )
    assert {lines for lines, _, _ in told} == {1, 2}
    assert all(height >= 44 and -4 < gap < 6 for _, height, gap in told), told


@pytest.mark.skipif(not AXE.is_file(), reason="needs `npm install` in tests/browser")
def test_axe_finds_nothing_in_any_look(wide: Page, folder: Path) -> None:
    axe, found = AXE.read_text(encoding="utf-8"), []
    for name, path in (("sample", FIVE), ("larger", BESIDE_A_TREE)):
        _open(wide, folder, name, path, 390)
        wide.evaluate(axe)
        for scheme in ("light", "dark"):
            wide.emulate_media(color_scheme=scheme)  # type: ignore[arg-type]
            only = {"type": "tag", "values": RULES} if scheme == "light" else {"type": "rule", "values": OF_LOOK}
            told = wide.evaluate("(only) => axe.run(document, {preload: false, runOnly: only})", only)
            found += [(path, scheme, one["id"], one["nodes"][0]["target"]) for one in told["violations"]]
    assert found == []
