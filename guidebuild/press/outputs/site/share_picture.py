"""The picture that stands for an account where its page is shared: plate, name and the mark that decides, 1200 × 630."""

from __future__ import annotations

import io
from dataclasses import dataclass
from functools import cache
from math import hypot

from PIL import Image, ImageDraw, ImageFont

from guidebuild.press.engine.digest import KnownFile
from guidebuild.press.engine.made import Made
from guidebuild.press.outputs.site.share_size import SHARE_SIZE
from guidebuild.press.theme import fonts

WIDTH, HEIGHT = SHARE_SIZE
_PLATE = 640
_LEADING = 1.14
_STRIP, _RING = 44, 26
"""Pixels: the height of the strip below a picture that stands alone, and the radius of a ring round a mark of no known width."""
_LEFT, _RIGHT, _TOP = _PLATE + 48, WIDTH - 40, 72
_PAGE, _TONE, _TEXT, _QUIET, _HAW, _RULE = "#ffffff", "#f3f6f1", "#16211a", "#465148", "#981f18", "#6b776e"

Font = ImageFont.FreeTypeFont


@dataclass(frozen=True, slots=True)
class ShareWork:
    """All that the picture shows. `plate` is a published copy; `runs` are the scientific name as (text, italic).

    `part` is what of it is shown: left, top and width, in hundredths of its width; None for all. Without names it is shown alone.
    """

    plate: KnownFile
    guide: str
    credit: str
    vernacular: str = ""
    runs: tuple[tuple[str, bool], ...] = ()
    mark: str = ""
    point: tuple[float, float] | None = None  # of that mark on the plate, per cent across and down
    wide: float = 0.0  # of that mark, per cent of the plate's width
    part: tuple[float, float, float] | None = None


def find_ratio(*, alone: bool) -> float:
    """Width over height of what is shown of a picture, alone or beside names."""
    return WIDTH / (HEIGHT - _STRIP) if alone else _PLATE / HEIGHT


def draw_share(work: ShareWork) -> Made:
    """The picture as JPEG, without anything beside its pixels."""
    sheet = Image.new("RGB", SHARE_SIZE, _PAGE)
    draw = ImageDraw.Draw(sheet)
    alone = not (work.vernacular or work.runs)
    wide = WIDTH if alone else _PLATE
    draw.rectangle((0, 0, wide - 1, HEIGHT), fill=_TONE)
    spot = _place_plate(sheet, work, wide)
    if alone:
        _write_below(draw, work)
    else:
        _write_beside(draw, work, spot)
    written = io.BytesIO()
    sheet.save(written, "JPEG", quality=84, optimize=True)
    return Made((written.getvalue(),))


def _write_below(draw: ImageDraw.ImageDraw, work: ShareWork) -> None:
    """The guide and the credit on a strip at the foot."""
    draw.rectangle((0, HEIGHT - _STRIP, WIDTH, HEIGHT), fill=_PAGE)
    title, small = _font(fonts.SANS, 22, 600), _font(fonts.SANS, 18)
    credit = _cut(work.credit, small, WIDTH / 2 - 40) if work.credit else ""
    taken = small.getlength(credit) + 40 if credit else 0
    draw.text((24, HEIGHT - 14), _cut(work.guide, title, WIDTH - 48 - taken), font=title, fill=_TEXT, anchor="ls")
    draw.text((WIDTH - 24, HEIGHT - 14), credit, font=small, fill=_QUIET, anchor="rs")


def _write_beside(draw: ImageDraw.ImageDraw, work: ShareWork, spot: _Spot | None) -> None:
    """Names, the mark that decides, guide and credit in a column beside the plate."""
    column = _Column(draw)
    if work.vernacular:
        column.paragraph(work.vernacular, _fitted(work.vernacular))
        column.down += 6
    column.scientific(work.runs, 36 if work.vernacular else 60)
    column.down += 30
    draw.line((_LEFT, column.down, _RIGHT, column.down), fill=_RULE, width=2)
    if work.mark:
        column.down += 30
        _ring(draw, column.down, spot)
        column.left += 64
        column.paragraph_above(HEIGHT - 96, work.mark, _HAW)
    title = _font(fonts.SANS, 26, 600)
    draw.text((_LEFT, HEIGHT - 50), _cut(work.guide, title, _RIGHT - _LEFT), font=title, fill=_TEXT, anchor="ls")
    if work.credit:
        small = _font(fonts.SANS, 18)
        draw.text((_LEFT, HEIGHT - 22), _cut(work.credit, small, _RIGHT - _LEFT), font=small, fill=_QUIET, anchor="ls")


@dataclass(frozen=True, slots=True)
class _Spot:
    """The first mark on the sheet, with the ring round it."""

    x: float
    y: float
    ring: float


