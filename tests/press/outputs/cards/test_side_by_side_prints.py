"""Comparison sheets on paper: pictures and bar at one scale, what has no scale said so, all of it passing as PDF/UA."""

from __future__ import annotations

import io
from collections.abc import Iterator, Mapping
from dataclasses import replace
from functools import cache
from math import hypot
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from PIL import Image

from guidebuild.fieldwork.published import make_published
from guidebuild.guide.guide import Guide
from guidebuild.press.outputs.cards import comparison
from guidebuild.press.outputs.cards.comparison import CompareWork, render_sheet, sheet_area
from guidebuild.press.paper.flow import walk
from guidebuild.press.paper.formats import paper_named
from guidebuild.press.photos.print_copy import Picture
from guidebuild.reading.whole import read_guide
from guidebuild.shipped import on_disk, themes
from guidebuild.views.telling.compare_sheet import CompareSheet, compare_sheets
from tests.press.outputs.cards.test_telling_prints import judged

THEME = (on_disk(themes().joinpath("plate")),)
ROOT = Path(__file__).parents[4]
POINT = 25.4 / 72
BAR = 0.35 / POINT
"""Width of a scale bar's line, points."""
ENDS = 0.2 / POINT
"""Its two ends are strokes as wide as this, and it is as long as from outer edge to outer edge."""
MILLIMETRES = {"mm": 1.0, "cm": 10.0}
NO_LINE = "Not at that scale, as no length is measured on the picture"


@cache
def read(name: str) -> Guide:
    guide = read_guide(ROOT / name).guide
    assert guide is not None
    return guide


def find_sheet(guide: Guide, start: str) -> CompareSheet:
    return next(sheet for sheet in compare_sheets(make_published(guide)) if sheet.id.startswith(start))


