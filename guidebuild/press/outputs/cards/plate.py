"""A species on one page: the plate of a wall or a folder."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from guidebuild.press.engine.problems import Problem
from guidebuild.press.outputs.cards.face import Face, Room, draw_face
from guidebuild.press.outputs.cards.leaving_out import rank_pieces, rank_sentences, tell_left_out
from guidebuild.press.outputs.cards.page import foot_height, write_foot
from guidebuild.press.outputs.cards.shown import number_piece, stage_piece, with_pictures
from guidebuild.press.outputs.cards.words import back_words, front_words
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.giving_way import Giving, Setting, too_long
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.measuring import size_line_type
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
    """All that stays the same while a page is fitted."""

    card: CardView
    setup: Setup

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

    @property
    def giving(self) -> Giving:
        """By what the page may give way."""
        return Giving(
            sizes=self.setup.sizes,
            least_plate=self.format.inner.height * _PLATE_LEAST,
            ranked=rank_pieces(self.card, self.setup.theme.left_out["plate"]),
            height=lambda points, out: _words(self.card, points, self.column, out),
            sentences=rank_sentences(self.card),
        )


def render_plate(
    card: CardView, pictures: Pictures, page_format: Format, theme_folders: Sequence[Path], *, contrast: bool = False
) -> CardResult:
    """Print one species on one page; no `pdf` where it is over."""
    card = with_pictures(card, ())  # the page has none of the small pictures of a card
    fitting = PlateFitting(card, make_setup(pictures, page_format, theme_folders, contrast=contrast))
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
    """Lay a page out until it fits or nothing more can give way, and again where there is room for what was left out."""
    inner, giving = fitting.format.inner, fitting.giving
    setting, high, count = _first(fitting), foot_height(fitting.card, inner, fitting.code, rule=True), 0
    good: _Fitted | None = None
    while True:
        laid = _laid(fitting, setting, high)
        side, below, count = laid.side(PAGE), laid.over("foot"), count + 1
        if not side.over and not below:
            good = _Fitted(setting, laid, count)
        after = giving.give_way(setting, side) if side.over else giving.bring_back(setting, side)
        if (after == setting and not below) or count == _MOST_LAYOUTS:
            return replace(good, layouts=count) if good else _Fitted(setting, laid, count)
        high += below + 0.1 if below else 0.0
        setting = after


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
    return Setting(points, min(max(plate, inner.height * _PLATE_LEAST), wanted))


def _words(card: CardView, points: float, column: float, left_out: frozenset[str] = frozenset()) -> float:
    # Two columns side by side, and the life story across both.
    life, warned = left_out | _whole_life(card), replace(card, cautions=(), laws=())
    left, right = front_words(card, points, column, left_out), back_words(warned, points, column, life)
    across = back_words(card, points, column * 2, left_out) - back_words(warned, points, column * 2, life)
    return max(left, right) + across + points * 25.4 / 72 * 3 + _GAPS


def _whole_life(card: CardView) -> frozenset[str]:
    """All sentences of all stages."""
    return frozenset(number_piece(stage_piece(line), n) for line in card.stages for n in range(1, len(line.sentences) + 1))


def _laid(fitting: PlateFitting, setting: Setting, high: float) -> Laid:
    inner = fitting.format.inner
    room = Room(
        plate=Area(inner.width, setting.plate),
        size_line=inner.width,
        least_line=inner.width,
        code=fitting.code,
        points=size_line_type(setting.points, fine=False),
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
    if not setting.left_out:
        return ()
    told = tell_left_out(fitting.card, fitting.giving.pieces, setting.left_out)
    return (Problem("left-out", where, f"to make room at {setting.points:g} pt the {fitting.format.title} leaves out: {told}"),)
