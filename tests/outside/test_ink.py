"""How much ink a picture takes (total area coverage, as printers reckon it: the sum of the inks of one spot, per cent of one full ink).

Judged on an invented press whose inks follow lightness in a straight line, so that each sum is known beforehand; the profile is read by
LittleCMS as any shop's. Lightness of sRGB greys: CIE 15 (L* of 8-bit 119 is 50.0).
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image, ImageCms

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.jobs import CardWork, Look
from guidebuild.press.outputs.cards.shop import make_shop_card
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.ink import reckon_ink
from guidebuild.press.paper.output_profile import OutputProfile, srgb_output
from guidebuild.press.paper.print_shop import ShopWish
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.cards.card import card_views
from tests.outside.invented_presses import lightness_press
from tests.press.small_guide import THEME, drawn_picture, guide


@pytest.fixture(scope="module")
def press() -> OutputProfile:
    return lightness_press()


def test_the_press_is_read_as_one_of_four_inks(press: OutputProfile) -> None:
    assert press.cmyk
    assert ImageCms.getProfileDescription(ImageCms.ImageCmsProfile(io.BytesIO(press.data))).strip() == "an invented press"


@pytest.mark.parametrize(("grey", "ink"), [(0, 340.0), (119, 170.0), (255, 0.0)])
def test_ink_is_the_sum_of_all_inks(press: OutputProfile, grey: int, ink: float) -> None:
    used = reckon_ink(Image.new("RGB", (40, 30), (grey, grey, grey)), press, 300)
    assert used.most == pytest.approx(ink, abs=5)
    assert used.over == (1.0 if ink > 300 else 0.0)


def test_the_share_that_is_over_is_told_and_single_pixels_are_not(press: OutputProfile) -> None:
    picture = Image.new("RGB", (100, 100), "white")
    picture.paste("black", (0, 0, 50, 50))
    assert reckon_ink(picture, press, 300).over == pytest.approx(0.25)
    speck = Image.new("RGB", (400, 400), "white")
    speck.paste("black", (10, 10, 14, 14))
    assert reckon_ink(speck, press, 300).most < 10


@pytest.mark.parametrize(("limit", "said"), [(0, False), (400, False), (200, True)])
def test_a_card_for_the_shop_names_the_picture(press: OutputProfile, tmp_path: Path, limit: int, said: bool) -> None:
    found = list(wet(tmp_path, ShopWish(press, ink_limit=limit)))
    assert bool(found) is said
    if said:
        assert found[0].startswith("card parent: the picture “plate” takes up to ")
        assert "% ink where the limit is 200%, on " in found[0]


def test_without_a_press_of_four_inks_nothing_is_said_of_ink(tmp_path: Path) -> None:
    assert wet(tmp_path, ShopWish(None, ink_limit=100)) == wet(tmp_path, ShopWish(srgb_output(), ink_limit=100)) == []


def wet(folder: Path, wish: ShopWish) -> list[str]:
    picture: Picture = drawn_picture(folder)
    work = CardWork(card_views(make_published(guide()))[0], (("plate", picture),), Look(format_named("a6"), THEME, False, 3.0), wish)
    return [str(problem) for problem in make_shop_card(work).problems if problem.what == "too-much-ink"]
