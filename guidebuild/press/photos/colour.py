"""From any colour space that a photo may come in to plain 8-bit sRGB.

Matrix profiles are built here from published primaries, because cameras set to Adobe RGB say so in EXIF and embed no
profile, and some phones do the like for Display P3.
"""

from __future__ import annotations

import io
import struct
from functools import cache

from PIL import Image, ImageCms

Xy = tuple[float, float]
Row = tuple[float, float, float]
Matrix = tuple[Row, Row, Row]

D65: Xy = (0.3127, 0.3290)
"""The white point of all three (IEC 61966-2-1 for sRGB; ISO 11664-2)."""
D50_XYZ: Row = (0.9642, 1.0, 0.8249)
"""The white of an ICC profile's connection space (ICC.1:2010, 7.2.16)."""
DISPLAY_P3 = ((0.680, 0.320), (0.265, 0.690), (0.150, 0.060))
"""Red, green, blue chromaticities (CSS Color 4, section 10.5; SMPTE EG 432-1); its curve is that of sRGB."""
ADOBE_RGB = ((0.64, 0.33), (0.21, 0.71), (0.15, 0.06))
"""Adobe RGB (1998) colour image encoding, section 4.3; its curve is a power of 563/256."""

# Bradford cone response (ICC.1:2010, annex E).
_BRADFORD: Matrix = ((0.8951, 0.2664, -0.1614), (-0.7502, 1.7135, 0.0367), (0.0389, -0.0685, 1.0296))
_CURVE_STEPS = 1024


def to_srgb(picture: Image.Image, profile: bytes | None, paper: tuple[int, int, int]) -> Image.Image:
    """An RGB copy in sRGB, transparent parts laid on `paper`; a broken profile counts as none."""
    alpha = picture.getchannel("A") if "A" in picture.getbands() else None
    plain = _without_alpha(picture)
    if plain.mode == "LAB":
        return _lab_to_srgb().apply(plain)
    colours = _by_profile(plain, profile) if profile else None
    if colours is None:
        colours = plain.convert("RGB")
    if alpha is None:
        return colours
    laid = Image.new("RGB", picture.size, paper)
    laid.paste(colours, mask=alpha)
    return laid


def to_eight_bits(picture: Image.Image) -> Image.Image:
    """Deep greyscale scaled to 256 levels (Pillow's own conversion cuts all above 255 to white), palettes resolved."""
    if picture.mode.startswith("I"):
        return picture.convert("I").point(lambda value: value * (1 / 257) + 0.5).convert("L")
    if picture.mode == "P" or "transparency" in picture.info:
        return picture.convert("RGBA" if picture.has_transparency_data else "RGB")
    return picture.convert("L") if picture.mode == "1" else picture


def _without_alpha(picture: Image.Image) -> Image.Image:
    return picture.convert({"RGBA": "RGB", "LA": "L"}[picture.mode]) if picture.mode in ("RGBA", "LA") else picture


