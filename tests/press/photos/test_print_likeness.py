"""Prints against what they were made of: a structural similarity of 0.98 at 300 pixels an inch of the size that they are printed at.

How like they are is measured by `likeness.py` of this folder, from the published formula; the tool reckons it otherwise, and quicker.
"""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image, ImageChops

from guidebuild.press.photos.copies import Recipe, print_width
from guidebuild.press.photos.encoding import write_picture
from guidebuild.press.photos.print_copy import Part, Picture
from guidebuild.shipped import on_disk
from tests.press.photos.likeness import measure_likeness
from tests.press.photos.pieces_of_pictures import copies

PHOTOS = sorted((on_disk(Path(__file__).parents[3] / "sample_guide") / "photos").glob("*.jpg"))
LEAST = 0.98
_PRINTED = (95.0, 60.0, 36.0, 20.0)
"""Millimetres across: the plate of a card, half a page, a look-alike, a picture of the key."""


def prepare(data: bytes, folder: Path, widest: int) -> tuple[Picture, Image.Image]:
    """A picture as a make prepares it, and its original."""
    with Image.open(io.BytesIO(data)) as opened:
        original = opened.convert("RGB")
    wide = min(original.width, widest)
    source, fit = copies(data, Recipe((wide,), ("source", "print"), jpeg_widths=(wide,))).copies
    for name, copy in (("source.jpg", source), ("fit.jpg", fit)):
        (folder / name).write_bytes(copy.data)
    return Picture(folder / "fit.jpg", fit.width, fit.height, None, folder / "source.jpg", source.width), original


def find_likeness(printed: bytes, original: Image.Image) -> float:
    with Image.open(io.BytesIO(printed)) as opened:
        return measure_likeness(opened, original.resize(opened.size, Image.Resampling.LANCZOS))


def camera_noise() -> bytes:
    """An invented photo with fine detail and the noise of a sensor."""
    base = Image.radial_gradient("L").resize((1400, 1050))
    noisy = ImageChops.add(base, Image.effect_noise(base.size, 14), offset=-128)
    written = io.BytesIO()
    Image.merge("RGB", (noisy, base, noisy)).save(written, "JPEG", quality=96)
    return written.getvalue()


@pytest.mark.parametrize("number", range(len(PHOTOS)), ids=[path.stem for path in PHOTOS])
def test_each_picture_of_the_sample_keeps_what_it_shows(number: int, tmp_path: Path) -> None:
    """Each as the plate of a card, as it is kept, and made smaller for one of the other places in turn."""
    picture, original = prepare(PHOTOS[number].read_bytes(), tmp_path, print_width(_PRINTED[0]))
    for wide in (_PRINTED[0], _PRINTED[1 + number % 3]):
        assert find_likeness(picture.read(print_width(wide)), original) >= LEAST, wide


def test_so_does_a_picture_with_the_noise_of_a_camera(tmp_path: Path) -> None:
    picture, original = prepare(camera_noise(), tmp_path, print_width(_PRINTED[0]))
    assert min(find_likeness(picture.read(print_width(wide)), original) for wide in _PRINTED) >= LEAST


def test_what_would_lose_more_is_compressed_less() -> None:
    """Steps of the JPEG tables: the larger, the more is lost. A faint grain is what compression wipes out first."""
    smooth = Image.radial_gradient("L").convert("RGB")
    grain = Image.effect_noise((256, 256), 6).convert("RGB")
    steps = []
    for bare in (smooth, grain):
        with Image.open(io.BytesIO(write_picture(bare, "print", None))) as printed:
            steps.append(sum(map(sum, printed.quantization.values())))
    assert steps[0] > 3 * steps[1]


def test_a_close_up_keeps_what_it_shows(tmp_path: Path) -> None:
    picture, original = prepare(PHOTOS[0].read_bytes(), tmp_path, print_width(_PRINTED[0]))
    part = Part(0.4, 0.4, 0.6, 0.6)
    wide, high = original.size
    cut = original.crop((round(wide * 0.4), round(high * 0.4), round(wide * 0.6), round(high * 0.6)))
    printed = picture.cut(part, 200)
    with Image.open(io.BytesIO(printed)) as opened:
        assert measure_likeness(opened, cut.resize(opened.size, Image.Resampling.LANCZOS)) >= LEAST
