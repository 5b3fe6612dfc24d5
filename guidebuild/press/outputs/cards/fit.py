"""How a card gives way until it fits its format.

It starts at the format's largest type with a plate as high as a rough measure of the words leaves.  If the layout says
that it does not fit, in this order: the plate gives way down to its least height, single sentences go from the back,
the type steps down the theme's sizes to the format's least, what the theme ranks least is left out piece by piece; what
is still over becomes a problem.  Where the layout leaves room, the most needed of what was left out comes back.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from math import ceil

from guidebuild.press.outputs.cards.leaving_out import rank_pieces, rank_sentences
from guidebuild.press.outputs.cards.map_room import has_column
from guidebuild.press.outputs.cards.page import (
    ABOVE_FOOT,
    BESIDE,
    PLATE_LEAST,
    PLATE_MOST,
    WIDE_FAIR,
    WIDE_LEAST,
    WIDE_PLATE,
    code_side,
    foot_height,
    front_text,
    is_small,
    least_line,
)
from guidebuild.press.outputs.cards.shown import MAP
from guidebuild.press.outputs.cards.words import back_words, front_words, name_words, size_words, tell_words
from guidebuild.press.paper.formats import POINTS_PER_MM, Format
from guidebuild.press.paper.giving_way import WHOLE, Height, LeftOut
from guidebuild.press.paper.layout import Laid, Side
from guidebuild.press.paper.measuring import FINE
from guidebuild.press.paper.setup import Setup
from guidebuild.views.cards.card import CardView

FRONT, BACK, LEFT, FOOT = "front", "back", "left", "foot"
_RULES = 2.8
_SPARE = 0.3
_LOWEST_PLATE = 12.0
_NO_MAP = LeftOut(frozenset({MAP}), frozenset({MAP}))
"""Without the map, for good."""


@dataclass(frozen=True, slots=True)
class Fit:
    """How one side is set."""

    points: float
    out: LeftOut = WHOLE

    @property
    def left_out(self) -> frozenset[str]:
        """The pieces that are left out."""
        return self.out.pieces

    @property
    def fine(self) -> bool:
        """Whether no word may be set smaller than the rest."""
        return self.points < FINE


@dataclass(frozen=True, slots=True)
class CardSetting:
    """One try at setting a card: both sides and the heights of plate and foot."""

    front: Fit
    back: Fit
    plate: float
    foot: float
    share: float = WIDE_PLATE
    """Of the width, for the plate of a card that lies on its side."""
    broken: bool = False
    """Whether words may be broken anywhere, because one is longer than its line."""


@dataclass(frozen=True, slots=True)
class CardFitting:
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

    @property
    def rule(self) -> bool:
        """Whether the back carries a rule of 50 mm."""
        return not self.format.wide

    @property
    def foot_code(self) -> float:
        """Side of the code in the foot, 0 for none; on a card that lies on its side it stands beside the season bars."""
        return code_side(self.format) if self.card.address and not self.format.wide else 0.0

    @property
    def aspect(self) -> float | None:
        """Width of the picture by its height."""
        picture = self.setup.pictures.get(self.card.plate.id) if self.card.plate else None
        return picture.width / picture.height if picture else None

    @property
    def sentences(self) -> tuple[str, ...]:
        """Sentences of the back that go before type gets smaller than is comfortable, the least needed first."""
        return rank_sentences(self.card)

    def ranked(self, name: str) -> tuple[str, ...]:
        """The pieces of a side that go once its type is at the least, the least needed first."""
        return rank_pieces(self.card, self.setup.theme.left_out[name])

    def pieces(self, name: str) -> tuple[str, ...]:
        """All of a side that may be left out, the least needed first."""
        return (*self.sentences, *self.ranked(name)) if name == BACK else self.ranked(name)

    @property
    def size_under(self) -> bool:
        """Whether the line of size stands under the plate; beside words an upright picture is too narrow for that."""
        return not self.format.wide or (self.aspect or 4 / 3) >= 1


def first_setting(fitting: CardFitting) -> CardSetting:
    """The largest type, and a plate as high as a rough measure of the words leaves."""
    foot = foot_height(fitting.card, fitting.format.inner, fitting.foot_code, rule=fitting.rule)
    return _first_wide(fitting, foot) if fitting.format.wide else _first_tall(fitting, foot)


def left_side(fitting: CardFitting, laid: Laid) -> Side:
    """The column of plate and size on a card that lies on its side, which stands outside the flow."""
    front = laid.side(FRONT)
    under = ("size",) if fitting.size_under else ()
    used = BESIDE + sum(front.pieces.get(piece, 0.0) for piece in ("name", "plate", *under))
    over = max(0.0, used - fitting.format.inner.height)
    line = fitting.setup.sizes[-1] / POINTS_PER_MM * 1.24
    if under and "size" in laid.side(BACK).pieces:  # what does not fit below the plate has gone on to the next page
        over += 2 * line
    return Side(LEFT, over if over > 0.05 else 0.0, ceil(over / line), used, front.pieces)


def next_setting(fitting: CardFitting, setting: CardSetting, laid: Laid) -> CardSetting | None:
    """What to give way next, or nothing when all fits or nothing can."""
    after = setting
    front, back = laid.side(FRONT), laid.side(BACK)
    if front.wide or back.wide:
        after = replace(after, broken=True)
    if below := laid.over(FOOT):
        after = replace(after, foot=after.foot + below + 0.1)
    if left := laid.over(LEFT):
        after = replace(after, plate=max(after.plate - left - 0.1, _LOWEST_PLATE))
    if front.over:
        after = _front_after(fitting, after, front)
    elif setting.front.left_out:
        after = replace(after, front=_with_more(fitting, after.front, front, FRONT, after.share))
    if back.over:
        after = replace(after, back=_fit_after(fitting, after.back, back, BACK))
    elif setting.back.left_out:
        after = replace(after, back=_with_more(fitting, after.back, back, BACK))
    return None if after == setting else after


def is_within(laid: Laid) -> bool:
    """Whether nothing is over and no word too wide."""
    return not any(side.over or side.wide for side in laid.sides)


def _with_more(fitting: CardFitting, fit_now: Fit, side: Side, name: str, share: float = WIDE_PLATE) -> Fit:
    """With what of the pieces that were left out has room after all."""
    back = fit_now.out.settle().bring_back(fitting.pieces(name), _height(fitting, fit_now.points, name, share), side.free)
    return fit_now if back.pieces == fit_now.left_out else replace(fit_now, out=back)


def _first_wide(fitting: CardFitting, foot: float) -> CardSetting:
    card, inner, sizes = fitting.card, fitting.format.inner, fitting.setup.sizes
    text = front_text(fitting.format)
    fits = [s for s in sizes if name_words(card, s, inner.width) + tell_words(card, s, text) + _RULES <= inner.height]
    points = fits[0] if fits else sizes[-1]
    size = size_words(card, points, inner.width * WIDE_PLATE, least_line(fitting.format)) if fitting.size_under else 0.0
    plate = inner.height - name_words(card, points, inner.width) - BESIDE - size - _SPARE
    share = min(WIDE_PLATE, plate * (fitting.aspect or 4 / 3) / inner.width)
    return CardSetting(Fit(points), _back_first(fitting, back_room(fitting, foot)), plate, foot, share)


def _first_tall(fitting: CardFitting, foot: float) -> CardSetting:
    inner, sizes = fitting.format.inner, fitting.setup.sizes
    wanted = _plate_wanted(fitting)
    fits = [s for s in sizes if inner.height - front_words(fitting.card, s, inner.width) >= wanted]
    points = fits[0] if fits else sizes[-1]
    plate = min(inner.height - front_words(fitting.card, points, inner.width), wanted)
    return CardSetting(Fit(points), _back_first(fitting, back_room(fitting, foot)), max(plate, inner.height * PLATE_LEAST), foot)


def back_room(fitting: CardFitting, foot: float) -> float:
    """Height that the words of the back have above the foot."""
    return fitting.format.inner.height - foot - ABOVE_FOOT


def _plate_wanted(fitting: CardFitting) -> float:
    """As high as the whole picture is at the width of the card, between the least and the most."""
    inner = fitting.format.inner
    tall = inner.width / fitting.aspect if fitting.aspect else 0.0
    return min(max(tall, inner.height * PLATE_LEAST), inner.height * PLATE_MOST)


def _back_first(fitting: CardFitting, room: float, gone: LeftOut = WHOLE) -> Fit:
    """The largest comfortable type in which, at a guess, all has room: with the map, or else without it, which is `gone` then."""
    sizes, sentences = fitting.setup.sizes, fitting.sentences
    fair = [s for s in sizes if s >= _comfortable(fitting)]
    mapped = MAP in sentences and MAP not in gone.pieces
    if mapped and not has_column(fitting.card, fitting.format.inner.width):
        return _back_first(fitting, room, _NO_MAP)
    whole = [s for s in fair if _back_words(fitting, s, gone.pieces) <= room]
    if whole:
        return Fit(whole[0], gone)
    if mapped:
        return _back_first(fitting, room, LeftOut(_NO_MAP.pieces))
    least = frozenset(sentences)
    fits = [s for s in (*fair[-1:], *(s for s in sizes if s not in fair)) if _back_words(fitting, s, least) <= room]
    points = fits[0] if fits else sizes[-1]
    # Nothing is known yet of what has room: these are guesses.
    guess = LeftOut(least, gone.refused).bring_back(sentences, _height(fitting, points, BACK), room - _back_words(fitting, points, least))
    return Fit(points, guess.settle())


def _comfortable(fitting: CardFitting) -> float:
    """Points below which single sentences go first: the theme's, or the middle of a format that never reaches them."""
    sizes, wanted = fitting.setup.sizes, fitting.setup.theme.comfortable
    return wanted if wanted <= sizes[0] else (sizes[0] + sizes[-1]) / 2


