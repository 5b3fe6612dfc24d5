"""One photo in, every published copy of it out: turned, cropped, in sRGB, in several widths and formats.

Nothing that the camera, phone or editor wrote beside the pixels (place, previews, comments, maker's notes) survives,
because every copy is encoded from bare pixels; credit and licence are then written back on purpose.  A copy is a pure
function of the original's bytes and the recipe, so it can be made in any process and kept by digest.
"""

from __future__ import annotations

import io
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field
from math import gcd

from PIL import ExifTags, Image, ImageOps

from guidebuild.press.engine.problems import Problem
from guidebuild.press.photos.colour import ADOBE_RGB, DISPLAY_P3, matrix_profile, to_eight_bits, to_srgb
from guidebuild.press.photos.credit import Credit
from guidebuild.press.photos.encoding import SUFFIXES, write_picture
from guidebuild.press.photos.info import QUARTER_TURNS, UNREADABLE, is_damaged, open_picture, own_limits, read_orientation, true_format

TONE = (243, 246, 241)
"""What stands beside a picture that its frame is too large for: the tone under plates."""
PLACEHOLDER_WIDTH = 16
MOST_LOST = 1 / 3
"""A crop without a point of interest that loses more than this share of a side is worth a warning."""

PRINT_PPI = 300
_NCLX_P3 = 12  # ITU-T H.273, table 2: colour primaries of Display P3
_INTEROP_ADOBE = "R03"  # Exif 2.32, InteroperabilityIndex of the DCF option file: Adobe RGB


@dataclass(frozen=True, slots=True)
class Focus:
    """The point that every crop must keep."""

    across: float
    """Share of the width, from the left, 0 to 1."""
    down: float
    """Share of the height, from the top, 0 to 1."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """How to make the copies of one photo."""

    widths: tuple[int, ...]
    """Wanted widths in pixels; none is made larger than the photo."""
    formats: tuple[str, ...] = ("webp", "jpeg")
    """Names in `ENCODINGS`."""
    jpeg_widths: tuple[int, ...] = ()
    """Widths of the JPEG fall-back, or of prints, when fewer are wanted than of the others."""
    ratio: tuple[int, int] | None = None
    """Exact shape as (across, down); nothing keeps the whole photo."""
    focus: Focus | None = None
    part: tuple[float, float, float] | None = None
    """With a `ratio`, what is shown: left, top and width in hundredths of the photo's width. Where that is larger, tone stands beside."""
    paper: tuple[int, int, int] = (255, 255, 255)
    """The colour under transparent parts."""
    credit: Credit | None = None
    sizes_only: bool = field(default=False, kw_only=True)
    """Leave out placeholder and mean colour."""


@dataclass(frozen=True, slots=True)
class Copy:
    """One published file."""

    encoding: str
    width: int
    height: int
    data: bytes

    @property
    def suffix(self) -> str:
        """The ending of its file name."""
        return SUFFIXES[self.encoding]


@dataclass(frozen=True, slots=True)
class Copies:
    """All that one recipe makes of one photo."""

    copies: tuple[Copy, ...]
    """By format in the recipe's order, widest first."""
    colour: str
    """Mean colour as `#rrggbb`, for the space a picture will fill."""
    placeholder: bytes
    """A WebP some sixteen pixels wide."""
    problems: tuple[Problem, ...] = ()


def prepare_copies(photo: bytes, recipe: Recipe, where: str) -> Copies | Problem:
    """Make all copies of a photo; a photo that cannot be read whole gives one problem and no copy at all."""
    each = prepare_each(photo, (recipe,), where)
    return each if isinstance(each, Problem) else each[0]


def prepare_each(photo: bytes, recipes: Sequence[Recipe], where: str) -> tuple[Copies, ...] | Problem:
    """What each of several recipes makes of a photo that is decoded once."""
    with own_limits():
        opened = open_picture(photo, where)
        if isinstance(opened, Problem):
            return opened
        try:
            with opened as picture:
                decoded, profile = _decode(picture, recipes)
                largest = [_largest(decoded, profile, recipe) for recipe in recipes]
        except UNREADABLE as error:
            return is_damaged(where, error)
    return tuple(_copies_of(pixels, lost, recipe, where) for (pixels, lost), recipe in zip(largest, recipes, strict=True))


