"""Field cards: fitted to their format by laying them out, printed as PDF/UA-1."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

from guidebuild.press.outputs.cards.face import Face, Room, face
from guidebuild.press.outputs.cards.fit import BACK, CardSetting, Job, first_setting, left_side, next_setting
from guidebuild.press.outputs.cards.page import ABOVE_FOOT, COLUMN_GAP, card_css, code_side, foot, is_small, season_width
from guidebuild.press.outputs.cards.problems import left_out_problems, named, over_problem, picture_problems
from guidebuild.press.paper.formats import Area, Format
from guidebuild.press.paper.layout import Laid, lay_out, write
from guidebuild.press.paper.setup import CardResult, setup
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
    job = Job(card, setup(pictures, card_format, theme_folders, contrast=contrast), bleed)
    setting, laid, drawn, layouts = fit(job)
    problems = [*picture_problems(job, drawn), *left_out_problems(job, setting)]
    over = [over_problem(job, side, setting) for side in laid.sides if side.over or side.wide]
    if over:
        return CardResult(card.id, b"", (*problems, *over), layouts)
    pdf, logged = write(laid, job.where)
    return CardResult(card.id, pdf, (*problems, *named(card, logged)), layouts)


def fit(job: Job) -> tuple[CardSetting, Laid, Face, int]:
    """Lay a card out until it fits or nothing more can give way; one that fits at once is laid out once."""
    setting, count = first_setting(job), 0
    css = card_css(job.setup.theme, job.format, job.bleed)
    while True:
        html, drawn = card_html(job, setting)
        laid = lay_out(html, css, job.setup.fetcher, {BACK: setting.foot + ABOVE_FOOT})
        if job.format.wide:
            laid = replace(laid, sides=(*laid.sides, left_side(job, laid)))
        count += 1
        after = next_setting(job, setting, laid)
        if after is None or count == _MOST_LAYOUTS:
            return setting, laid, drawn, count
        setting = after


def card_html(job: Job, setting: CardSetting) -> tuple[str, Face]:
    """The card as HTML, and the pieces that are in it."""
    inner, wide = job.format.inner, job.format.wide
    plate = _plate(job, setting)
    room = Room(
        plate=plate,
        size_line=_size_line(job, plate),
        code=code_side(job.format),
        points=setting.front.points,
        season=season_width(job.format),
        season_points=setting.back.points,
        rule=50 if job.rule else 0,
        left_out=setting.front.left_out | setting.back.left_out,
    )
    drawn = face(job.card, job.setup.pictures, room, job.setup.inks)
    html = job.setup.theme.page(
        "card.html",
        card=job.card,
        face=drawn,
        front=setting.front,
        back=setting.back,
        foot=foot(inner, setting.foot, job.foot_code, rule=job.rule),
        language=job.card.language,
        title=f"{job.card.name.short} – {job.card.guide}",
        shape="wide" if wide else "tall",
        broken=setting.broken,
        small=is_small(job.format),
        contrast=job.setup.contrast,
        size_under=job.size_under,
        plate_width=plate.width,
        column_gap=COLUMN_GAP,
    )
    return html, drawn


def _size_line(job: Job, plate: Area) -> float:
    inner = job.format.inner.width
    if not job.format.wide:
        return inner
    return plate.width if job.size_under else inner - plate.width - COLUMN_GAP


def _plate(job: Job, setting: CardSetting) -> Area:
    """The box of the plate; beside words it is no larger than the picture."""
    if not job.format.wide:
        return Area(job.format.inner.width, setting.plate)
    width = job.format.inner.width * setting.share
    aspect = job.aspect or 4 / 3
    return Area(min(width, setting.plate * aspect), min(setting.plate, width / aspect))
