"""Pictures on paper: no more pixels than the place that they are printed in has room for."""

import io
from pathlib import Path

import pytest
from PIL import Image

from guidebuild.press.paper.fetching import BASE, GuideFetcher
from guidebuild.press.photos.copies import Recipe
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.print_copy import Picture, read_picture
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
    "address", ["pictures/300/other.jpg", "pictures/toad.jpg", "pictures/wide/toad.jpg", "photos/300/toad.jpg", "pictures/300/../toad.jpg"]
)
def test_no_other_address_is_a_picture(picture: Picture, address: str) -> None:
    assert read_picture(address, {picture.path.name: picture}) is None


def test_a_small_print_is_compressed_less(picture: Picture) -> None:
    """Steps of the JPEG tables: the larger, the more is lost."""

    def steps(width: int) -> int:
        with Image.open(io.BytesIO(picture.read(width))) as printed:
            return sum(map(sum, printed.quantization.values()))

    assert steps(430) == steps(719) < steps(720) == steps(1199)
