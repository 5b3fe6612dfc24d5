"""Field cards: fitted to their format by laying them out, printed as PDF/UA-1."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from guidebuild.press.outputs.cards.face import Face, Room, draw_face
from guidebuild.press.outputs.cards.first_setting import first_setting
from guidebuild.press.outputs.cards.fit import is_within, left_side, next_setting
from guidebuild.press.outputs.cards.fitting import BACK, CardFitting, CardSetting
from guidebuild.press.outputs.cards.page import ABOVE_FOOT, COLUMN_GAP, card_css, code_side, is_small, least_line, season_width, write_foot
from guidebuild.press.outputs.cards.problems import left_out_problems, name_problems, over_problem, picture_problems
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.layout import Laid, lay_out, write_pdf
from guidebuild.press.paper.measuring import size_line_type
from guidebuild.press.paper.setup import CardResult, make_setup
from guidebuild.press.photos.print_copy import Pictures
from guidebuild.views.cards.card import CardView

_MOST_LAYOUTS = 9


def render_card(  # noqa: PLR0913 - four that every print needs, and named options
    card: CardView,
    pictures: Pictures,
    card_format: Format,
    theme_folders: Sequence[Path],
    *,
    contrast: bool = False,
    bleed: float = 0.0,
) -> CardResult:
    """Print one card, front and back, in its trimmed size with `bleed` millimetres round it; no `pdf` where it is over."""
    fitting = CardFitting(card, make_setup(pictures, card_format, theme_folders, contrast=contrast), bleed)
    setting, laid, drawn, layouts = fit_card(fitting)
    problems = [*picture_problems(fitting, drawn), *left_out_problems(fitting, setting)]
    over = [over_problem(fitting, side, setting) for side in laid.sides if side.over or side.wide]
    if over:
        return CardResult(card.id, b"", (*problems, *over), layouts)
    pdf, logged = write_pdf(laid, fitting.where)
    return CardResult(card.id, pdf, (*problems, *name_problems(card, logged)), layouts)


def fit_card(fitting: CardFitting) -> tuple[CardSetting, Laid, Face, int]:
    """Lay a card out until it fits or nothing more can give way; one that fits at once is laid out once."""
    setting, count, good = first_setting(fitting), 0, None
    css = card_css(fitting.setup.theme, fitting.format, fitting.bleed)
    while True:
        html, drawn = card_html(fitting, setting)
        laid = lay_out(html, css, fitting.setup.fetcher, {BACK: setting.foot + ABOVE_FOOT})
        if fitting.format.wide:
            laid = replace(laid, sides=(*laid.sides, left_side(fitting, laid)))
        count += 1
        if is_within(laid):
            good = setting, laid, drawn
        after = next_setting(fitting, setting, laid)
        if after is None or count == _MOST_LAYOUTS:
            return *(good or (setting, laid, drawn)), count
        setting = after


def card_html(fitting: CardFitting, setting: CardSetting) -> tuple[str, Face]:
    """The card as HTML, and the pieces that are in it."""
    inner, wide = fitting.format.inner, fitting.format.wide
    plate = _plate(fitting, setting)
    room = Room(
        plate=plate,
        size_line=_size_line(fitting, plate),
        least_line=least_line(fitting.format),
        code=code_side(fitting.format),
        points=size_line_type(setting.front.points, fine=setting.front.fine),
        season=season_width(fitting.format),
        season_points=setting.back.points,
        front_points=setting.front.points,
        rule=50 if fitting.rule else 0,
        strip=Area(inner.width, setting.strip),
        left_out=setting.front.left_out | setting.back.left_out,
    )
    drawn = draw_face(fitting.card, fitting.setup.pictures, room, fitting.setup.inks)
    html = fitting.setup.theme.page(
        "card.html",
        card=fitting.card,
        face=drawn,
        front=setting.front,
        back=setting.back,
        foot=write_foot(inner, setting.foot, fitting.foot_code, rule=fitting.rule),
        language=fitting.card.language,
        title=f"{fitting.card.name.short} – {fitting.card.guide}",
        shape="wide" if wide else "tall",
        broken=setting.broken,
        small=is_small(fitting.format),
        contrast=fitting.setup.contrast,
        size_under=fitting.size_under,
        plate_width=plate.width,
        column_gap=COLUMN_GAP,
    )
    return html, drawn


def _size_line(fitting: CardFitting, plate: Area) -> float:
    inner = fitting.format.inner.width
    if not fitting.format.wide:
        return inner
    return plate.width if fitting.size_under else inner - plate.width - COLUMN_GAP


def _plate(fitting: CardFitting, setting: CardSetting) -> Area:
    """The box of the plate; beside words it is no larger than the picture."""
    if not fitting.format.wide:
        return Area(fitting.format.inner.width, setting.plate)
    width = fitting.format.inner.width * setting.share
    aspect = fitting.aspect or 4 / 3
    return Area(min(width, setting.plate * aspect), min(setting.plate, width / aspect))
