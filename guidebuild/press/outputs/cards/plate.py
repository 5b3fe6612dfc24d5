"""A species on one page: the plate of a wall or a folder, and the pages of a booklet."""

from __future__ import annotations

from collections.abc import Sequence, Set
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.face import Face, Room, draw_face
from guidebuild.press.outputs.cards.page import foot_height, write_foot
from guidebuild.press.outputs.cards.words import back_words, front_words, has
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.giving_way import REST, Setting, give_way, too_long
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.setup import CardResult, Setup, make_setup
from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView

PAGE = "plate"
_MOST_LAYOUTS = 9
_PLATE_LEAST, _PLATE_FAIR, _PLATE_MOST = 0.28, 0.38, 0.5
_GAP = 6.0
_GAPS = 11.5
"""Millimetres that lines and margins take which a card does not have."""
_CODE = 17.0
_ABOVE_FOOT = 3.0


@dataclass(frozen=True, slots=True)
class PlateFitting:
    """All that stays the same while a page is fitted; `number` is its page in a booklet, 0 for none."""

    card: CardView
    setup: Setup
    number: int

    @property
    def format(self) -> Format:
        """The format it is fitted to."""
        return self.setup.format

    @property
    def code(self) -> float:
        """Side of the code in the foot, 0 where there is no address that it could hold."""
        return _CODE if self.card.address else 0.0

    @property
    def column(self) -> float:
        """Width of one of the two columns under the plate."""
        return (self.format.inner.width - _GAP) / 2


def render_plate(  # noqa: PLR0913 - four that every print needs, and named options
    card: CardView,
    pictures: Pictures,
    page_format: Format,
    theme_folders: Sequence[Path],
    *,
    contrast: bool = False,
    number: int = 0,
) -> CardResult:
    """Print one species on one page; no `pdf` where it is over."""
    fitting = PlateFitting(card, make_setup(pictures, page_format, theme_folders, contrast=contrast), number)
    fitted, where = _fit(fitting), f"plate {card.id}"
    side = fitted.laid.side(PAGE)
    if side.over:
        return CardResult(card.id, b"", (too_long(where, f"the {page_format.title}", side, fitted.setting.points),), fitted.layouts)
    pdf, logged = write_pdf(fitted.laid, where)
    return CardResult(card.id, pdf, (*_left_out(fitting, fitted.setting, where), *logged), fitted.layouts)


@dataclass(frozen=True, slots=True)
class _Fitted:
    """A page as it is set in the end, and how often it was laid out for that."""

    setting: Setting
    laid: Laid
    layouts: int


def _fit(fitting: PlateFitting) -> _Fitted:
    """Lay a page out until it fits or nothing more can give way."""
    inner = fitting.format.inner
    setting, high, count = _first(fitting), foot_height(fitting.card, inner, fitting.code, rule=True), 0
    ranked = [piece for piece in fitting.setup.theme.left_out["plate"] if has(fitting.card, piece)]
    over: set[Setting] = set()
    while True:
        laid = _laid(fitting, setting, high)
        side, below, count = laid.side(PAGE), laid.over("foot"), count + 1
        after = setting
        if side.over:
            over.add(setting)
            after = give_way(setting, side, sizes=fitting.setup.sizes, least_plate=inner.height * _PLATE_LEAST, ranked=ranked)
        if (after == setting and not below) or count == _MOST_LAYOUTS:
            fitted = _Fitted(setting, laid, count)
            return fitted if side.over or below else _brought_back(fitting, fitted, high, ranked, over)
        high += below + 0.1 if below else 0.0
        setting = after


def _brought_back(fitting: PlateFitting, fitted: _Fitted, high: float, ranked: Sequence[str], over: Set[Setting]) -> _Fitted:
    """Once a large piece has gone there may be room again for smaller ones that went before it: the most wanted is tried first.

    Settings that were over already are not tried again.
    """
    for piece in reversed([*REST, *ranked]):
        if piece in fitted.setting.left_out:
            setting = replace(fitted.setting, left_out=fitted.setting.left_out - {piece})
            if setting in over:
                continue
            laid, layouts = _laid(fitting, setting, high), fitted.layouts + 1
            fits = not laid.side(PAGE).over and not laid.over("foot")
            fitted = _Fitted(setting, laid, layouts) if fits else replace(fitted, layouts=layouts)
    return fitted


def plate_pixels(page_format: Format) -> tuple[int, int]:
    """The largest width and height, in pixels, that a plate can use at 300 pixels an inch."""
    inner = page_format.inner
    return print_width(inner.width), print_width(inner.height * _PLATE_MOST)


def _first(fitting: PlateFitting) -> Setting:
    """The largest type at which, at a guess, all words leave room for the picture."""
    inner, card, photo = fitting.format.inner, fitting.card, fitting.card.plate
    picture = fitting.setup.pictures.get(photo.id) if photo else None
    tall = inner.width * picture.height / picture.width if picture else inner.height * _PLATE_LEAST
    wanted = min(max(tall, inner.height * _PLATE_LEAST), inner.height * _PLATE_MOST)
    free = [(s, inner.height - _CODE - _ABOVE_FOOT - _words(card, s, fitting.column)) for s in fitting.setup.sizes]
    points, plate = next((f for f in free if f[1] >= min(wanted, inner.height * _PLATE_FAIR)), free[-1])
    return Setting(points, min(max(plate, inner.height * _PLATE_LEAST), wanted), frozenset())


def _words(card: CardView, points: float, column: float) -> float:
    # Two columns side by side, and the life story across both.
    life, warned = frozenset({"stages"}), replace(card, cautions=(), laws=())
    left, right = front_words(card, points, column), back_words(warned, points, column, life)
    across = back_words(card, points, column * 2) - back_words(warned, points, column * 2, life)
    return max(left, right) + across + points * 25.4 / 72 * 3 + _GAPS


def _laid(fitting: PlateFitting, setting: Setting, high: float) -> Laid:
    inner = fitting.format.inner
    room = Room(
        plate=Area(inner.width, setting.plate),
        size_line=inner.width,
        least_line=inner.width,
        code=fitting.code,
        points=setting.points,
        season=fitting.column,
        season_points=setting.points,
        left_out=setting.left_out,
    )
    drawn: Face = draw_face(fitting.card, fitting.setup.pictures, room, fitting.setup.inks)
    html = fitting.setup.theme.page(
        "plate.html",
        card=fitting.card,
        face=drawn,
        setting=setting,
        language=fitting.card.language,
        title=f"{fitting.card.name.short} – {fitting.card.guide}",
        contrast=fitting.setup.contrast,
        number=fitting.number,
        foot=write_foot(inner, high, fitting.code, rule=True),
    )
    return lay_out(html, _css(fitting), fitting.setup.fetcher, {PAGE: high + _ABOVE_FOOT})


def _css(fitting: PlateFitting) -> str:
    size = fitting.format.size
    return (
        f"@page {PAGE}{{size:{size.width}mm {size.height}mm;margin:{fitting.format.margin}mm}}.page-plate{{page:{PAGE};position:relative}}"
        f".columns{{grid-template-columns:{fitting.column}mm {fitting.column}mm;column-gap:{_GAP}mm}}" + fitting.setup.theme.css("card.css")
    )


def _left_out(fitting: PlateFitting, setting: Setting, where: str) -> tuple[Problem, ...]:
    pieces = [piece for piece in fitting.setup.theme.left_out["plate"] if piece in setting.left_out - REST]
    if not pieces:
        return ()
    return (
        Problem("left-out", where, f"to make room at {setting.points:g} pt the {fitting.format.title} leaves out: {', '.join(pieces)}"),
    )