@pytest.fixture(scope="module")
def colours(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("colours")


@pytest.fixture(scope="module")
def five(colours: Path) -> tuple[CompareSheet, Mapping[str, Picture], bytes]:
    """The sheet of five look-alikes, of whose nymphs one has no picture."""
    sheet = find_sheet(read("sample_guide"), "birch")
    return (sheet, *draw(sheet, colours))


def draw(sheet: CompareSheet, folder: Path) -> tuple[Mapping[str, Picture], bytes]:
    """The sheet with pictures of one colour each, all of another width, so that an image in the file can be told by it."""
    pictures = {}
    for number, photo in enumerate(sheet.photos):
        path = folder / f"{photo}.jpg"
        wide, high = 100 + number, 75  # so few that none is made smaller
        Image.new("RGB", (wide, high), "#7a8a3a").save(path)
        pictures[photo] = Picture(path, wide, high, None)
    made = render_sheet(CompareWork(sheet, tuple(pictures.items()), sheet_area(sheet, paper_named("a4").size), THEME))
    assert made.problems == ()
    return pictures, made.parts[0]


def test_ten_millimetres_are_ten_at_the_scale_of_the_bar(five: tuple[CompareSheet, Mapping[str, Picture], bytes]) -> None:
    """The measured line of each picture is as long as the bar says: 10 mm are 10 mm ± 0.05 mm, times the scale."""
    assert measure_pictures(*five) == len(five[1])


def test_birds_of_forty_and_of_twenty_centimetres_share_a_scale(colours: Path) -> None:
    sheet = find_sheet(read("tests/guides/estuary-waders"), "bar")
    pictures, data = draw(sheet, colours)
    assert measure_pictures(sheet, pictures, data) == len(pictures)


def measure_pictures(sheet: CompareSheet, pictures: Mapping[str, Picture], data: bytes) -> int:
    """How many pictures of a sheet were held against a bar on their page."""
    views = {plate.photo.id: plate.photo for stage in sheet.compared.stages for plate in stage.pictures.plates if plate.photo}
    by_width = {picture.width: views[photo] for photo, picture in pictures.items()}
    measured = 0
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        for page in pdf.pages:
            scales = [
                (line["x1"] - line["x0"] + ENDS) / (float(number["text"]) * MILLIMETRES[unit["text"].strip(":")])
                for line in page.lines
                if line["linewidth"] == pytest.approx(BAR, abs=0.02) and line["width"] > line["height"]
                for number, unit in [_find_words_under(page, line)]
            ]
            for image in page.images:
                view = by_width[image["srcsize"][0]]
                assert view.measured
                assert view.length
                x1, y1, x2, y2 = view.measured
                drawn = hypot((x2 - x1) / 100 * image["width"], (y2 - y1) / 100 * image["height"])
                # Each stage has a scale of its own, and stages follow one another down the page.
                assert any(abs(drawn / view.length / scale - 1) <= 0.005 for scale in scales), (view.id, drawn, scales)
                measured += 1
    return measured


def _find_words_under(page: pdfplumber.page.Page, line: Mapping[str, float]) -> list[Mapping[str, str]]:
    """The two words that stand next under the beginning of a line."""
    under = [word for word in page.extract_words() if word["top"] > line["top"] - 1 and word["x0"] < line["x0"] + 40]
    return sorted(under, key=lambda word: (round(word["top"]), word["x0"]))[:2]


def test_picture_without_a_line_is_shown_and_says_so(colours: Path, tmp_path: Path) -> None:
    guide = read("sample_guide")
    photos = {**guide.photos, "juniper-adult": replace(guide.photos["juniper-adult"], measured=None)}
    accounts = {i: guide.accounts[i] for i in ("hawthorn-shieldbug", "juniper-shieldbug")}
    alike = replace(guide, photos=photos, accounts=accounts)
    sheet = next(s for s in compare_sheets(make_published(alike)) if s.id == "hawthorn-shieldbug--juniper-shieldbug")
    pictures, data = draw(sheet, colours)
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        text = " ".join(" ".join(page.extract_text() for page in pdf.pages).split())
        assert sum(len(page.images) for page in pdf.pages) == len(pictures)
    assert all(word in text for word in NO_LINE.split())
    assert judged(data, tmp_path) == []


def test_sheet_with_pictures_passes_as_pdf_ua(five: tuple[CompareSheet, Mapping[str, Picture], bytes], tmp_path: Path) -> None:
    assert judged(five[2], tmp_path) == []


def test_sheet_says_what_the_page_says(five: tuple[CompareSheet, Mapping[str, Picture], bytes]) -> None:
    with pdfplumber.open(io.BytesIO(five[2])) as pdf:
        letters = "".join("".join(page.extract_text().split()) for page in pdf.pages)
    for stage in five[0].compared.stages:
        assert stage.pictures.heading.capitalize() in letters
        assert all("".join(row.label.split()) in letters for row in stage.separating)
    assert "Nopictureofthisstageyet" in letters


def keep_stages(sheet: CompareSheet, first: int) -> CompareSheet:
    """The sheet without the stages before this one."""
    return replace(sheet, compared=replace(sheet.compared, stages=sheet.compared.stages[first:]))


@pytest.mark.parametrize(
    ("name", "start", "first_stage", "large", "printed"),
    [
        ("tests/guides/estuary-waders", "redshank", 1, 2, 1),  # two of its three plumages
        ("sample_guide", "birch", 0, 3, 2),
        ("tests/guides/estuary-waders", "redshank", 0, 2, 2),  # nothing is saved, so nothing gives way
    ],
)
def test_pictures_give_way_where_that_saves_a_page(
    name: str, start: str, first_stage: int, large: int, printed: int, colours: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    sheet = keep_stages(find_sheet(read(name), start), first_stage)
    monkeypatch.setattr(comparison, "pull_back", lambda lay_out, _: lay_out(1.0))  # which saves a page in its own way
    monkeypatch.setattr(comparison, "tell_short", lambda *_: ())
    pages, widths = find_layout(draw(sheet, colours)[1])
    monkeypatch.setattr(comparison, "_PICTURES", comparison._PICTURES[:1])
    pages_of_large, largest = find_layout(draw(sheet, colours)[1])
    assert (pages_of_large, pages) == (large, printed)
    assert (widths == largest) == (large == printed)


def find_layout(data: bytes) -> tuple[int, list[float]]:
    """How many pages a sheet has, and how wide its pictures are."""
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        return len(pdf.pages), [round(image["width"], 1) for page in pdf.pages for image in page.images]


def test_no_page_ends_with_a_heading(colours: Path) -> None:
    data = draw(find_sheet(read("tests/guides/estuary-waders"), "redshank"), colours)[1]
    with pdfplumber.open(io.BytesIO(data)) as pdf:
        assert [page.extract_text().splitlines()[-1] for page in pdf.pages].count("What tells them apart") == 0
        assert sum(page.extract_text().count("What tells them apart") for page in pdf.pages) == 3


@pytest.mark.parametrize(("name", "start"), [("tests/guides/estuary-waders", "redshank"), ("sample_guide", "birch")])
def test_no_further_stage_begins_at_the_foot_of_a_page(name: str, start: str, colours: Path) -> None:
    """Its names, pictures and marks stand on one page, wherever the foot of the paper happens to be; so they do not lie on two sheets."""
    sheet = find_sheet(read(name), start)
    pictures = {photo: Picture(colours / f"{photo}.jpg", 100, 75, None) for photo in sheet.photos}
    for picture in pictures.values():
        Image.new("RGB", (100, 75), "#7a8a3a").save(picture.path)
    css = (THEME[0] / "cards" / "compare.css").read_text("utf-8")
    turned = sheet_area(sheet, paper_named("a4").size)
    begun = 0
    for less in range(0, 60, 6):
        work = CompareWork(sheet, tuple(pictures.items()), replace(turned, height=turned.height - less), THEME)
        pages = [list(find_parts(page._page_box)) for page in comparison._laid(work, css, 1.0).document.pages]
        parts = [part for page in pages for part in page]
        assert len(parts) == len(set(parts)) == len(sheet.compared.stages) - 1, less
        begun += sum(bool(page) for page in pages[1:])
    assert begun


def find_parts(page: Any) -> Iterator[int]:
    """The pictures of further stages that have a part on a page."""
    found = (box.element for box in walk(page, flow=True) if box.element_tag == "tbody" and "further" in box.element.get("class", ""))
    return map(id, dict.fromkeys(found))
