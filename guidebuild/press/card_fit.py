"""How a card gives way until it fits its format.

It starts at the format's largest type with a plate as high as a rough measure of the words leaves.  If the layout says
that it does not fit, in this order: the plate gives way down to its least height, the type steps down the theme's sizes
to the format's least, what the theme ranks least is left out; what is still over becomes a problem.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from guidebuild.press.card_page import PLATE_LEAST, PLATE_MOST, WIDE_LEAST, WIDE_PLATE, foot, front_text
from guidebuild.press.card_words import back_words, front_words, has
from guidebuild.press.formats import Format
from guidebuild.press.giving_way import REST
from guidebuild.press.layout import Laid, Side
from guidebuild.press.printing import Setup
from guidebuild.views.card import CardView

FRONT, BACK = "front", "back"


@dataclass(frozen=True, slots=True)
class Fit:
    """How one side is set."""

    points: float
    left_out: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class CardSetting:
    """One try at setting a card: both sides and the height of the plate."""

    front: Fit
    back: Fit
    plate: float
    share: float = WIDE_PLATE
    """Of the width, for the plate of a card that lies on its side."""


@dataclass(frozen=True, slots=True)
class Job:
    """Everything that stays the same while one card is fitted."""

    card: CardView
    setup: Setup
    bleed: float = 0.0

    @property
    def where(self) -> str:
        """How a problem names the card."""
        return f"card {self.card.id}"

    @property
    def format(self) -> Format:
        """The format it is fitted to."""
        return self.setup.format


def first_setting(job: Job) -> CardSetting:
    """The largest type, and a plate as high as a rough measure of the words leaves."""
    sizes = job.setup.sizes
    inner = job.format.inner
    if job.format.wide:
        fits = [s for s in sizes if front_words(job.card, s, front_text(job.format)) <= inner.height]
        return CardSetting(Fit(fits[0] if fits else sizes[-1]), _back_first(job), inner.height)
    wanted = _plate_wanted(job)
    fits = [s for s in sizes if inner.height - front_words(job.card, s, inner.width) >= wanted]
    points = fits[0] if fits else sizes[-1]
    plate = min(inner.height - front_words(job.card, points, inner.width), wanted)
    return CardSetting(Fit(points), _back_first(job), max(plate, inner.height * PLATE_LEAST))


def _plate_wanted(job: Job) -> float:
    """As high as the whole picture is at the width of the card, between the least and the most."""
    inner, photo = job.format.inner, job.card.plate
    picture = job.setup.pictures.get(photo.id) if photo else None
    tall = inner.width * picture.height / picture.width if picture else 0.0
    return min(max(tall, inner.height * PLATE_LEAST), inner.height * PLATE_MOST)


def _back_first(job: Job) -> Fit:
    inner = job.format.inner
    room = inner.height - foot(job.format)
    sizes, least = job.setup.sizes, min(job.setup.theme.comfortable, job.format.largest_type)
    whole = [s for s in sizes if s >= least and back_words(job.card, s, inner.width) <= room]
    if whole:
        return Fit(whole[0])
    fits = [s for s in sizes if back_words(job.card, s, inner.width, REST) <= room]
    return Fit(fits[0] if fits else sizes[-1], REST)


def next_setting(job: Job, setting: CardSetting, laid: Laid) -> CardSetting | None:
    """What to give way next, or nothing when all fits or nothing can."""
    after = setting
    front, back = laid.side(FRONT), laid.side(BACK)
    if front.over:
        after = _front_after(job, after, front)
    if back.over:
        after = replace(after, back=_fit_after(job, after.back, back, BACK))
    return None if after == setting else after


def _front_after(job: Job, setting: CardSetting, side: Side) -> CardSetting:
    if job.format.wide:
        if setting.share > WIDE_LEAST:
            return replace(setting, share=max(setting.share - 0.06, WIDE_LEAST))
    else:
        least = job.format.inner.height * PLATE_LEAST
        if setting.plate - side.over - 0.3 >= least:
            return replace(setting, plate=setting.plate - side.over - 0.3)
        if setting.plate > least + 0.5:
            return replace(setting, plate=least)
    return replace(setting, front=_fit_after(job, setting.front, side, FRONT))


def _fit_after(job: Job, fit_now: Fit, side: Side, name: str) -> Fit:
    room = job.format.inner.height
    fixed = side.pieces.get("plate", 0.0) if name == FRONT else 0.0
    words = max(room - fixed, 1.0)
    if name == BACK and not fit_now.left_out >= REST:
        return replace(fit_now, left_out=fit_now.left_out | REST)
    # Words fill an area: their height goes with the square of the type size.
    wanted = fit_now.points * ((words / (words + side.over)) ** 0.5)
    smaller = [size for size in job.setup.sizes if size < fit_now.points]
    if smaller:
        return replace(fit_now, points=next((s for s in smaller if s <= wanted + 0.25), smaller[-1]))
    return replace(fit_now, left_out=_more_left_out(job, fit_now, side.over, name))


def _more_left_out(job: Job, fit_now: Fit, over: float, name: str) -> frozenset[str]:
    """So many more of the ranked pieces that, at a guess, the excess is gone; at least one, while there is one."""
    words, room = (front_words, front_text(job.format, WIDE_LEAST)) if name == FRONT else (back_words, job.format.inner.width)
    out, before = fit_now.left_out, words(job.card, fit_now.points, room, fit_now.left_out)
    for piece in job.setup.theme.left_out[name]:
        if piece in out or not has(job.card, piece):
            continue
        out |= {piece}
        if before - words(job.card, fit_now.points, room, out) >= over:
            break
    return out