def _smaller(fitting: CardFitting, points: float) -> list[float]:
    return [size for size in fitting.setup.sizes if size < points]


def _front_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    if setting.front.out.fitted is not None:
        return replace(setting, front=_fit_after(fitting, setting.front, side, FRONT, setting.share))
    if fitting.format.wide:
        return _wide_after(fitting, setting, side)
    least = fitting.format.inner.height * PLATE_LEAST
    first = _first_tall(fitting, setting.foot)
    if setting.plate == first.plate and setting.front == first.front and (smaller := _smaller(fitting, setting.front.points)):
        # A step of type first: a plate that is only a little lower than its picture stands between two stripes of tone.
        return replace(setting, front=replace(setting.front, points=smaller[0]))
    if setting.plate - side.over - _SPARE >= least:
        return replace(setting, plate=setting.plate - side.over - _SPARE)
    if setting.plate > least + 0.5:
        return replace(setting, plate=least)
    return replace(setting, front=_fit_after(fitting, setting.front, side, FRONT))


def _wide_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """The plate gives way a little, then type and ranked pieces, then the plate down to its least."""
    if setting.share > WIDE_FAIR:
        return replace(setting, share=max(setting.share - 0.04, WIDE_FAIR))
    front = _fit_after(fitting, setting.front, side, FRONT, setting.share)
    return replace(setting, front=front) if front != setting.front else replace(setting, share=max(setting.share - 0.05, WIDE_LEAST))


