"""Drawings are true to size, say their words, and read without colour."""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy as np
import pdfplumber
import pytest
import segno
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import HIGH_CONTRAST, PLAIN, Inks, PictureSpot, fit_picture, magnification_of, said_scale
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.plates import BADGE, draw_plate
from guidebuild.press.paper.setup import CardResult
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.pieces.common import MOST_SEEN, NOTHING, PRESENT, MarkView, SeasonRow

NUMBER = re.compile(r'width="([\d.]+)mm"')


def luminance(colour: str) -> float:
    """WCAG 2.2, “relative luminance”."""
    parts = [int(colour[n : n + 2], 16) / 255 for n in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


@pytest.mark.parametrize("inks", [PLAIN, HIGH_CONTRAST], ids=["plain", "high contrast"])
def test_text_inks_reach_four_and_a_half_to_one(inks: Inks) -> None:
    """WCAG 2.2, 1.4.3; on white and on the tone behind plates, and white on the badges."""
    for ink in (inks.text, inks.leaf, inks.haw):
        assert contrast(ink, "#ffffff") >= 4.5
        assert contrast(ink, inks.tone) >= 4.5
    assert contrast("#000000", "#ffe9a8") >= 4.5


def test_tone_is_heavy_enough_to_print() -> None:
    """Look of the project: tone of at least 8 %, as the share of light that grey paper would keep back."""
    grey = Image.new("RGB", (1, 1), PLAIN.tone).convert("L").getpixel((0, 0))
    assert isinstance(grey, int)
    assert 1 - grey / 255 >= 0.08


def test_a_season_bar_reads_in_grey_by_height_alone() -> None:
    row = SeasonRow("adult", tuple([NOTHING] * 12 + [PRESENT] * 12 + [MOST_SEEN] * 12), "May to December; most seen from September")
    svg = drawing.season_row(row, 72, 4, PLAIN)
    bars = re.findall(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="([\d.]+)" fill="(#\w+)"', svg)
    assert [(float(x), float(w)) for x, w, _, _ in bars] == [(24, 48), (48, 24)]
    low, high = float(bars[0][2]), float(bars[1][2])
    assert high >= 2 * low
    assert len({colour for *_, colour in bars}) == 1


def test_season_bars_on_the_card_are_dark_in_grey(cards: tuple[CardResult, ...]) -> None:
    with pdfplumber.open(io.BytesIO(cards[0].pdf)) as opened:
        page = opened.pages[1]
        grey = np.asarray(page.to_image(resolution=100).original.convert("L"))
    assert (grey < 110).sum() > 500
    assert contrast(PLAIN.leaf, "#ffffff") > 4.5


@pytest.mark.parametrize(
    ("times", "said"), [(4.05, "× 4"), (4.12, "× 4.1"), (1.01, "× 1"), (1.05, "× 1.05"), (0.456, "× 0.46"), (39.4, "× 39")]
)
def test_magnifications_are_said_in_few_figures(times: float, said: str) -> None:
    assert said_scale(times) == said


@given(st.floats(0.2, 300))
def test_a_magnification_is_never_said_more_than_a_fortieth_off(times: float) -> None:
    assert float(said_scale(times).removeprefix("× ")) == pytest.approx(times, rel=1 / 40)


def test_magnification_is_worked_out_from_the_measured_line() -> None:
    spot = PictureSpot(10, 5, 80, 60)
    assert magnification_of(spot, (50, 0, 50, 50), 10) == pytest.approx(3)


def test_a_scale_bar_is_a_round_number_of_millimetres() -> None:
    made = drawing.scale_bar(4, 25, PLAIN)
    assert made is not None
    svg, length = made
    found = NUMBER.search(svg)
    assert found is not None
    assert (length, float(found[1])) == (5, 20)
    assert drawing.scale_bar(0.001, 25, PLAIN) is None


def test_pictures_are_fitted_whole() -> None:
    spot = fit_picture(Area(90, 60), (300, 100))
    assert (spot.x, spot.y, spot.width, spot.height) == pytest.approx((0, 15, 90, 30))


def test_badges_never_touch_and_stay_on_the_plate() -> None:
    marks = [MarkView(n, "mark", (80.0, 50.0 + n / 10), "p") for n in range(1, 10)]
    svg = draw_plate(Picture(Path("p.jpg"), 1600, 1000), Area(95, 60), PictureSpot(0, 0, 95, 60), marks, "alt", PLAIN)
    places = [float(y) for y in re.findall(rf'cy="([\d.]+)" r="{BADGE}"', svg)]
    assert len(places) == 9
    assert min(places) >= BADGE
    assert max(places) <= 60 - BADGE
    gaps = [b - a for a, b in zip(sorted(places), sorted(places)[1:], strict=False)]
    assert min(gaps) >= 2 * BADGE


def test_words_in_drawings_cannot_break_out() -> None:
    svg = draw_plate(Picture(Path("p.jpg"), 1600, 1600), Area(10, 10), PictureSpot(0, 0, 10, 10), (), "<script>&", PLAIN)
    assert "<title>&lt;script&gt;&amp;</title>" in svg


def test_the_code_is_that_of_the_address() -> None:
    """The same dark modules as segno draws, by area."""
    address = "https://hedge.example/guide/accounts/parent.html"
    svg = drawing.draw_code(address, 17)
    dark = sum(int(n) for n in re.findall(r"h(\d+)v1", svg))
    matrix = segno.make(address, error="m", micro=False, boost_error=True).matrix
    assert dark == sum(sum(row) for row in matrix)


def test_a_close_up_is_cut_from_the_picture_where_its_mark_is() -> None:
    """A mark of a thirtieth of the width: no more is loaded than its round window shows, and its middle is the mark."""
    marks = [MarkView(1, "mark", (40.0, 60.0), "p", wide=3.0)]
    picture = Picture(Path("p.jpg"), 1122, 842, None, Path("near.jpg"), 2805)
    svg = draw_plate(picture, Area(95, 71), PictureSpot(0, 0, 95, 71), marks, "alt", PLAIN)
    (found,) = re.findall(r'href="pictures/(\d+)/(\d+)\.(\d+)\.(\d+)\.(\d+)/p\.jpg" x="[\d.]+" y="[\d.]+" width="([\d.]+)"', svg)
    pixels, left, top, right, bottom = map(int, found[:5])
    assert ((left + right) / 200, (top + bottom) / 200) == pytest.approx((40, 60), abs=0.02)
    assert pixels / float(found[5]) * 25.4 == pytest.approx(300, abs=3)  # the copy printed whole has but 300 / 2 there
    assert right - left < 2000