def _ring(draw: ImageDraw.ImageDraw, down: float, spot: _Spot | None) -> None:
    """The mark's number, with a line from it to an open ring round the mark, where it can be pointed at."""
    middle = down + 23
    if spot:
        apart = hypot(_LEFT - spot.x, middle - spot.y) or 1.0
        rim = spot.x + (_LEFT - spot.x) * spot.ring / apart, spot.y + (middle - spot.y) * spot.ring / apart
        for width, ink in ((7, _PAGE), (3, _HAW)):
            reach = spot.ring + width / 2
            draw.line((*rim, _LEFT, middle), fill=ink, width=width)
            draw.ellipse((spot.x - reach, spot.y - reach, spot.x + reach, spot.y + reach), outline=ink, width=width)
    draw.ellipse((_LEFT, down, _LEFT + 46, down + 46), outline=_HAW, fill=_PAGE, width=3)
    draw.text((_LEFT + 23, middle), "1", font=_font(fonts.SANS, 28, 600), fill=_HAW, anchor="mm")


@dataclass
class _Column:
    """The text beside the plate; `down` is where the next line starts."""

    draw: ImageDraw.ImageDraw
    left: float = _LEFT
    down: float = _TOP

    def paragraph(self, text: str, font: Font, *, ink: str = _TEXT, most: int = 3) -> None:
        """Set text in lines; where there are too many the last one ends in an ellipsis."""
        lines = self.wrap(text, font)
        if len(lines) > most:
            lines = [*lines[: most - 1], f"{lines[most - 1]} …"]
        for line in lines:
            self.draw.text((self.left, self.down), _cut(line, font, _RIGHT - self.left), font=font, fill=ink)
            self.down += font.size * _LEADING

    def wrap(self, text: str, font: Font) -> list[str]:
        """Lines of whole words, as wide as the column."""
        lines = [""]
        for word in text.split():
            longer = f"{lines[-1]} {word}".strip()
            if font.getlength(longer) <= _RIGHT - self.left or not lines[-1]:
                lines[-1] = longer
            else:
                lines.append(word)
        return lines

    def paragraph_above(self, foot: float, text: str, ink: str) -> None:
        """Set text in the largest of three sizes at which it ends above `foot`, or as many lines of the smallest as do."""
        for size in (36, 31, 27):
            font = _font(fonts.SERIF, size)
            room = max(1, int((foot - self.down) / (size * _LEADING)))
            if len(self.wrap(text, font)) <= room:
                break
        self.paragraph(text, font, ink=ink, most=room)

    def scientific(self, runs: tuple[tuple[str, bool], ...], size: int) -> None:
        """Set the scientific name, italic only where the Codes ask for it, wrapping between words."""
        across = self.left
        for text, italic in runs:
            font = _font(fonts.SERIF, size, italic=italic)
            for word in _with_spaces(text):
                fits = across + font.getlength(word) <= _RIGHT or across == self.left
                if not fits:
                    across, self.down = self.left, self.down + size * 1.2
                shown = word if fits else word.lstrip()
                self.draw.text((across, self.down), shown, font=font, fill=_TEXT)
                across += font.getlength(shown)
        self.down += size * 1.2


def _place_plate(sheet: Image.Image, work: ShareWork, wide: int) -> _Spot | None:
    """Put the part of the picture on its tone; answers where the first mark is on the sheet."""
    with Image.open(work.plate.path) as opened:
        picture = opened.convert("RGB")
    unit = picture.width / 100
    if work.part:
        left, top, width = (value * unit for value in work.part)
        scale = wide / width
    else:
        scale = min(wide / picture.width, HEIGHT / picture.height)
        left, top = (picture.width - wide / scale) / 2, (picture.height - HEIGHT / scale) / 2
    # Only what the picture has is shown: where the part is larger, tone stands beside.
    box = max(left, 0.0), max(top, 0.0), min(left + wide / scale, picture.width), min(top + HEIGHT / scale, picture.height)
    size = max(1, round((box[2] - box[0]) * scale)), max(1, round((box[3] - box[1]) * scale))
    sheet.paste(picture.resize(size, Image.Resampling.LANCZOS, box=box), (round((box[0] - left) * scale), round((box[1] - top) * scale)))
    if not work.point:
        return None
    x, y = (work.point[0] * unit - left) * scale, (work.point[1] / 100 * picture.height - top) * scale
    return _Spot(x, y, max(work.wide / 2 * unit * scale * 1.15, _RING))


@cache
def _font(family: str, size: int, weight: int = 400, italic: bool = False) -> Font:
    return ImageFont.truetype(fonts.find_face(family, weight=weight, italic=italic).path, size)


def _fitted(text: str) -> Font:
    """The largest of three sizes at which no word is wider than the column."""
    words = text.split()
    sizes = (_font(fonts.SERIF, size, 600) for size in (72, 60, 48))
    return next((f for f in sizes if all(f.getlength(w) <= _RIGHT - _LEFT for w in words)), _font(fonts.SERIF, 36, 600))


def _with_spaces(text: str) -> list[str]:
    words = text.split(" ")
    return [words[0], *(f" {word}" for word in words[1:])]


def _cut(text: str, font: Font, room: float) -> str:
    """A text that is too long, cut to the room with an ellipsis at its end."""
    if font.getlength(text) <= room:
        return text
    while len(text) > 1 and font.getlength(f"{text} …") > room:
        text = text[:-1].rstrip(" …")
    return f"{text} …"
