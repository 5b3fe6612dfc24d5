"""How a card gives way until it fits its format.

It starts at the format's largest type with a plate as high as a rough measure of the words leaves.  If the layout says
that it does not fit, in this order: small pictures go, those of look-alikes once the plate has given them a fifth of its height; the
plate gives way down to its least height, single sentences go from the back, the type steps down the theme's sizes to the format's
least, what the theme ranks least is left out piece by piece; what is still over becomes a problem.  Where the layout leaves room, the
most needed of what was left out comes back.
"""

from __future__ import annotations

from dataclasses import replace
from math import ceil

from guidebuild.press.outputs.cards.first_setting import (
    SPARE,
    back_first,
    first_tall,
    first_with_strip,
    least_beside_thumbs,
    with_strip,
    with_thumbs,
)
from guidebuild.press.outputs.cards.fitting import BACK, FRONT, CardFitting, CardSetting, Fit, comfortable, height_of, without
from guidebuild.press.outputs.cards.leaving_out import rank_forms
from guidebuild.press.outputs.cards.page import BESIDE, PLATE_LEAST, WIDE_FAIR, WIDE_LEAST, WIDE_PLATE
from guidebuild.press.outputs.cards.shown import ALIKE_PICTURES, MAP
from guidebuild.press.outputs.cards.small_pictures import STRIP_LEAST
from guidebuild.press.paper.formats import POINTS_PER_MM
from guidebuild.press.paper.layout import Laid, Side

LEFT, FOOT = "left", "foot"
_LOWEST_PLATE = 12.0


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
        more = _with_more(fitting, after.front, front, FRONT, after.share)
        after = replace(after, front=more) if more != after.front else _with_pictures(fitting, after, front)
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
    back = fit_now.out.settle().bring_back(_returning(fitting, name), height_of(fitting, fit_now.points, name, share), side.free)
    return fit_now if back.pieces == fit_now.left_out else replace(fit_now, out=back)


def _with_pictures(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """With those of look-alikes, or else with a strip; of both, one after the other is tried."""
    after = with_thumbs(fitting, setting, side)
    return after if after != setting else with_strip(fitting, setting, side)


def _smaller(fitting: CardFitting, points: float) -> list[float]:
    return [size for size in fitting.setup.sizes if size < points]


def _returning(fitting: CardFitting, name: str) -> tuple[str, ...]:
    """What may come back piece by piece: all that may go, but for the strip of the front, which comes and goes as a whole."""
    return fitting.pieces(BACK) if name == BACK else fitting.ranked(name)


def _front_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    if setting.front.out.fitted is not None:
        return replace(setting, front=_fit_after(fitting, setting.front, side, FRONT, setting.share))
    if setting.strip:
        return _strip_after(fitting, setting, side)
    if fitting.has_thumbs and ALIKE_PICTURES not in setting.front.left_out:
        return _thumbs_after(fitting, setting, side)
    return _wide_after(fitting, setting, side) if fitting.format.wide else _tall_after(fitting, setting, side)


def _tall_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """A step of type, then the plate down to its least, then type and ranked pieces."""
    least = fitting.format.inner.height * PLATE_LEAST
    first = first_tall(fitting, setting.foot)
    if setting.plate == first.plate and setting.front.points == first.front.points and (smaller := _smaller(fitting, setting.front.points)):
        # A step of type first: a plate that is only a little lower than its picture stands between two stripes of tone.
        return replace(setting, front=replace(setting.front, points=smaller[0]))
    if setting.plate - side.over - SPARE >= least:
        return replace(setting, plate=setting.plate - side.over - SPARE)
    if setting.plate > least + 0.5:
        return replace(setting, plate=least)
    return replace(setting, front=_fit_after(fitting, setting.front, side, FRONT))


def _strip_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """The strip gives way by itself, and then goes as a whole, before the plate or the type do."""
    lower = setting.strip - side.over - SPARE
    if lower >= STRIP_LEAST:
        return replace(setting, strip=lower)
    front, plate = setting.bare or (setting.front, setting.plate)
    gone = without(frozenset(rank_forms(fitting.card)), front.out)
    return replace(setting, front=replace(front, out=gone), plate=plate, strip=0.0, bare=None)


def _thumbs_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """A step of type while it is still a comfortable one, then some of the plate; then they go, and all is as large as without them."""
    smaller = _smaller(fitting, setting.front.points)
    if smaller and smaller[0] >= comfortable(fitting):
        return replace(setting, front=replace(setting.front, points=smaller[0]))
    lower = setting.plate - side.over - SPARE
    if lower >= least_beside_thumbs(fitting):
        return replace(setting, plate=lower)
    plain = first_with_strip(fitting, setting.foot) or first_tall(fitting, setting.foot)
    front = replace(plain.front, out=without(frozenset({ALIKE_PICTURES}), plain.front.out))
    return replace(setting, front=front, plate=plain.plate, strip=plain.strip, bare=plain.bare)


def _wide_after(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """The plate gives way a little, then type and ranked pieces, then the plate down to its least."""
    if setting.share > WIDE_FAIR:
        return replace(setting, share=max(setting.share - 0.04, WIDE_FAIR))
    front = _fit_after(fitting, setting.front, side, FRONT, setting.share)
    return replace(setting, front=front) if front != setting.front else replace(setting, share=max(setting.share - 0.05, WIDE_LEAST))


def _fit_after(fitting: CardFitting, fit_now: Fit, side: Side, name: str, share: float = WIDE_PLATE) -> Fit:
    height, smaller, ranked = height_of(fitting, fit_now.points, name, share), _smaller(fitting, fit_now.points), fitting.ranked(name)
    if fit_now.out.fitted is not None:
        return replace(fit_now, out=fit_now.out.take_out(_returning(fitting, name), height, side.over))
    if name == BACK:
        if smaller and not fit_now.left_out - {MAP} and smaller[0] >= comfortable(fitting):
            return replace(fit_now, points=smaller[0])
        if MAP in set(fitting.sentences) - fit_now.left_out:  # larger type again, that a map without room costs nothing
            return back_first(fitting, side.room, without(frozenset({MAP})))
        if not fit_now.left_out >= set(fitting.sentences):
            return replace(fit_now, out=fit_now.out.take_out(fitting.sentences, height, side.over))
    if smaller:
        # Words fill an area: their height goes with the square of the type size.
        fixed = side.pieces.get("plate", 0.0) if name == FRONT and not fitting.format.wide else 0.0
        words = max(fitting.format.inner.height - fixed, 1.0)
        wanted = fit_now.points * ((words / (words + side.over)) ** 0.5)
        return replace(fit_now, points=next((s for s in smaller if s <= wanted + 0.25), smaller[-1]))
    return replace(fit_now, out=fit_now.out.take_out(ranked, height, side.over))