def _copies_of(pixels: Image.Image, lost: tuple[float, float], recipe: Recipe, where: str) -> Copies:
    sized = _Sized(pixels)
    copies = tuple(copy for encoding in recipe.formats for copy in _encoded(sized, encoding, recipe))
    colour, placeholder = ("", b"") if recipe.sizes_only else _stand_in(pixels)
    return Copies(copies, colour, placeholder, _crop_problems(lost, recipe, where))


def expect_sizes(width: int, height: int, recipe: Recipe) -> Iterator[tuple[str, int, int]]:
    """Encoding, width and height of each copy that will be made of a photo of this size (to a pixel of height), before any is made."""
    box = crop_box(width, height, recipe.ratio, recipe.focus) if recipe.ratio else (0.0, 0.0, float(width), float(height))
    across, down = _size(box, max(recipe.widths), recipe.ratio)
    widest = (0.0, 0.0, float(across), float(down))
    for encoding in recipe.formats:
        yield from ((encoding, *size) for size in _sizes(widest, encoding, recipe))


def _sizes(widest: tuple[float, float, float, float], encoding: str, recipe: Recipe) -> list[tuple[int, int]]:
    """The sizes of the copies in one encoding, widest first."""
    wanted = recipe.jpeg_widths if encoding in {"jpeg", "print"} and recipe.jpeg_widths else recipe.widths
    return sorted({_size(widest, width, recipe.ratio) for width in wanted}, reverse=True)


def print_width(millimetres: float, ppi: int = PRINT_PPI) -> int:
    """Pixels needed to print this wide: 80 mm at 300 ppi is 945."""
    return round(millimetres / 25.4 * ppi)


def crop_box(width: int, height: int, ratio: tuple[int, int], focus: Focus | None) -> tuple[float, float, float, float]:
    """The largest part (left, top, right, bottom) with exactly this shape, centred on the focus as far as the edges let it."""
    across, down = ratio
    scale = min(width / across, height / down)
    wide, high = across * scale, down * scale
    point = focus or Focus(0.5, 0.5)
    left = min(max(point.across * width - wide / 2, 0), width - wide)
    top = min(max(point.down * height - high / 2, 0), height - high)
    return left, top, left + wide, top + high


def _decode(picture: Image.Image, recipes: Iterable[Recipe]) -> tuple[Image.Image, bytes | None]:
    """The whole picture, turned, as large as the largest copy needs it, and its colour profile."""
    if true_format(picture) == "JPEG":
        picture.draft(None, max(_draft_size(picture, recipe) for recipe in recipes))
    profile = _profile(picture)
    return to_eight_bits(ImageOps.exif_transpose(picture)), profile


def _largest(picture: Image.Image, profile: bytes | None, recipe: Recipe) -> tuple[Image.Image, tuple[float, float]]:
    """The widest copy in sRGB, and the shares of width and height that its crop leaves out."""
    if recipe.part and recipe.ratio:
        return _on_tone(picture, profile, recipe, recipe.part, recipe.ratio), (0.0, 0.0)
    box = crop_box(*picture.size, recipe.ratio, recipe.focus) if recipe.ratio else (0, 0, *picture.size)
    lost = 1 - (box[2] - box[0]) / picture.width, 1 - (box[3] - box[1]) / picture.height
    size = _size(box, max(recipe.widths), recipe.ratio)
    resized = picture.resize(size, Image.Resampling.LANCZOS, box=box, reducing_gap=3.0)
    return to_srgb(resized, profile, recipe.paper), lost


def _on_tone(
    picture: Image.Image, profile: bytes | None, recipe: Recipe, part: tuple[float, float, float], ratio: tuple[int, int]
) -> Image.Image:
    """A part of the picture in its frame, with tone where the picture ends."""
    left, top, wide = (value * picture.width / 100 for value in part)
    high = wide * ratio[1] / ratio[0]
    size = _size((0, 0, wide, high), max(recipe.widths), ratio)
    scale = size[0] / wide
    box = max(left, 0.0), max(top, 0.0), min(left + wide, float(picture.width)), min(top + high, float(picture.height))
    shown = max(1, round((box[2] - box[0]) * scale)), max(1, round((box[3] - box[1]) * scale))
    resized = to_srgb(picture.resize(shown, Image.Resampling.LANCZOS, box=box, reducing_gap=3.0), profile, recipe.paper)
    if shown == size:
        return resized
    sheet = Image.new("RGB", size, TONE)
    sheet.paste(resized, (round((box[0] - left) * scale), round((box[1] - top) * scale)))
    return sheet


