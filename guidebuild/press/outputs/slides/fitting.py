"""A slide laid out so that all of it fits: first its picture gets smaller, then its type, then what is least worth goes."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from math import ceil
from pathlib import Path

from guidebuild.press.outputs.slides.drawn import BETWEEN, CODE, draw_slide
from guidebuild.press.outputs.slides.shapes import DENSITY, LEAST_TYPE, MARGIN, SIZES, Shape
from guidebuild.press.paper.fetching import GuideFetcher
from guidebuild.press.paper.formats import POINTS_PER_MM, Area
from guidebuild.press.paper.layout import Laid, lay_out
from guidebuild.press.paper.measuring import count_lines
from guidebuild.press.photos.print_copy import Picture
from guidebuild.press.theme.prose import write_words
from guidebuild.press.theme.sandbox import fill_template, theme_file
from guidebuild.views.slides.slide import Slide, SlideKind, short_caution
from guidebuild.words import words

PAGE = "slide"
FOLDER = "slides"
_FOOT_LINE, _ABOVE_FOOT, _PLACE = LEAST_TYPE * 1.24, LEAST_TYPE * 0.5, 10.0
"""Height of a line at the foot, what is free above it, and the width of the slide's number."""
_LEAST_PICTURE, _MOST_PICTURE = 0.3, 0.74
"""Shares of the room that a picture takes at least and at most."""
_WIDE_PICTURE = 0.47
"""Share of the width that a picture takes beside words."""
_TALLEST = 1.05
"""How high a frame of several side by side may be, in widths of its own."""
_FLAT_PICTURE = 0.55
"""The most of the height that species side by side take on a wide slide."""
_LEAST_FLAT = 0.8
"""The least of that."""
_COMFORTABLE = 40 / DENSITY
"""Down to this size of type a picture is not made smaller than is fair."""
_TRIES = 12
_HEAD, _QUESTION_HEAD, _PARTED_HEAD = 1.8, 2.2, 1.5
"""How much larger a title is than the text."""
_LINE = 1.25


@dataclass(frozen=True, slots=True)
class Setting:
    """How a slide is set: the size of its text and the height of its picture (mm), how many of its marks or lines are left out."""

    type: float
    picture: float
    left_out: int = 0


@dataclass(frozen=True, slots=True)
class Sheet:
    """What stays the same while a slide is fitted. `number` of `count` is its place in the set."""

    slide: Slide
    shape: Shape
    language: str
    guide: str
    number: int
    count: int
    pictures: Mapping[str, Picture]
    theme: tuple[Path, ...]

    @property
    def high(self) -> float:
        """What stands above the foot."""
        return self.shape.room.height - self.foot

    @property
    def foot(self) -> float:
        """Height of what stands at the foot: whose the pictures are, and the slide's number."""
        lines = count_lines(self.slide.credit or self.guide, LEAST_TYPE * POINTS_PER_MM, self.shape.room.width - _PLACE)
        return lines * _FOOT_LINE + _ABOVE_FOOT

    @property
    def has_picture(self) -> bool:
        """Whether it shows any picture."""
        return any(photo.id in self.pictures for photo in self.slide.photos)

    @property
    def is_titled(self) -> bool:
        """Whether its title stands on it: where there is little room, names under pictures or over months say it."""
        return not (self.shape.is_wide and (self.slide.kind is SlideKind.BESIDE or self.slide.seasons))

    @property
    def is_scaled(self) -> bool:
        """Whether the bar of the scale stands under species side by side: in the question, only where there is room."""
        return not (self.shape.is_wide and self.slide.kind is SlideKind.QUESTION)

    @property
    def code(self) -> float:
        """Side of the code of its address, millimetres."""
        return min(CODE, self.high) if self.slide.address else 0.0

    @property
    def beside(self) -> float:
        """How much of the width a picture or a code takes beside the words."""
        if not self.shape.is_wide or self.slide.side:
            return 0.0
        return self.shape.room.width * _WIDE_PICTURE if self.has_picture else self.code

    @property
    def column(self) -> float:
        """Width of its words."""
        return self.shape.room.width - (self.beside + BETWEEN if self.beside else 0.0)


@dataclass(frozen=True, slots=True)
class FittedSlide:
    """A slide as it is set in the end; `over` are the millimetres that do not fit, 0 where all do."""

    laid: Laid
    setting: Setting
    over: float


