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
_LEFT, _RIGHT, _TOP = _PLATE + 48, WIDTH - 40, 72
_PAGE, _TONE, _TEXT, _QUIET, _HAW, _RULE = "#ffffff", "#f3f6f1", "#16211a", "#465148", "#981f18", "#6b776e"

Font = ImageFont.FreeTypeFont


@dataclass(frozen=True, slots=True)
class ShareWork:
    """All that the picture shows. `plate` is a published copy; `runs` are the scientific name as (text, italic)."""

    plate: KnownFile
    vernacular: str
    runs: tuple[tuple[str, bool], ...]
    mark: str
    guide: str
    credit: str
    point: tuple[float, float] | None = None  # of that mark on the plate, per cent across and down


def draw_share(work: ShareWork) -> Made:
    """The picture as JPEG, without anything beside its pixels."""
    sheet = Image.new("RGB", SHARE_SIZE, _PAGE)
    draw = ImageDraw.Draw(sheet)
    draw.rectangle((0, 0, _PLATE - 1, HEIGHT), fill=_TONE)
    spot = _place_plate(sheet, work)
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
        column.paragraph(work.mark, _font(fonts.SERIF, 36), ink=_HAW, most=4)
    title = _font(fonts.SANS, 26, 600)
    draw.text((_LEFT, HEIGHT - 50), _cut(work.guide, title, _RIGHT - _LEFT), font=title, fill=_TEXT, anchor="ls")
    if work.credit:
        small = _font(fonts.SANS, 18)
        draw.text((_LEFT, HEIGHT - 22), _cut(work.credit, small, _RIGHT - _LEFT), font=small, fill=_QUIET, anchor="ls")
    written = io.BytesIO()
    sheet.save(written, "JPEG", quality=84, optimize=True)
    return Made((written.getvalue(),))


def _ring(draw: ImageDraw.ImageDraw, down: float, spot: tuple[float, float] | None) -> None:
    """The mark's number, with a line from it to the mark where it can be pointed at."""
    middle = down + 23
    if spot:
        ring = 26
        apart = hypot(_LEFT - spot[0], middle - spot[1]) or 1.0
        rim = spot[0] + (_LEFT - spot[0]) * ring / apart, spot[1] + (middle - spot[1]) * ring / apart
        for width, ink in ((7, _PAGE), (3, _HAW)):
            reach = ring + width / 2
            draw.line((*rim, _LEFT, middle), fill=ink, width=width)
            draw.ellipse((spot[0] - reach, spot[1] - reach, spot[0] + reach, spot[1] + reach), outline=ink, width=width)
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
        lines = [""]
        for word in text.split():
            longer = f"{lines[-1]} {word}".strip()
            if font.getlength(longer) <= _RIGHT - self.left or not lines[-1]:
                lines[-1] = longer
            else:
                lines.append(word)
        if len(lines) > most:
            lines = [*lines[: most - 1], f"{lines[most - 1]} …"]
        for line in lines:
            self.draw.text((self.left, self.down), _cut(line, font, _RIGHT - self.left), font=font, fill=ink)
            self.down += font.size * 1.14

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


def _place_plate(sheet: Image.Image, work: ShareWork) -> tuple[float, float] | None:
    """Put the picture on its tone; answers where the first mark is on the sheet."""
    with Image.open(work.plate.path) as opened:
        picture = opened.convert("RGB")
    picture.thumbnail((_PLATE - 40, HEIGHT - 40), Image.Resampling.LANCZOS)
    left, top = (_PLATE - picture.width) // 2, (HEIGHT - picture.height) // 2
    sheet.paste(picture, (left, top))
    return (left + work.point[0] / 100 * picture.width, top + work.point[1] / 100 * picture.height) if work.point else None


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
