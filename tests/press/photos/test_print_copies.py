"""Pictures on paper: no more pixels than the place that they are printed in has room for."""

import io
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.photos.copies import Recipe
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.print_copy import Part, Picture, read_picture
from tests.press.photos.pieces_of_pictures import copies, flat, saved

CREDIT = Credit("Ann & Bo", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/")


@pytest.fixture
def picture(tmp_path: Path) -> Picture:
    made = copies(saved(flat((1200, 900))), Recipe((1200,), ("print",), credit=CREDIT))
    path = tmp_path / "toad.jpg"
    path.write_bytes(made.copies[0].data)
    return Picture(path, 1200, 900, CREDIT)


@pytest.mark.parametrize(("millimetres", "pixels"), [(50.8, 600), (25.4, 300), (99, 1200), (101.6, 1200), (200, 1200)])
def test_picture_is_printed_at_300_pixels_an_inch_or_with_all_it_has(picture: Picture, millimetres: float, pixels: int) -> None:
    data = GuideFetcher(pictures=[picture]).fetch(BASE + picture.address(millimetres)).read()
    with Image.open(io.BytesIO(data)) as printed:
        assert printed.size == (pixels, pixels * 3 // 4)


def test_smaller_copy_for_print_carries_the_credit(picture: Picture) -> None:
    for width in (300, 1200, 0):  # a theme may ask for none
        with Image.open(io.BytesIO(picture.read(width))) as printed:
            assert "<rdf:li>Ann &amp; Bo</rdf:li>" in printed.info["xmp"].decode()


@pytest.mark.parametrize(
    "address",
    ["pictures/300/other.jpg", "pictures/toad.jpg", "pictures/wide/toad.jpg", "photos/300/toad.jpg", "pictures/300/../toad.jpg"]
    + [f"pictures/300/{part}/toad.jpg" for part in ("0.0.0.0", "5000.0.4000.9000", "0.0.10001.10000", "0.0.5000", "-1.0.2.2")],
)
def test_no_other_address_is_a_picture(picture: Picture, address: str) -> None:
    assert read_picture(address, {picture.path.name: picture}) is None


def test_a_part_is_cut_from_the_copy_with_most_pixels(tmp_path: Path) -> None:
    """Red left of the middle, blue right of it: the part round the middle has both, with the pixels of the larger copy."""
    for name, wide in (("fit.jpg", 400), ("near.jpg", 1600)):
        made = Image.new("RGB", (wide, wide // 2), (200, 0, 0))
        made.paste((0, 0, 200), (wide // 2, 0, wide, wide // 2))
        made.save(tmp_path / name)
    picture = Picture(tmp_path / "fit.jpg", 400, 200, CREDIT, tmp_path / "near.jpg", 1600)
    address = picture.cut_address(Part(0.4, 0.25, 0.6, 0.75), 40)
    data = read_picture(address, {"fit.jpg": picture})
    assert data is not None
    with Image.open(io.BytesIO(data)) as printed:
        assert printed.size == (320, 400)  # all that a fifth of 1,600 has: 40 mm would take 472
        assert printed.getpixel((10, 200))[0] > 150
        assert printed.getpixel((310, 200))[2] > 150
        assert "<rdf:li>Ann &amp; Bo</rdf:li>" in printed.info["xmp"].decode()
    small = read_picture(picture.cut_address(Part(0.4, 0.25, 0.6, 0.75), 12.7), {"fit.jpg": picture})
    assert small is not None
    with Image.open(io.BytesIO(small)) as printed:
        assert printed.size == (150, 188)


def test_a_small_part_is_cut_once_for_all_cards_that_show_it(picture: Picture) -> None:
    part = Part(0.1, 0.1, 0.9, 0.9)
    first, large = picture.cut(part, 200), picture.cut(part, 500)
    picture.path.unlink()
    assert picture.cut(part, 200) == first != large
    for other in (Part(0.1, 0.1, 0.9, 0.8), Part(0.0, 0.1, 0.9, 0.9)):
        with pytest.raises(FileNotFoundError):
            picture.cut(other, 200)
    with pytest.raises(FileNotFoundError):
        picture.cut(part, 500)