def fit_slide(sheet: Sheet) -> FittedSlide:
    """Lay a slide out until all of it fits or nothing more can give way."""
    setting = first_setting(sheet)
    for _ in range(_TRIES):
        laid = _lay_out(sheet, setting)
        over = laid.side(PAGE).over
        after = _give_way(sheet, setting, over) if over else setting
        if after == setting:
            break
        setting = after
    return FittedSlide(laid, setting, over)


def first_setting(sheet: Sheet) -> Setting:
    """The largest type at which, at a guess, all words leave room for a picture of a fair size."""
    if sheet.beside:
        size = next((size for size in SIZES if guess_height(sheet, size) <= sheet.high), LEAST_TYPE)
        return Setting(size, sheet.high)
    least, fair, most = _bounds(sheet)
    for size in SIZES:
        free = sheet.high - guess_height(sheet, size)
        if free >= (fair if size > _COMFORTABLE else least):
            return Setting(size, min(free, most))
    return Setting(LEAST_TYPE, least)


def settle_picture(sheet: Sheet) -> Sheet:
    """The slide without a picture that may go, where that would be small or the words beside it."""
    if not (sheet.slide.may_go and sheet.has_picture):
        return sheet
    setting = first_setting(sheet)
    _, fair, _ = _bounds(sheet)
    if setting.type > _COMFORTABLE and (sheet.beside or setting.picture >= fair):
        return sheet
    return replace(sheet, slide=replace(sheet.slide, photo=None, note=""))


def _bounds(sheet: Sheet) -> tuple[float, float, float]:
    """Heights of its picture: the least, the one at which all of it is seen as wide as the slide is, and the most."""
    known = [picture for photo in sheet.slide.photos if (picture := sheet.pictures.get(photo.id))]
    if not known:
        return 0.0, 0.0, 0.0
    room, least, most = sheet.shape.room.width, sheet.high * _LEAST_PICTURE, sheet.high * _MOST_PICTURE
    if sheet.slide.side:
        most = min(most, room / len(known) * _TALLEST, sheet.high * _FLAT_PICTURE if sheet.shape.is_wide else most)
        return (most * _LEAST_FLAT if sheet.shape.is_wide else min(least, most)), most, most
    return least, min(room * known[0].height / known[0].width, most), most


def guess_height(sheet: Sheet, size: float) -> float:
    """About how high all words of a slide are in this type."""
    slide, column = sheet.slide, sheet.column
    lines = list(_guess_lines(sheet, size))
    head = size * (_PARTED_HEAD if sheet.beside else _QUESTION_HEAD if slide.kind is SlideKind.QUESTION else _HEAD)
    title = count_lines(slide.title, head * POINTS_PER_MM, column, bold=True, serif=True) * head * 1.1 if sheet.is_titled else 0.0
    gaps = size * (0.5 * len(slide.lines) + 0.35 * len(slide.marks) + 0.8 * len(slide.cautions) + 0.4 * len(slide.credits) + 1.6)
    seasons = len(slide.seasons) * (4.2 + size * 0.5) + (LEAST_TYPE * 1.3 if slide.seasons else 0)
    return title + sum(lines) * size * _LINE + gaps + seasons + (0 if sheet.beside else sheet.code)


def _guess_lines(sheet: Sheet, size: float) -> Iterator[int]:
    slide, column = sheet.slide, sheet.column
    points = size * POINTS_PER_MM
    latin = slide.name.plain if slide.name and slide.name.vernacular else ""
    texts = [slide.about, latin, slide.note, *(line.words for line in slide.lines)]
    texts += [f"{row.label} {'' if sheet.shape.is_wide else row.words}" for row in slide.seasons] + [*slide.credits, slide.address]
    texts += [f"{c.title}  {short_caution(c).words}" for c in slide.cautions]
    yield from (count_lines(text, points, column) for text in texts if text)
    yield from (count_lines(mark.said.words, points, column - size * 1.8, bold=True) for mark in slide.marks)
    if slide.side:
        beside = len(slide.side.plates)
        each = (column - BETWEEN * (beside - 1)) / max(beside, 1)
        told = [told.words for told in slide.told] or [""] * beside
        yield max(
            count_lines(plate.link.text, points * 1.1, each, bold=True) + count_lines(text, points, each) + 1
            for plate, text in zip(slide.side.plates, told, strict=True)
        )
        yield 2 if sheet.is_scaled else 0


