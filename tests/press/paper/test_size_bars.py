"""How large things are drawn: one scale for all on one print, and bars as long as it says."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.press.paper.drawing import PLAIN
from guidebuild.press.paper.size_bars import choose_scale, draw_height, draw_size, draw_width
from guidebuild.views.pieces.common import SizeView
from guidebuild.views.pieces.sizes import SCALES, THINGS, SizesView, choose_thing, is_height, sizes_together
from guidebuild.words import words

SAY = words("en")
A6_LINE, PANEL_LINE = 95.0, 64.0
BOX = re.compile(r'viewBox="0 0 ([\d.]+) ([\d.]+)"')
RECTANGLE = re.compile(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)"')
LENGTHS = st.floats(0.02, 60_000)


def size(low: float | None, high: float | None, *, upright: bool = False) -> SizeView:
    return SizeView(f"{low}–{high} mm", low=low, high=high, upright=upright)


def together(*sizes: SizeView, beside: str = "") -> SizesView:
    return sizes_together(sizes, beside, SAY)


def drawn_length(one: SizeView, among: SizesView, line: float) -> float | None:
    scale = choose_scale(among, line)
    drawn = draw_size(one, scale, "words", PLAIN) if scale else None
    bars = RECTANGLE.findall(drawn) if drawn else []
    # The outline of the open part lies inside its length: half of a hairline is left out at its end.
    return float(bars[-1][0]) + float(bars[-1][1]) if bars else None


@pytest.mark.parametrize(
    ("millimetres", "line", "said"),
    [
        (17, A6_LINE, "life size"),  # Hawthorn Shieldbug
        (82, A6_LINE, "life size"),  # a hawk-moth has a line of its own
        (100, A6_LINE, "bar: one fifth of life size; bank card: 8.6 cm"),
        (200, A6_LINE, "bar: one tenth of life size; hand: 18 cm"),
        (570, A6_LINE, "bar: one twentieth of life size; hand: 18 cm"),
        (570, PANEL_LINE, "bar: one twentieth of life size"),
        (1900, A6_LINE, "bar: one hundredth of life size; person: 1.7 m"),
        (0.6, A6_LINE, "bar: ten times life size"),
        (0.04, A6_LINE, "bar: a hundred times life size"),
    ],
)
def test_the_scale_is_said_in_words(millimetres: float, line: float, said: str) -> None:
    scale = choose_scale(together(size(None, millimetres)), line)
    assert scale is not None
    assert scale.said == said


@pytest.mark.parametrize(("millimetres", "said"), [(20, "life size"), (450, "bar: one twentieth of life size; hand: 18 cm")])
def test_a_height_has_less_room_than_a_length(millimetres: float, said: str) -> None:
    scale = choose_scale(together(size(None, millimetres, upright=True)), A6_LINE)
    assert scale is not None
    assert scale.said == said


@given(st.lists(st.tuples(LENGTHS, st.floats(0, 1), st.booleans()), min_size=1, max_size=8), st.floats(25, 190))
def test_all_bars_of_a_print_are_drawn_to_the_scale_that_is_said(drawn: list[tuple[float, float, bool]], line: float) -> None:
    sizes = [size(high * share or None, high, upright=upright) for high, share, upright in drawn]
    among = together(*sizes)
    scale = choose_scale(among, line)
    if scale is None:  # nothing is drawn at all
        assert max(one.high or 0 for one in sizes) > line * 0.25 * 2000
        return
    for one in sizes:
        length = drawn_length(one, among, line)
        if length is not None:
            assert length == pytest.approx((one.high or 0) * scale.times, abs=0.1)
        else:
            assert (one.high or 0) * scale.times < 0.25


@given(st.lists(st.tuples(LENGTHS, st.booleans()), min_size=1, max_size=6), st.floats(25, 190), st.sampled_from(["", "none", *THINGS]))
def test_what_is_drawn_fits_its_line(drawn: list[tuple[float, bool]], line: float, beside: str) -> None:
    sizes = [size(None, high, upright=upright) for high, upright in drawn]
    scale = choose_scale(together(*sizes, beside=beside), line)
    for one in sizes:
        picture = draw_size(one, scale, "words", PLAIN) if scale else None
        if scale and picture:
            box = BOX.search(picture)
            assert box
            assert float(box[1]) <= line * 0.9
            assert float(box[2]) <= max(line * 0.25, 23) + 0.2
            assert float(box[1]) == pytest.approx(draw_width(one, scale), abs=0.01)
            assert float(box[2]) == pytest.approx(draw_height(one, scale), abs=1)


@given(LENGTHS, st.floats(70, 190))
def test_a_wider_line_never_has_a_smaller_scale_and_no_larger_one_fits(largest: float, line: float) -> None:
    among = together(size(None, largest), beside="none")
    narrow, wide = choose_scale(among, line), choose_scale(among, line * 1.5)
    assert (narrow.times if narrow else 0) <= (wide.times if wide else 0)
    if narrow and narrow.times < 1:
        larger = min(times for times, _ in SCALES if times > narrow.times)
        assert largest * larger > line * 0.45


@given(st.floats(1, 60_000))
def test_nothing_of_a_millimetre_or_more_is_enlarged(largest: float) -> None:
    scale = choose_scale(together(size(None, largest)), A6_LINE)
    assert scale is None or scale.times <= 1


@pytest.mark.parametrize(
    ("largest", "thing"), [(45, "card"), (100, "card"), (200, "hand"), (570, "hand"), (1500, "person"), (30_000, "person")]
)
def test_the_familiar_thing_is_about_as_large_as_the_largest(largest: float, thing: str) -> None:
    assert choose_thing(largest) == thing


def test_a_guide_chooses_its_familiar_thing_or_none() -> None:
    bird = size(480, 570)
    chosen = {beside: choose_scale(together(bird, beside=beside), A6_LINE) for beside in ("hand", "card", "person", "none")}
    assert {name: scale.thing.id if scale and scale.thing else "" for name, scale in chosen.items()} == {
        "hand": "hand", "card": "card", "person": "person", "none": "",
    }  # fmt: skip


def test_a_bar_is_solid_up_to_the_least_and_open_up_to_the_greatest() -> None:
    bird, scale = size(100, 200), choose_scale(together(size(100, 200), beside="none"), A6_LINE)
    assert scale is not None
    drawn = draw_size(bird, scale, "words", PLAIN)
    assert drawn is not None
    (_, solid), (start, _) = RECTANGLE.findall(drawn)
    assert float(solid) == float(start) == pytest.approx(100 * scale.times)


def test_a_size_without_a_greatest_has_no_bar() -> None:
    assert choose_scale(together(size(30, None)), A6_LINE) is None


def test_a_card_has_the_shape_of_its_norm() -> None:
    """ISO/IEC 7810, ID-1: 85.60 by 53.98 mm (the format `id-1` has it from the same norm)."""
    card = THINGS["card"]
    assert (card.height, card.width) == (85.6, 53.98)


@pytest.mark.parametrize(
    ("measured", "upright"),
    [
        ("height", True),
        ("tall", True),
        ("stem height", True),
        ("altura", True),
        ("body length", False),
        ("cap width", False),
        ("", False),
        ("thigh", False),
    ],
)
def test_heights_are_known_by_their_word(measured: str, upright: bool) -> None:
    assert is_height(measured) is upright
