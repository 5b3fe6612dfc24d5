"""The sample's pictures: drawn again the same, small enough to keep, and carrying a position that must not get out."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageStat

from guidebuild.press.photos.copies import Copies, Recipe, prepare_copies
from tests.sample.drawings import SAMPLE, drawing

PHOTOS = sorted((SAMPLE / "photos").glob("*.jpg"))
GPS = 34853


def test_every_plate_has_its_picture_and_no_picture_is_left_over() -> None:
    assert [photo.stem for photo in PHOTOS] == sorted(plate.name for plate in drawing("plates").PLATES)


def test_pictures_stay_under_twelve_megabytes() -> None:
    assert sum(photo.stat().st_size for photo in PHOTOS) < 12_000_000


def test_shapes_are_wide_high_and_panoramic() -> None:
    shapes = set()
    for photo in PHOTOS:
        with Image.open(photo) as picture:
            assert max(picture.size) == 1600, photo.name
            shapes.add("high" if picture.height > picture.width else "long" if picture.width > 2 * picture.height else "wide")
    assert shapes == {"wide", "high", "long"}


@pytest.mark.parametrize("photo", PHOTOS, ids=lambda path: path.stem)
def test_the_original_carries_camera_date_and_an_invented_position(photo: Path) -> None:
    with Image.open(photo) as picture:
        facts = picture.getexif()
        assert facts[272] == "Drawn for the sample"
        assert facts.get_ifd(34665)[36867].startswith("2025:")
        assert facts.get_ifd(GPS)[1] == "N"
        assert tuple(map(float, facts.get_ifd(GPS)[2])) == pytest.approx((51, 30, 11.11))


def test_drawing_twice_gives_the_same_bytes_and_the_kept_picture(tmp_path: Path) -> None:
    draw = drawing("draw")
    plate = next(plate for plate in drawing("plates").PLATES if plate.name == "blue-nymph")
    for folder in ("first", "second"):
        (tmp_path / folder).mkdir()
    first, second = (draw.save(draw.draw(plate), plate, tmp_path / folder) for folder in ("first", "second"))
    assert first.read_bytes() == second.read_bytes()
    # Another version of Pillow or of its JPEG coder may round otherwise; the picture must look the same all the same.
    with Image.open(first) as again, Image.open(SAMPLE / "photos" / first.name) as kept:
        difference = ImageStat.Stat(ImageChops.difference(again, kept))
    assert max(difference.mean) < 1.0


def test_the_position_is_gone_from_every_published_copy() -> None:
    original = (SAMPLE / "photos" / "parent-adult.jpg").read_bytes()
    made = prepare_copies(original, Recipe(widths=(400,), formats=("webp", "jpeg")), "parent-adult")
    assert isinstance(made, Copies)
    assert len(made.copies) == 2
    for copy in made.copies:
        assert b"Drawn for the sample" not in copy.data
        with Image.open(io.BytesIO(copy.data)) as picture:
            assert not dict(picture.getexif().get_ifd(GPS))
