"""What a photo carries unseen: how it lies, where it was taken, whose it is (cases A14 and A15 of the collected ones)."""

import io
from dataclasses import asdict

import pytest
from PIL import Image, ImageDraw, IptcImagePlugin

from guidebuild.press.photos.copies import Recipe
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.info import PictureInfo, picture_info
from tests.press.photos.pieces_of_pictures import CORNER, EVERY, SECRETS, copies, flat, near, opened, saved, telltale_photo


def with_orientation(value: int) -> bytes:
    picture = flat((400, 300))
    ImageDraw.Draw(picture).rectangle((0, 0, 80, 80), fill=CORNER)
    exif = Image.Exif()
    exif[0x0112] = value
    return saved(picture, exif=exif, quality=95)


# Where the coloured top left corner of the stored pixels must be seen: Exif 2.32, tag Orientation.
SEEN = {1: (0, 0), 2: (1, 0), 3: (1, 1), 4: (0, 1), 5: (0, 0), 6: (1, 0), 7: (1, 1), 8: (0, 1)}


@pytest.mark.parametrize("value", SEEN)
def test_a_turned_photo_stands_upright_in_every_format(value: int) -> None:
    photo = with_orientation(value)
    size = (300, 400) if value >= 5 else (400, 300)
    info = picture_info(photo, "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert (info.width, info.height) == size
    for copy in copies(photo, Recipe((600,), EVERY)).copies:
        picture = opened(copy)
        assert (copy.width, copy.height) == picture.size == size
        assert picture.getexif().get(0x0112, 1) == 1
        across, down = SEEN[value]
        corner = (20 + across * (size[0] - 40), 20 + down * (size[1] - 40))
        assert near(picture.convert("RGB").getpixel(corner), CORNER, 12)


def test_an_upside_down_orientation_value_is_ignored() -> None:
    assert copies(with_orientation(99), Recipe((400,), ("jpeg",))).copies[0].width == 400


@pytest.mark.parametrize("kind", ["JPEG", "WEBP", "PNG", "TIFF", "AVIF"])
@pytest.mark.parametrize(
    "recipe",
    [Recipe((800,), EVERY), Recipe((100,), EVERY, ratio=(1, 1)), Recipe((100,), EVERY, credit=Credit("A. Observer", "CC BY 4.0"))],
)
def test_no_place_comment_or_preview_leaves_the_original(kind: str, recipe: Recipe) -> None:
    photo = telltale_photo(kind)
    assert any(secret.encode() in photo for secret in SECRETS)
    made = copies(photo, recipe)
    for data in (*(copy.data for copy in made.copies), made.placeholder):
        assert not [secret for secret in SECRETS if secret.encode() in data]
        for sign in (b"GPS", b"MAKER", b"8769", b"2026:05:02"):
            assert sign not in data
        picture = Image.open(io.BytesIO(data))
        assert dict(picture.getexif()) == {}
        assert "comment" not in picture.info
        assert data.count(b"\xff\xd8\xff") <= 1


def test_neither_day_nor_place_is_part_of_what_is_known() -> None:
    info = picture_info(telltale_photo(), "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert asdict(info) == {"width": 200, "height": 150}


def test_credit_and_licence_are_written_where_others_look_for_them() -> None:
    credit = Credit("Ann & Bo", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/")
    for copy in copies(saved(flat((50, 50))), Recipe((50,), ("webp", "jpeg", "print"), credit=credit)).copies:
        picture = opened(copy)
        packet = picture.info["xmp"].decode()
        assert "<rdf:li>Ann &amp; Bo</rdf:li>" in packet
        assert 'xmpRights:WebStatement="https://creativecommons.org/licenses/by/4.0/"' in packet
        if copy.suffix == ".jpg":
            iptc = IptcImagePlugin.getiptcinfo(picture)
            assert iptc is not None
            assert iptc[(2, 80)] == b"Ann & Bo"
            assert iptc[(2, 116)] == "© Ann & Bo, CC BY 4.0".encode()


def test_long_credit_is_cut_between_letters_for_iptc() -> None:
    photo = copies(saved(flat((9, 9))), Recipe((9,), ("jpeg",), credit=Credit("ñ" * 40))).copies[0]
    iptc = IptcImagePlugin.getiptcinfo(opened(photo))
    assert iptc is not None
    assert iptc[(2, 80)] == ("ñ" * 16).encode()
