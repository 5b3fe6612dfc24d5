"""Colours that go wrong on the way to the web (case A16 of the collected ones)."""

import io

import pillow_heif
import pytest
from PIL import Image, ImageCms, ImageDraw

from guidebuild.press.photos.colour import ADOBE_RGB, DISPLAY_P3, matrix_profile
from guidebuild.press.photos.copies import Recipe
from tests.press.photos.pieces_of_pictures import EVERY, copies, flat, near, opened, saved


@pytest.mark.parametrize("encoding", EVERY)
def test_print_green_stays_green(encoding: str) -> None:
    photo = saved(flat((60, 60), (255, 0, 255, 0), "CMYK"), quality=95)
    picture = opened(copies(photo, Recipe((60,), (encoding,))).copies[0])
    assert picture.mode == "RGB"
    assert near(picture.getpixel((30, 30)), (0, 255, 0), 6)


@pytest.mark.parametrize("kind", ["PNG", "TIFF"])
def test_sixteen_bit_ramp_keeps_its_levels(kind: str) -> None:
    ramp = Image.new("I;16", (256, 4))
    for across in range(256):
        for down in range(4):
            ramp.putpixel((across, down), across * 257)
    picture = opened(copies(saved(ramp, kind), Recipe((256,), ("png",))).copies[0])
    assert picture.mode == "RGB"
    assert [picture.getpixel((across, 1)) for across in range(256)] == [(level,) * 3 for level in range(256)]


@pytest.mark.parametrize("encoding", EVERY)
def test_wide_gamut_colour_is_converted(encoding: str) -> None:
    # CSS Color 4: color(display-p3 200/255 120/255 60/255) is about rgb(213 115 42).
    photo = saved(flat((64, 64), (200, 120, 60)), quality=100, subsampling=0, icc_profile=matrix_profile("Display P3", DISPLAY_P3, None))
    picture = opened(copies(photo, Recipe((64,), (encoding,))).copies[0])
    assert near(picture.getpixel((30, 30)), (213, 115, 42), 3)
    assert "icc_profile" not in picture.info


def test_phone_photo_that_tells_its_wide_gamut_by_number_is_converted() -> None:
    # ITU-T H.273: primaries 12 are those of Display P3; no ICC profile is embedded.
    photo = io.BytesIO()
    numbers = {"color_primaries": 12, "transfer_characteristics": 13, "matrix_coefficients": 6, "full_range_flag": 1}
    pillow_heif.from_pillow(flat((64, 64), (200, 120, 60))).save(photo, quality=100, **numbers)
    seen = opened(copies(photo.getvalue(), Recipe((64,), ("png",)), "toad.heic").copies[0]).getpixel((9, 9))
    assert near(seen, (213, 115, 42), 3)


def test_adobe_rgb_that_is_told_only_in_exif_is_converted() -> None:
    # By the a98-rgb and sRGB matrices of CSS Color 4 (section 18), Adobe RGB 100 150 100 is sRGB 66 151 97.
    exif = Image.Exif()
    exif[0xA005] = {1: "R03"}
    exif[0x8769] = {0xA001: 65535, 0xA005: {1: "R03"}}
    photo = saved(flat((16, 16), (100, 150, 100)), "PNG", exif=exif)
    seen = opened(copies(photo, Recipe((16,), ("png",))).copies[0]).getpixel((8, 8))
    assert near(seen, (66, 151, 97), 2)


def test_profiles_built_from_primaries_are_sound() -> None:
    for name, primaries, gamma in (("Display P3", DISPLAY_P3, None), ("Adobe RGB (1998)", ADOBE_RGB, 563 / 256)):
        profile = ImageCms.ImageCmsProfile(io.BytesIO(matrix_profile(name, primaries, gamma)))
        assert profile.profile.profile_description == name
        # The three columns of any such matrix add up to the profile connection space's white, D50 (ICC.1:2010, 7.2.16).
        colorants = [getattr(profile.profile, f"{colour}_colorant")[0] for colour in ("red", "green", "blue")]
        assert [round(sum(row), 3) for row in zip(*colorants, strict=True)] == [0.964, 1.0, 0.825]


def test_a_broken_profile_is_ignored() -> None:
    photo = saved(flat((16, 16), (10, 200, 10)), "PNG", icc_profile=b"not a profile")
    assert opened(copies(photo, Recipe((16,), ("png",))).copies[0]).getpixel((8, 8)) == (10, 200, 10)


@pytest.mark.parametrize("mode", ["RGBA", "LA", "PA", "P"])
def test_transparent_corner_shows_the_paper(mode: str) -> None:
    picture = Image.new("RGBA", (64, 64), (0, 0, 0, 0))
    ImageDraw.Draw(picture).rectangle((32, 0, 63, 63), fill=(0, 0, 0, 255))
    photo = saved(picture.quantize(4), "PNG") if mode in ("P", "PA") else saved(picture.convert(mode), "PNG")
    for paper in ((255, 255, 255), (245, 240, 225)):
        for copy in copies(photo, Recipe((64,), EVERY, paper=paper)).copies:
            assert near(opened(copy).convert("RGB").getpixel((4, 60)), paper, 4)


@pytest.mark.parametrize("mode", ["1", "L", "LAB", "YCbCr"])
def test_other_pixel_kinds_become_rgb(mode: str) -> None:
    picture = flat((20, 20), (120, 120, 120))
    to_lab = ImageCms.buildTransform(ImageCms.createProfile("sRGB"), ImageCms.createProfile("LAB"), "RGB", "LAB")
    photo = saved(to_lab.apply(picture) if mode == "LAB" else picture.convert(mode), "TIFF")
    seen = opened(copies(photo, Recipe((20,), ("png",))).copies[0])
    assert seen.mode == "RGB"
    if mode != "1":
        assert near(seen.getpixel((9, 9)), (120, 120, 120), 4)