def _give_way(sheet: Sheet, setting: Setting, over: float) -> Setting:
    least, fair, _ = _bounds(sheet)
    smaller = next((size for size in SIZES if size < setting.type - 1e-6), None)
    lowest = fair if smaller and setting.type > _COMFORTABLE else least
    if not sheet.beside and setting.picture - lowest > 0.2:
        return replace(setting, picture=max(lowest, setting.picture - over - 0.3))
    if smaller:
        return replace(setting, type=smaller)
    if setting.left_out < _most_left_out(sheet.slide):
        return replace(setting, left_out=setting.left_out + 1)
    return setting


def _most_left_out(slide: Slide) -> int:
    """How many marks or lines may go: never the first, and nothing of what can hurt or of whom is to be named."""
    if slide.kind is SlideKind.CREDITS:
        return 0
    return max(len(slide.marks) - 1, 0) or max(len(slide.lines) - 1, 0)


def leave_out(slide: Slide, number: int) -> Slide:
    """The slide without its last marks, or lines where it has no marks; the pointers go with them."""
    if not number:
        return slide
    if not slide.marks:
        return replace(slide, lines=slide.lines[:-number])
    kept = slide.marks[:-number]
    photo = replace(slide.photo, marks=tuple(m for m in slide.photo.marks if m in kept)) if slide.photo else None
    return replace(slide, marks=kept, photo=photo)


def slide_html(sheet: Sheet, setting: Setting) -> str:
    """The slide as one HTML document."""
    room, slide = sheet.shape.room, leave_out(sheet.slide, setting.left_out)
    say = words(sheet.language)
    area = Area(sheet.beside or room.width, max(setting.picture, 1.0))
    values = {
        "s": slide,
        "drawn": draw_slide(slide, sheet.pictures, area, (sheet.column, sheet.code), say("Caution")),
        "said": write_words,
        "short": short_caution,
        "sheet": sheet,
        "type": setting.type,
        "area": area,
    }
    return fill_template(sheet.theme, f"{FOLDER}/slide.html", sheet.language, **values)


def slide_css(sheet: Sheet) -> str:
    """The stylesheet of a shape."""
    shape, (top, foot) = sheet.shape, sheet.shape.margins
    rules = (
        f"@page {PAGE}{{size:{shape.page.width}mm {shape.page.height}mm;margin:{top}mm {MARGIN}mm {foot}mm}}"
        f"main{{page:{PAGE};height:{shape.room.height}mm}}"
        f"footer p{{font-size:{LEAST_TYPE}mm}}.whose{{width:{shape.room.width - _PLACE}mm}}"
    )
    return rules + theme_file(sheet.theme, f"{FOLDER}/slide.css").decode()


def _lay_out(sheet: Sheet, setting: Setting) -> Laid:
    fetcher = GuideFetcher(pictures=sheet.pictures.values())
    return lay_out(slide_html(sheet, setting), slide_css(sheet), fetcher, {PAGE: sheet.foot})


def divide(slide: Slide, sheet: Sheet) -> Sequence[Slide]:
    """A slide whose words do not go onto one, on as many as it takes: each caution, credit and stage stays whole."""
    most = sheet.high * 0.97
    if guess_height(replace(sheet, slide=slide), LEAST_TYPE) <= most:
        return (slide,)
    if slide.kind is SlideKind.CARE and slide.lines and slide.cautions:
        parts = (replace(slide, cautions=()), replace(slide, lines=()))
    elif len(slide.cautions) > 1:
        half = ceil(len(slide.cautions) / 2)
        parts = (replace(slide, cautions=slide.cautions[:half]), replace(slide, cautions=slide.cautions[half:]))
    elif slide.kind is SlideKind.CREDITS and slide.address and slide.credits:
        parts = (replace(slide, address=""), replace(slide, credits=()))
    elif slide.seasons and slide.lines:
        parts = (replace(slide, lines=()), replace(slide, seasons=(), months=()))
    elif len(slide.seasons) > 1:
        half = ceil(len(slide.seasons) / 2)
        parts = (replace(slide, seasons=slide.seasons[:half]), replace(slide, seasons=slide.seasons[half:]))
    else:
        return (slide,)
    return tuple(piece for part in parts for piece in divide(part, sheet))
