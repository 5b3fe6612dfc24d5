"""Colours turned into inks, judged by what others make of them: PDFium draws the file of inks as the one of light (pypdfium2).

The press is invented: its inks take away what a screen takes them for, so that both drawings must look alike.
"""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pypdfium2
import pytest
from PIL import Image, ImageChops, ImageStat

from guidebuild.fieldwork.published import make_published
from guidebuild.press.outputs.cards.jobs import CardWork, Look, print_card
from guidebuild.press.paper.formats import format_named
from guidebuild.press.paper.into_inks import InksOf
from guidebuild.press.paper.output_profile import OutputProfile, read_profile, srgb_output
from guidebuild.press.paper.print_shop import ShopWish, to_print_shop
from guidebuild.views.cards.card import card_views
from tests.outside.invented_presses import plain_press
from tests.press.small_guide import THEME, drawn_picture, guide


@pytest.fixture(scope="module")
def press() -> OutputProfile:
    return plain_press()


@pytest.fixture(scope="module")
def card(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A card with a picture, as it is printed for a shop before its colours are turned."""
    pictures = (("plate", drawn_picture(tmp_path_factory.mktemp("card"))),)
    look = Look(format_named("a6"), THEME, False, 3.0)
    return print_card(CardWork(card_views(make_published(guide()))[0], pictures, look)).pdf


def drawn(data: bytes, page: int) -> Image.Image:
    with pypdfium2.PdfDocument(data) as opened:
        picture: Image.Image = opened[page].render(scale=1.5).to_pil().convert("RGB")
        return picture


def test_a_card_in_inks_looks_as_it_did(card: bytes, press: OutputProfile) -> None:
    inked = to_print_shop(card, ShopWish(press, marks=False))
    for page in (0, 1):
        before, after = drawn(card, page), drawn(inked, page)
        assert before.size == after.size
        assert max(ImageStat.Stat(ImageChops.difference(before, after)).mean) < 6, page
        assert min(ImageStat.Stat(before).stddev) > 15, "nothing is drawn that could differ"


def test_nothing_is_left_in_light(card: bytes, press: OutputProfile) -> None:
    with pikepdf.open(io.BytesIO(to_print_shop(card, ShopWish(press, marks=False)))) as pdf:
        streams = [one for one in pdf.objects if isinstance(one, pikepdf.Stream)]
        pictures = [one for one in streams if one.get("/Subtype") == pikepdf.Name.Image]
        assert pictures
        assert {str(one.ColorSpace) for one in pictures} <= {"/DeviceCMYK", "/DeviceGray"}
        holders = [*(page.obj for page in pdf.pages), *(one for one in streams if one.get("/Subtype") == pikepdf.Name.Form)]
        used = {str(step.operator) for holder in holders for step in pikepdf.parse_content_stream(holder)}
        assert "k" in used
        assert not used & {"rg", "RG", "sc", "scn", "SC", "SCN", "cs", "CS"}


def test_a_file_for_no_press_of_four_inks_stays_in_light(card: bytes) -> None:
    with pikepdf.open(io.BytesIO(to_print_shop(card))) as pdf:
        used = {str(step.operator) for page in pdf.pages for step in pikepdf.parse_content_stream(page)}
    assert "rg" in used
    assert "k" not in used


@pytest.mark.parametrize("grey", [0.0, 0.25, 0.5, 1.0])
def test_black_and_grey_of_type_are_black_ink_alone(press: OutputProfile, grey: float) -> None:
    """Common practice, no source: small type in four inks has coloured edges where they do not meet."""
    assert InksOf(press).of_colour(grey, grey, grey) == pytest.approx((0, 0, 0, 1 - grey))


@pytest.mark.parametrize(
    ("colour", "inks"), [((1, 0, 0), (0, 1, 1, 0)), ((0, 1, 0), (1, 0, 1, 0)), ((0, 0, 1), (1, 1, 0, 0)), ((0, 1, 1), (1, 0, 0, 0))]
)
def test_colours_take_the_inks_that_make_them(press: OutputProfile, colour: tuple[int, ...], inks: tuple[int, ...]) -> None:
    assert InksOf(press).of_colour(*colour) == pytest.approx(inks, abs=0.12)


def test_the_same_file_gives_the_same_bytes(card: bytes, press: OutputProfile, tmp_path: Path) -> None:
    assert to_print_shop(card, ShopWish(press)) == to_print_shop(card, ShopWish(press))


def test_a_profile_that_cannot_say_its_inks_is_refused() -> None:
    """Tables for three inks under the name of four."""
    broken = bytearray(srgb_output().data)
    broken[16:20] = b"CMYK"
    with pytest.raises(ValueError, match=r"press\.icc does not say how colours become inks; ask the print shop"):
        read_profile(bytes(broken), "press.icc")