def _by_profile(picture: Image.Image, profile: bytes) -> Image.Image | None:
    try:
        transform = _transform(profile, picture.mode)
        return transform.apply(picture) if transform else picture.convert("RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None


@cache
def _transform(profile: bytes, mode: str) -> ImageCms.ImageCmsTransform | None:
    """A transform to sRGB, or nothing when the profile is sRGB already."""
    source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
    if mode == "RGB" and "sRGB" in (source.profile.profile_description or ""):
        return None
    target = ImageCms.createProfile("sRGB")
    return ImageCms.buildTransform(source, target, mode, "RGB", ImageCms.Intent.PERCEPTUAL)


@cache
def _lab_to_srgb() -> ImageCms.ImageCmsTransform:
    return ImageCms.buildTransform(ImageCms.createProfile("LAB"), ImageCms.createProfile("sRGB"), "LAB", "RGB")


@cache
def matrix_profile(name: str, primaries: tuple[Xy, Xy, Xy], gamma: float | None) -> bytes:
    """An ICC version 2 display profile for three primaries and a D65 white; `gamma` of nothing means the sRGB curve."""
    columns = zip(*_to_d50(primaries), strict=True)
    curve = _curve(gamma)
    tags = {
        b"desc": b"desc\0\0\0\0" + struct.pack(">I", len(name) + 1) + name.encode("ascii") + bytes(79),
        b"cprt": b"text\0\0\0\0No copyright\0",
        b"wtpt": _xyz(D50_XYZ),
        **{tag: _xyz(column) for tag, column in zip((b"rXYZ", b"gXYZ", b"bXYZ"), columns, strict=True)},
        b"rTRC": curve,
        b"gTRC": curve,
        b"bTRC": curve,
    }
    table, body = b"", b""
    start = 128 + 4 + 12 * len(tags)
    for tag, data in tags.items():
        table += tag + struct.pack(">II", start + len(body), len(data))
        body += data + bytes(-len(data) % 4)
    rest = struct.pack(">I", len(tags)) + table + body
    return _header(128 + len(rest)) + rest


def _header(size: int) -> bytes:
    # ICC.1:2001-04, section 6.1; the date is fixed so that the bytes are.
    fields = struct.pack(">I4s4s4s4s4s6H4s", size, bytes(4), b"\x02\x10\0\0", b"mntr", b"RGB ", b"XYZ ", 2000, 1, 1, 0, 0, 0, b"acsp")
    white = struct.pack(">3i", *(round(value * 65536) for value in D50_XYZ))
    return (fields + bytes(28) + white).ljust(128, b"\0")


def _xyz(row: Row) -> bytes:
    return b"XYZ \0\0\0\0" + struct.pack(">3i", *(round(value * 65536) for value in row))


def _curve(gamma: float | None) -> bytes:
    steps = (step / (_CURVE_STEPS - 1) for step in range(_CURVE_STEPS))
    values = [round(65535 * (value**gamma if gamma else _srgb_light(value))) for value in steps]
    return b"curv\0\0\0\0" + struct.pack(f">I{_CURVE_STEPS}H", _CURVE_STEPS, *values)


def _srgb_light(value: float) -> float:
    # IEC 61966-2-1.
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


def _to_d50(primaries: tuple[Xy, Xy, Xy]) -> Matrix:
    """RGB to XYZ relative to D50, rows X, Y, Z."""
    white = _xyz_of(D65)
    raw = _transposed((_xyz_of(primaries[0]), _xyz_of(primaries[1]), _xyz_of(primaries[2])))
    scale = _times(_inverse(raw), white)
    rgb = _by_matrix(raw, _diagonal(scale))
    seen, wanted = _times(_BRADFORD, white), _times(_BRADFORD, D50_XYZ)
    gains = _diagonal((wanted[0] / seen[0], wanted[1] / seen[1], wanted[2] / seen[2]))
    return _by_matrix(_by_matrix(_inverse(_BRADFORD), _by_matrix(gains, _BRADFORD)), rgb)


def _xyz_of(point: Xy) -> Row:
    x, y = point
    return x / y, 1.0, (1 - x - y) / y


def _diagonal(row: Row) -> Matrix:
    return (row[0], 0.0, 0.0), (0.0, row[1], 0.0), (0.0, 0.0, row[2])


def _transposed(matrix: Matrix) -> Matrix:
    first, second, third = zip(*matrix, strict=True)
    return first, second, third


def _times(matrix: Matrix, column: Row) -> Row:
    first, second, third = (sum(a * b for a, b in zip(row, column, strict=True)) for row in matrix)
    return first, second, third


def _by_matrix(left: Matrix, right: Matrix) -> Matrix:
    first, second, third = (_times(left, column) for column in _transposed(right))
    return _transposed((first, second, third))


def _inverse(matrix: Matrix) -> Matrix:
    (a, b, c), (d, e, f), (g, h, i) = matrix
    whole = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
    return (
        ((e * i - f * h) / whole, (c * h - b * i) / whole, (b * f - c * e) / whole),
        ((f * g - d * i) / whole, (a * i - c * g) / whole, (c * d - a * f) / whole),
        ((d * h - e * g) / whole, (b * g - a * h) / whole, (a * e - b * d) / whole),
    )
