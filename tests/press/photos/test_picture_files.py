"""Damaged and mislabelled photo files (case A17 of the collected ones)."""

import io
import struct
import zlib
from pathlib import Path

import pillow_heif
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import ImageFile

from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.copies import Copies, Recipe, prepare_copies
from guidebuild.press.photos.info import PictureInfo, picture_info
from tests.press.photos.pieces_of_pictures import copies, flat, near, noise, opened, problem, saved, telltale_photo


def test_heic_is_converted_whatever_its_name_says() -> None:
    photo = io.BytesIO()
    pillow_heif.from_pillow(flat((64, 48), (40, 160, 60))).save(photo, quality=90)
    info = picture_info(photo.getvalue(), "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert (info.width, info.height) == (64, 48)
    assert near(opened(copies(photo.getvalue(), Recipe((64,), ("jpeg",))).copies[0]).getpixel((30, 20)), (40, 160, 60), 6)


def test_heic_that_cannot_be_decoded_says_how_to_export() -> None:
    told = problem(b"\0\0\0\x18ftypheic" + bytes(64))
    assert told == Problem(
        "heic",
        "toad.jpg",
        "the photo is a HEIC file, although its name ends in .jpg, and it cannot be decoded here; "
        "open it in the phone's or computer's picture viewer, export it as JPEG, and put that file in its place",
    )


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF", "TIFF"])
def test_half_a_photo_is_an_error_and_makes_nothing(kind: str) -> None:
    whole = saved(noise(), kind)
    told = problem(whole[: len(whole) // 2])
    assert told.what in ("cut-short", "damaged")
    if kind in ("JPEG", "PNG", "TIFF"):
        assert told.message == "the photo is cut short: the file ends before the picture does; copy it again from the camera or card"


def test_half_a_progressive_photo_is_an_error_even_after_weasyprint_made_pillow_tolerant() -> None:
    ImageFile.LOAD_TRUNCATED_IMAGES = True
    whole = saved(noise(), progressive=True)
    assert problem(whole[: len(whole) // 2]).what == "cut-short"
    assert ImageFile.LOAD_TRUNCATED_IMAGES is True


def test_first_picture_of_a_two_picture_jpeg_is_used() -> None:
    both = io.BytesIO()
    flat((80, 60), (20, 160, 40)).save(both, "MPO", save_all=True, append_images=[flat((80, 60), (250, 0, 0))])
    info = picture_info(both.getvalue(), "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert (info.width, info.height) == (80, 60)
    assert near(opened(copies(both.getvalue(), Recipe((80,), ("jpeg",))).copies[0]).getpixel((40, 30)), (20, 160, 40), 6)


@pytest.mark.parametrize(
    ("data", "what"),
    [
        (b"", "cut-short"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>", "not-a-photo"),
        (b"<!DOCTYPE html><html>", "not-a-photo"),
        (b"%!PS-Adobe-3.0 EPSF-3.0\n%%BoundingBox: 0 0 9 9\n", "not-a-photo"),
        (b"\xff\xd8\xff\xe0", "not-a-photo"),
        (b"\x89PNG\r\n\x1a\n" + bytes(40), "not-a-photo"),
        (b"\0" * 4000, "not-a-photo"),
    ],
)
def test_what_is_not_a_photo_is_a_problem_not_a_crash(data: bytes, what: str) -> None:
    assert problem(data).what == what
    assert isinstance(picture_info(data, "toad.jpg"), Problem)


def png(width: int, height: int) -> bytes:
    """A PNG whose head promises this size (PNG specification, section 11.2), whatever follows."""
    chunks = ((b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)), (b"IDAT", zlib.compress(bytes(4_000_000))), (b"IEND", b""))
    body = (struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data)) for name, data in chunks)
    return b"\x89PNG\r\n\x1a\n" + b"".join(body)


def test_picture_bomb_is_refused_before_it_is_unpacked(monkeypatch: pytest.MonkeyPatch) -> None:
    bomb = png(20_000, 20_000)
    assert len(bomb) < 10_000
    monkeypatch.setattr(ImageFile.ImageFile, "load", lambda self: pytest.fail("the bomb was unpacked"))
    told = problem(bomb)
    assert told == Problem(
        "too-large", "toad.jpg", "the photo has 20000 × 20000 pixels, more than the 100 million that are read; save a smaller copy"
    )
    assert isinstance(picture_info(bomb, "toad.jpg"), Problem)


def test_missing_file_is_told(tmp_path: Path) -> None:
    told = picture_info(tmp_path / "Toad.JPG", "photos/Toad.JPG")
    assert isinstance(told, Problem)
    assert told.message == "there is no such photo file; check the name, capitals included"


def _sound() -> dict[str, bytes]:
    sound = {kind: saved(noise((48, 36)), kind) for kind in ("PNG", "WEBP", "GIF", "TIFF", "BMP")}
    heic = io.BytesIO()
    pillow_heif.from_pillow(noise((64, 48))).save(heic)
    return {**sound, "HEIF": heic.getvalue()}


SOUND = _sound()


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    kind=st.sampled_from(["JPEG", "PNG", "WEBP", "GIF", "TIFF", "BMP", "HEIF"]),
    place=st.floats(0, 1),
    data=st.binary(min_size=1, max_size=12),
)
def test_a_damaged_byte_anywhere_never_crashes(kind: str, place: float, data: bytes) -> None:
    photo = bytearray(telltale_photo("JPEG") if kind == "JPEG" else SOUND[kind])
    start = int(place * (len(photo) - 1))
    photo[start : start + len(data)] = data
    assert isinstance(prepare_copies(bytes(photo), Recipe((40,), ("jpeg",)), "toad.jpg"), Copies | Problem)
    assert isinstance(picture_info(bytes(photo), "toad.jpg"), PictureInfo | Problem)
