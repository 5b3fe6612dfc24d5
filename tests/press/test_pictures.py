"""Published copies of photos: troubles that photographers really meet (cases A14 to A18 of the collected ones)."""

import io
import struct
import zlib
from datetime import datetime
from pathlib import Path

import pikepdf
import pillow_heif
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from PIL import Image, ImageCms, ImageDraw, ImageFile, IptcImagePlugin

from guidebuild.press.colour import ADOBE_RGB, DISPLAY_P3, matrix_profile
from guidebuild.press.fetching import GuideFetcher
from guidebuild.press.pdf import html_to_pdf
from guidebuild.press.picture_credit import Credit
from guidebuild.press.picture_info import PictureInfo, picture_info
from guidebuild.press.pictures import Copies, Copy, Focus, Recipe, crop_box, focus_at, prepare, print_problem, print_width
from guidebuild.press.problems import Problem

EVERY = ("avif", "webp", "jpeg", "print", "png")
CORNER = (200, 30, 30)


def saved(picture: Image.Image, kind: str = "JPEG", **options: object) -> bytes:
    written = io.BytesIO()
    picture.save(written, kind, **options)
    return written.getvalue()


def flat(size: tuple[int, int], colour: tuple[int, ...] = (230, 230, 230), mode: str = "RGB") -> Image.Image:
    return Image.new(mode, size, colour)


def copies(photo: bytes, recipe: Recipe, where: str = "toad.jpg") -> Copies:
    made = prepare(photo, recipe, where)
    assert isinstance(made, Copies), made
    return made


def problem(photo: bytes, where: str = "toad.jpg", width: int = 100) -> Problem:
    made = prepare(photo, Recipe((width,)), where)
    assert isinstance(made, Problem)
    return made


def opened(copy: Copy) -> ImageFile.ImageFile:
    picture = Image.open(io.BytesIO(copy.data))
    picture.load()
    return picture


def near(seen: object, wanted: tuple[int, ...], by: int) -> bool:
    assert isinstance(seen, tuple)
    return all(abs(one - other) <= by for one, other in zip(seen, wanted, strict=True))


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
    assert (info.width, info.height, info.portrait) == (*size, value >= 5)
    for copy in copies(photo, Recipe((600,), EVERY)).copies:
        picture = opened(copy)
        assert (copy.width, copy.height) == picture.size == size
        assert picture.getexif().get(0x0112, 1) == 1
        across, down = SEEN[value]
        corner = (20 + across * (size[0] - 40), 20 + down * (size[1] - 40))
        assert near(picture.convert("RGB").getpixel(corner), CORNER, 12)


def test_an_upside_down_orientation_value_is_ignored() -> None:
    assert copies(with_orientation(99), Recipe((400,), ("jpeg",))).copies[0].width == 400


SECRETS = ("nest by the weir", "weir pool", "Larkfold Weir", "Weirside")


def telltale_photo(kind: str = "JPEG") -> bytes:
    exif = Image.Exif()
    exif[0x010E] = SECRETS[0]
    exif[0x8825] = {1: "N", 2: (51.0, 12.0, 34.5), 3: "W", 4: (0.0, 12.0, 34.5), 0x1C: b"ASCII\0\0\0" + SECRETS[2].encode()}
    exif[0x8769] = {0x927C: b"MAKER " + SECRETS[3].encode(), 0x9003: "2026:05:02 10:11:12", 0x9011: "+01:00"}
    xmp = f'<x:xmpmeta xmlns:x="adobe:ns:meta/" photoshop:City="{SECRETS[2]}" exif:GPSLatitude="51,12.5N"/>'.encode()
    picture = flat((200, 150), (90, 140, 60))
    if kind != "JPEG":
        return saved(picture, kind, exif=exif.tobytes(), xmp=xmp)
    iptc = b"".join(bytes((0x1C, 2, tag, 0, len(text))) + text.encode() for tag, text in ((90, SECRETS[3]), (92, SECRETS[2])))
    app13 = b"Photoshop 3.0\0" + b"8BIM\x04\x04\0\0" + len(iptc).to_bytes(4, "big") + iptc + bytes(len(iptc) % 2)
    plain = saved(picture, exif=exif, xmp=xmp, comment=SECRETS[1].encode())
    preview = saved(flat((32, 24), (1, 2, 3)))
    extra = b"\xff\xed" + (len(app13) + 2).to_bytes(2, "big") + app13
    return plain[:2] + extra + plain[2:] + preview


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