def _fit_after(fitting: CardFitting, fit_now: Fit, side: Side, name: str, share: float = WIDE_PLATE) -> Fit:
    height, smaller, ranked = _height(fitting, fit_now.points, name, share), _smaller(fitting, fit_now.points), fitting.ranked(name)
    if fit_now.out.fitted is not None:
        return replace(fit_now, out=fit_now.out.take_out(fitting.pieces(name), height, side.over))
    if name == BACK:
        if smaller and not fit_now.left_out - _NO_MAP.pieces and smaller[0] >= _comfortable(fitting):
            return replace(fit_now, points=smaller[0])
        if MAP in fitting.sentences and MAP not in fit_now.left_out:
            return _back_first(fitting, side.room, _NO_MAP)  # larger type again, that a map which has no room after all costs nothing
        if not fit_now.left_out >= set(fitting.sentences):
            return replace(fit_now, out=fit_now.out.take_out(fitting.sentences, height, side.over))
    if smaller:
        # Words fill an area: their height goes with the square of the type size.
        fixed = side.pieces.get("plate", 0.0) if name == FRONT and not fitting.format.wide else 0.0
        words = max(fitting.format.inner.height - fixed, 1.0)
        wanted = fit_now.points * ((words / (words + side.over)) ** 0.5)
        return replace(fit_now, points=next((s for s in smaller if s <= wanted + 0.25), smaller[-1]))
    return replace(fit_now, out=fit_now.out.take_out(ranked, height, side.over))


def _height(fitting: CardFitting, points: float, name: str, share: float = WIDE_PLATE) -> Height:
    """About how high the words of a side are at a size without some of their pieces."""
    if name == BACK:
        return partial(_back_words, fitting, points)
    return partial(_front_words, fitting, points, share)


def _front_words(fitting: CardFitting, points: float, share: float, left_out: frozenset[str]) -> float:
    card = fitting.card
    told = tell_words(card, points, front_text(fitting.format, share), left_out)
    return told + name_words(card, points, fitting.format.inner.width, left_out)


def _back_words(fitting: CardFitting, points: float, left_out: frozenset[str] = frozenset()) -> float:
    return back_words(fitting.card, points, fitting.format.inner.width, left_out, small=is_small(fitting.format))
