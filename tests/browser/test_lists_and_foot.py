"""Lists of places with pictures and without any, and the choice of a look at the foot of every page."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, pairwise
from pathlib import Path

import pytest
from playwright.sync_api import Locator, Page, expect

from guidebuild.fieldwork.published import make_published
from tests.browser.built_site import SHOWN, build

WIDTHS = (320, 390, 820, 1280)


@pytest.fixture(scope="module")
def bare(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented guide without a single picture."""
    accounts = {ident: replace(account, photos=(), diagnostics=()) for ident, account in SHOWN.accounts.items()}
    without = replace(SHOWN, photos={}, accounts=accounts, films={}, film_files=frozenset())
    return build(tmp_path_factory.mktemp("bare") / "site", make_published(without))


@pytest.fixture(scope="module")
def pictured(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented guide with a picture of one of its two places."""
    hedge = SHOWN.places["long-hedge"]
    places = {"long-hedge": replace(hedge, photo="parent-adult"), "short-hedge": replace(hedge, id="short-hedge", name="The Short Hedge")}
    return build(tmp_path_factory.mktemp("pictured") / "site", make_published(replace(SHOWN, places={**SHOWN.places, **places})))


@pytest.fixture(scope="module")
def sourced(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The invented guide with names and an address that are longer than a line."""
    bug, source = SHOWN.accounts["parent-bug"], SHOWN.sources["handbook"]
    accounts = {**SHOWN.accounts, bug.id: replace(bug, vernacular="The Parent Bug that Stands over its Eggs and Young")}
    sources = {**SHOWN.sources, source.id: replace(source, address="https://example.org/a-long-way/to-a-handbook-of-bugs-of-hedges")}
    return build(tmp_path_factory.mktemp("sourced") / "site", make_published(replace(SHOWN, accounts=accounts, sources=sources)))


def _box(one: Locator) -> dict[str, float]:
    box = one.bounding_box()
    assert box
    return {"left": box["x"], "top": box["y"], "right": box["x"] + box["width"], "foot": box["y"] + box["height"]}


@pytest.mark.parametrize("width", WIDTHS)
def test_places_without_pictures_leave_no_room_for_them(page: Page, bare: Path, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.goto((bare / "places/index.html").as_uri())
    entries = page.locator(".places .entry")
    assert entries.count() > 0
    assert page.locator(".places img, .places .face, .places .thumb").count() == 0
    for entry in entries.all():
        whole, words = _box(entry), _box(entry.locator(".text"))
        assert words["left"] == pytest.approx(whole["left"], abs=1) and words["right"] == pytest.approx(whole["right"], abs=1)
        bar = _box(entry.locator(".bar"))
        assert bar["left"] == pytest.approx(whole["left"], abs=1) and bar["right"] <= whole["right"] + 1
    assert page.evaluate("document.documentElement.scrollWidth") == width


@pytest.mark.parametrize("width", WIDTHS)
def test_places_stand_in_line_whether_or_not_each_has_a_picture(page: Page, pictured: Path, width: int) -> None:
    page.set_viewport_size({"width": width, "height": 844})
    page.goto((pictured / "places/index.html").as_uri())
    assert (page.locator(".places .entry").count(), page.locator(".places img").count()) == (2, 1)
    for entry in page.locator(".places .entry").all():
        assert _box(entry.locator(".text"))["left"] > _box(entry)["left"] + 60


@pytest.mark.parametrize(
    ("path", "name", "first"), [("index.html", "Look", "As the device"), ("es/index.html", "Aspecto", "Como el dispositivo")]
)
def test_choice_of_a_look_says_what_is_chosen(page: Page, site: Path, path: str, name: str, first: str) -> None:
    """The four looks are one group with a name, for eyes and for screen readers; each can be hit, and its name covers none."""
    page.goto((site / path).as_uri())
    group = page.get_by_role("group", name=name, exact=True)
    expect(group.get_by_role("radio")).to_have_count(4)
    expect(group.get_by_role("radio", name=first)).to_be_checked()
    for width in WIDTHS:
        page.set_viewport_size({"width": width, "height": 844})
        legend, labels = group.locator("legend"), group.locator("label").all()
        expect(legend).to_be_visible()
        over = _box(legend)
        for label in labels:
            box = _box(label)
            assert over["foot"] <= box["top"] + 1 or over["right"] <= box["left"] + 1, (width, over, box)
            assert box["right"] <= width and box["foot"] - box["top"] >= 44


# Of each entry: the feet of its lines, how far lines stand apart, and the lines of its links (the block below it apart).
LINES = """() => [...document.querySelectorAll('.cited li')].map((entry) => {
  const range = document.createRange(), block = entry.querySelector(':scope > :is(.used, .credit)');
  range.selectNodeContents(entry);
  if (block) range.setEndBefore(block);
  const texts = document.createTreeWalker(range.commonAncestorContainer, NodeFilter.SHOW_TEXT), feet = [];
  for (let text = texts.nextNode(); text; text = texts.nextNode()) {
    const part = document.createRange();
    part.selectNodeContents(text);
    if (range.intersectsNode(text) && text.data.trim()) feet.push(...[...part.getClientRects()].map((box) => box.bottom));
  }
  return [feet.sort((a, b) => a - b), parseFloat(getComputedStyle(entry).lineHeight)];
})"""
LINKS = """() => [...document.querySelectorAll('.cited a, .by-whom a')].map((link) => [
  link.matches('.cited li > a, .used a, .by-whom a'),
  [...link.getClientRects()].map((box) => [box.left, box.top, box.right, box.bottom]),
])"""


@pytest.mark.parametrize("width", [320, 390])
@pytest.mark.parametrize("path", ["sources.html", "data.html"])
def test_links_among_sources_are_high_enough_and_part_no_lines(page: Page, sourced: Path, path: str, width: int) -> None:
    """WCAG 2.2, 2.5.5: 44 CSS pixels; no link lies over another."""
    page.set_viewport_size({"width": width, "height": 844})
    page.goto((sourced / path).as_uri())
    wrapped = 0
    for feet, apart in page.evaluate(LINES):
        steps = [below - above for above, below in pairwise(feet) if below - above > 4]
        wrapped += len(steps)
        assert steps == pytest.approx([apart] * len(steps), abs=2)
    assert wrapped > 3
    links = page.evaluate(LINKS)
    assert len(links) > 1
    assert all(foot - top >= 44 for alone, boxes in links if alone for _, top, _, foot in boxes)
    for (_, ones), (_, others) in combinations(links, 2):
        assert not [1 for a in ones for b in others if a[0] < b[2] and b[0] < a[2] and a[1] < b[3] - 1 and b[1] < a[3] - 1], (ones, others)