def test_the_day_taken_is_read_and_the_place_is_no_part_of_what_is_known() -> None:
    info = picture_info(telltale_photo(), "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert info.taken == datetime.fromisoformat("2026-05-02T10:11:12+01:00")
    assert not any("gps" in name.lower() or "lat" in name for name in PictureInfo.__slots__)


def test_a_camera_with_unset_clock_gives_no_day() -> None:
    exif = Image.Exif()
    exif[0x8769] = {0x9003: "0000:00:00 00:00:00"}
    info = picture_info(saved(flat((10, 10)), exif=exif), "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert info.taken is None


def test_credit_and_licence_are_written_where_others_look_for_them() -> None:
    credit = Credit("Ann & Bo", "CC BY 4.0", "https://creativecommons.org/licenses/by/4.0/")
    for copy in copies(saved(flat((50, 50))), Recipe((50,), ("avif", "webp", "jpeg", "print"), credit=credit)).copies:
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


def test_heic_is_converted_whatever_its_name_says() -> None:
    photo = io.BytesIO()
    pillow_heif.from_pillow(flat((64, 48), (40, 160, 60))).save(photo, quality=90)
    info = picture_info(photo.getvalue(), "toad.jpg")
    assert isinstance(info, PictureInfo)
    assert (info.format, info.mislabelled, info.width, info.height) == ("HEIF", True, 64, 48)
    assert near(opened(copies(photo.getvalue(), Recipe((64,), ("jpeg",))).copies[0]).getpixel((30, 20)), (40, 160, 60), 6)


def test_heic_that_cannot_be_decoded_says_how_to_export() -> None:
    told = problem(b"\0\0\0\x18ftypheic" + bytes(64))
    assert told == Problem(
        "heic",
        "toad.jpg",
        "the photo is a HEIC file, although its name ends in .jpg, and it cannot be decoded here; "
        "open it in the phone's or computer's picture viewer, export it as JPEG, and put that file in its place",
    )


def noise(size: tuple[int, int] = (400, 300)) -> Image.Image:
    return Image.effect_noise(size, 80).convert("RGB")


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
    assert (info.format, info.mislabelled) == ("JPEG", False)
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


def dotted() -> bytes:
    picture = flat((3000, 4000))
    ImageDraw.Draw(picture).ellipse((1450, 430, 1550, 530), fill=(255, 0, 0))
    return saved(picture, quality=90)


@pytest.mark.parametrize("ratio", [(16, 9), (1, 1), (3, 2), (40, 21), (86, 54), (9, 16)])
def test_every_crop_keeps_the_focus_and_has_the_exact_shape(ratio: tuple[int, int]) -> None:
    focus = focus_at(50, 12, "toad.jpg")
    assert isinstance(focus, Focus)
    made = copies(dotted(), Recipe((700, 333), ("png",), ratio=ratio, focus=focus))
    assert made.problems == ()
    for copy in made.copies:
        assert copy.width * ratio[1] == copy.height * ratio[0]
        red = [1 for _, (r, g, b) in opened(copy).getcolors(1 << 20) or () if r > 200 and g < 90 and b < 90]  # type: ignore[misc]
        assert red


def test_centre_crop_that_loses_much_is_told() -> None:
    made = copies(dotted(), Recipe((400,), ("jpeg",), ratio=(16, 9)))
    assert [one.what for one in made.problems] == ["crop"]
    assert "cutting the photo to 16:9 leaves out 58% of its height" in made.problems[0].message
    assert copies(dotted(), Recipe((400,), ("jpeg",), ratio=(1, 1))).problems == ()


def test_whole_photo_is_kept_without_a_shape() -> None:
    only = copies(dotted(), Recipe((300,), ("jpeg",))).copies[0]
    assert (only.width, only.height) == (300, 400)


@pytest.mark.parametrize(("across", "down"), [(50, 130), (-1, 50), (float("nan"), 50)])
def test_focus_outside_the_photo_is_an_error(across: float, down: float) -> None:
    told = focus_at(across, down, "toad.jpg")
    assert isinstance(told, Problem)
    assert "lies outside the photo" in told.message


def test_crop_box_reaches_the_edge_and_no_further() -> None:
    assert crop_box(3000, 4000, (16, 9), Focus(0.5, 0.12)) == (0, 0, 3000, 1687.5)
    assert crop_box(3000, 4000, (16, 9), Focus(0.5, 0.99)) == (0, 2312.5, 3000, 4000)
    assert crop_box(4000, 3000, (1, 1), None) == (500, 0, 3500, 3000)


def test_no_copy_is_larger_than_the_photo_and_none_is_made_twice() -> None:
    made = copies(saved(flat((500, 300))), Recipe((480, 800, 1600), ("webp", "jpeg"), jpeg_widths=(480,)))
    assert [(copy.encoding, copy.width, copy.height) for copy in made.copies] == [
        ("webp", 500, 300),
        ("webp", 480, 288),
        ("jpeg", 480, 288),
    ]


def test_same_photo_and_recipe_give_the_same_bytes() -> None:
    photo = saved(noise())
    recipe = Recipe((300, 100), EVERY, ratio=(3, 2), credit=Credit("A"))
    assert copies(photo, recipe) == copies(photo, recipe)


def test_stand_in_is_light_and_of_the_mean_colour() -> None:
    made = copies(saved(flat((400, 300), (16, 128, 64)), "PNG"), Recipe((100,), ("jpeg",)))
    assert made.colour == "#108040"
    assert len(made.placeholder) < 200


def test_print_needs_are_told_in_pixels() -> None:
    assert print_width(80) == 945
    told = print_problem(400, 80, "toad.jpg")
    assert told is not None
    assert told.message == "the photo is 400 pixels wide and is printed 80 mm wide: 127 ppi looks soft; give one at least 945 pixels wide"
    assert print_problem(945, 80, "toad.jpg") is None


def test_large_photo_is_embedded_small_and_once() -> None:
    copy = copies(saved(noise((6000, 400))), Recipe((print_width(80),), ("print",))).copies[0]
    assert copy.width == 945
    head = '<html lang="en"><title>t</title><style>@page{size:86mm 54mm}section{break-after:page}</style>'
    page = head + '<section><img src="pictures/a.jpg" alt="a" style="width:80mm"></section>' * 5
    made = html_to_pdf(page, fetcher=GuideFetcher(files={"pictures/a.jpg": copy.data}), where="deck")
    assert made.problems == ()
    with pikepdf.open(io.BytesIO(made.data)) as document:
        images = [one for one in document.objects if isinstance(one, pikepdf.Stream) and one.get("/Subtype") == "/Image"]
        assert [int(one.Width) for one in images] == [945]
    assert len(made.data) < len(copy.data) + 20_000


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
    assert isinstance(prepare(bytes(photo), Recipe((40,), ("jpeg",)), "toad.jpg"), Copies | Problem)
    assert isinstance(picture_info(bytes(photo), "toad.jpg"), PictureInfo | Problem)