def _draft_size(picture: Image.Image, recipe: Recipe) -> tuple[int, int]:
    # libjpeg shrinks by 2, 4 or 8 while decoding, never below this size; a quarter to spare keeps the last step sharp.
    width, height = picture.size
    turned = read_orientation(picture) in QUARTER_TURNS
    across, down = (height, width) if turned else (width, height)
    left, _, right, _ = crop_box(across, down, recipe.ratio or (across, down), None)
    shown = recipe.part[2] * across / 100 if recipe.part else right - left
    scale = min(1.0, max(recipe.widths) * 1.25 / shown)
    return max(1, round(width * scale)), max(1, round(height * scale))


def _size(box: tuple[float, float, float, float], wanted: int, ratio: tuple[int, int] | None) -> tuple[int, int]:
    wide, high = box[2] - box[0], box[3] - box[1]
    width = max(1, min(wanted, round(wide)))
    if ratio is None:
        return width, max(1, round(high * width / wide))
    # Whole multiples of the reduced ratio give the exact shape in whole pixels.
    common = gcd(*ratio)
    across, down = ratio[0] // common, ratio[1] // common
    steps = max(1, width // across)
    return across * steps, down * steps


def _profile(picture: Image.Image) -> bytes | None:
    profile = picture.info.get("icc_profile")
    if isinstance(profile, bytes) and profile:
        return profile
    nclx = picture.info.get("nclx_profile")
    if isinstance(nclx, dict) and nclx.get("color_primaries") == _NCLX_P3:
        return matrix_profile("Display P3", DISPLAY_P3, None)
    try:
        interop = picture.getexif().get_ifd(ExifTags.IFD.Interop).get(ExifTags.Interop.InteropIndex)
    except UNREADABLE:
        return None
    if interop == _INTEROP_ADOBE and picture.mode == "RGB":
        return matrix_profile("Adobe RGB (1998)", ADOBE_RGB, 563 / 256)
    return None


class _Sized(dict[tuple[int, int], Image.Image]):
    """The widest copy in every size asked for: bare pixels, made once for all encodings."""

    def __init__(self, widest: Image.Image) -> None:
        super().__init__()
        self.widest = widest

    def __missing__(self, size: tuple[int, int]) -> Image.Image:
        bare = Image.new("RGB", size)
        source = self._choose_source(size)
        bare.paste(source if size == source.size else source.resize(size, Image.Resampling.LANCZOS, reducing_gap=3.0))
        self[size] = bare
        return bare

    def _choose_source(self, size: tuple[int, int]) -> Image.Image:
        """The smallest picture that is at least twice as wide, else the widest: less to shrink, and as sharp (SSIM 0.997 and more)."""
        made = [picture for (width, _), picture in self.items() if width >= 2 * size[0]]
        return min(made, key=lambda picture: picture.width, default=self.widest)


def _encoded(sized: _Sized, encoding: str, recipe: Recipe) -> Iterator[Copy]:
    box = (0.0, 0.0, float(sized.widest.width), float(sized.widest.height))
    for size in _sizes(box, encoding, recipe):
        yield Copy(encoding, *size, write_picture(sized[size], encoding, recipe.credit))


def _stand_in(pixels: Image.Image) -> tuple[str, bytes]:
    height = max(1, round(PLACEHOLDER_WIDTH * pixels.height / pixels.width))
    small = pixels.resize((PLACEHOLDER_WIDTH, height), Image.Resampling.BOX, reducing_gap=2.0)
    mean = small.resize((1, 1), Image.Resampling.BOX).tobytes()
    written = io.BytesIO()
    small.save(written, "WEBP", quality=40, method=6)
    return f"#{mean.hex()}", written.getvalue()


def _crop_problems(lost: tuple[float, float], recipe: Recipe, where: str) -> tuple[Problem, ...]:
    if recipe.ratio is None or recipe.focus or max(lost) <= MOST_LOST:
        return ()
    side = "width" if lost[0] > lost[1] else "height"
    loss = f"cutting the photo to {recipe.ratio[0]}:{recipe.ratio[1]} leaves out {max(lost):.0%} of its {side}, perhaps what it shows too"
    mend = "say what to keep with `focus`, as percent across and down, such as `focus: 50, 12`"
    return (Problem("crop", where, f"{loss}; {mend}"),)
