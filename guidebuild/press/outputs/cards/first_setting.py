"""The first try at setting a card, from a rough measure of its words."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from guidebuild.press.outputs.cards.fitting import CardFitting, CardSetting, Fit, back_height, comfortable, without
from guidebuild.press.outputs.cards.leaving_out import rank_forms
from guidebuild.press.outputs.cards.map_room import has_column
from guidebuild.press.outputs.cards.page import (
    ABOVE_FOOT,
    BESIDE,
    PLATE_LEAST,
    PLATE_MOST,
    WIDE_PLATE,
    foot_height,
    front_text,
    least_line,
)
from guidebuild.press.outputs.cards.shown import ALIKE_PICTURES, MAP, shown_small
from guidebuild.press.outputs.cards.small_pictures import (
    GAP,
    STRIP_LEAST,
    STRIP_MOST,
    STRIP_RATIO,
    most_forms,
    strip_words,
)
from guidebuild.press.outputs.cards.words import front_words, name_words, size_words, tell_words
from guidebuild.press.paper.giving_way import WHOLE, LeftOut
from guidebuild.press.paper.layout import Side

_RULES = 2.8
SPARE = 0.3
_PLATE_GIVES = 0.2
"""Share of the plate that gives way to the pictures of look-alikes: without it most cards of two look-alikes would show none."""


def first_setting(fitting: CardFitting) -> CardSetting:
    """The largest type, and a plate as high as a rough measure of the words leaves."""
    bare = foot_height(fitting.card, fitting.format.inner, fitting.foot_code, rule=fitting.rule)
    if fitting.format.wide:
        return _with_credits(fitting, _first_wide(fitting, bare), bare)
    return _with_credits(fitting, _first_with_thumbs(fitting, bare) or first_with_strip(fitting, bare) or first_tall(fitting, bare), bare)


def _with_credits(fitting: CardFitting, setting: CardSetting, bare: float) -> CardSetting:
    """With a foot that has room for the credits of all pictures."""
    high = _foot_of(fitting, setting)
    return setting if high <= bare else replace(setting, back=back_first(fitting, back_room(fitting, high)), foot=high)


def _foot_of(fitting: CardFitting, setting: CardSetting) -> float:
    """Height of the foot with the credits of what is shown."""
    small = shown_small(fitting.card, setting.front.left_out | setting.back.left_out)
    return foot_height(fitting.card, fitting.format.inner, fitting.foot_code, rule=fitting.rule, small=small)


def _first_wide(fitting: CardFitting, foot: float) -> CardSetting:
    card, inner, sizes = fitting.card, fitting.format.inner, fitting.setup.sizes
    text = front_text(fitting.format)
    fits = [s for s in sizes if name_words(card, s, inner.width) + tell_words(card, s, text) + _RULES <= inner.height]
    points = fits[0] if fits else sizes[-1]
    size = size_words(card, points, inner.width * WIDE_PLATE, least_line(fitting.format)) if fitting.size_under else 0.0
    plate = inner.height - name_words(card, points, inner.width) - BESIDE - size - SPARE
    share = min(WIDE_PLATE, plate * (fitting.aspect or 4 / 3) / inner.width)
    return CardSetting(_no_strip(fitting, points), back_first(fitting, back_room(fitting, foot)), plate, foot, share)


def _no_strip(fitting: CardFitting, points: float) -> Fit:
    """A front without small pictures, unless there turns out to be room."""
    return Fit(points, LeftOut(fitting.small))


def _first_with_thumbs(fitting: CardFitting, foot: float) -> CardSetting | None:
    """With the pictures of look-alikes where, at a comfortable size, all words and the whole plate leave room; with a strip if they do.

    Where no size does, with a lower plate at the least comfortable one.
    """
    if not fitting.has_thumbs:
        return None
    wanted, fair = _plate_wanted(fitting), [s for s in fitting.setup.sizes if s >= comfortable(fitting)]
    plates = [(points, fitting.format.inner.height - front_words(fitting.card, points, fitting.format.inner.width)) for points in fair]
    for points, plate in plates:
        if plate >= wanted:
            plain = _with_plate(fitting, points, wanted, foot)
            return first_with_strip(fitting, foot, plain) or plain
    return next((_with_plate(fitting, points, plate, foot) for points, plate in plates[-1:] if plate >= least_beside_thumbs(fitting)), None)


def _with_plate(fitting: CardFitting, points: float, plate: float, foot: float) -> CardSetting:
    """With the pictures of look-alikes and without a strip."""
    front = Fit(points, LeftOut(frozenset(rank_forms(fitting.card))))
    return CardSetting(front, back_first(fitting, back_room(fitting, foot)), plate, foot)


def least_beside_thumbs(fitting: CardFitting) -> float:
    """Millimetres below which no plate gives way to the pictures of look-alikes."""
    return max(_plate_wanted(fitting) * (1 - _PLATE_GIVES), fitting.format.inner.height * PLATE_LEAST)


def first_with_strip(fitting: CardFitting, foot: float, plain: CardSetting | None = None) -> CardSetting | None:
    """With a strip of pictures where, at a comfortable size, all words and the whole plate leave room for it.

    `plain` is how the card is set without one: with the pictures of look-alikes, or, where nothing is given, without these too.
    """
    card, inner = fitting.card, fitting.format.inner
    shown = most_forms(card, inner.width)
    out = frozenset(rank_forms(card)[: len(card.forms) - shown]) | (frozenset() if plain else frozenset({ALIKE_PICTURES}) & fitting.small)
    if not shown:
        return None
    wanted = _plate_wanted(fitting)
    for points in (s for s in fitting.setup.sizes if s >= comfortable(fitting)):
        free = inner.height - front_words(card, points, inner.width, out) - wanted - strip_words(card, points, inner.width, out)
        if free >= STRIP_LEAST:
            high = min(free, STRIP_MOST, (inner.width / shown - GAP) / STRIP_RATIO)
            back = back_first(fitting, back_room(fitting, foot))
            bare = plain or first_tall(fitting, foot)
            return CardSetting(Fit(points, without(out)), back, wanted, foot, strip=high, bare=(bare.front, bare.plate))
    return None


def with_thumbs(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """With the pictures of look-alikes in what is free and what the plate may give; the same where that is too little, or was tried."""
    front, card, wide = setting.front, fitting.card, fitting.format.inner.width
    if not fitting.has_thumbs or ALIKE_PICTURES not in front.left_out - front.out.refused or front.points < comfortable(fitting):
        return setting
    shown = front.left_out - {ALIKE_PICTURES}
    more = front_words(card, front.points, wide, shown) - front_words(card, front.points, wide, front.left_out)
    plate = setting.plate - max(0.0, more + SPARE - side.free)
    if plate < min(setting.plate, least_beside_thumbs(fitting)):
        return setting
    return replace(setting, front=replace(front, out=LeftOut(shown, front.out.refused | {ALIKE_PICTURES})), plate=plate)


def with_strip(fitting: CardFitting, setting: CardSetting, side: Side) -> CardSetting:
    """The same with a strip in what the layout leaves free; the same one where that is too little, or was tried."""
    card, wide = fitting.card, fitting.format.inner.width
    forms, front = rank_forms(card), setting.front
    shown = most_forms(card, wide)
    if setting.strip or not shown or fitting.format.wide or front.out.refused.issuperset(forms):
        return setting
    out = frozenset(forms[: len(forms) - shown])
    high = side.free - strip_words(card, front.points, wide, out) - SPARE
    if high < STRIP_LEAST:
        return setting
    kept = LeftOut(front.left_out - set(forms) | out, front.out.refused | out)
    high = min(high, STRIP_MOST, (wide / shown - GAP) / STRIP_RATIO)
    return replace(setting, front=replace(front, out=kept), strip=high, bare=(front, setting.plate))


def first_tall(fitting: CardFitting, foot: float) -> CardSetting:
    """The largest type with which the whole plate has room, without small pictures; else the least type and a lower plate."""
    inner, sizes = fitting.format.inner, fitting.setup.sizes
    wanted = _plate_wanted(fitting)
    fits = [s for s in sizes if inner.height - front_words(fitting.card, s, inner.width, fitting.small) >= wanted]
    points = fits[0] if fits else sizes[-1]
    plate = min(inner.height - front_words(fitting.card, points, inner.width, fitting.small), wanted)
    front = _no_strip(fitting, points)
    return CardSetting(front, back_first(fitting, back_room(fitting, foot)), max(plate, inner.height * PLATE_LEAST), foot)


def back_room(fitting: CardFitting, foot: float) -> float:
    """Height that the words of the back have above the foot."""
    return fitting.format.inner.height - foot - ABOVE_FOOT


def _plate_wanted(fitting: CardFitting) -> float:
    """As high as the whole picture is at the width of the card, between the least and the most."""
    inner = fitting.format.inner
    tall = inner.width / fitting.aspect if fitting.aspect else 0.0
    return min(max(tall, inner.height * PLATE_LEAST), inner.height * PLATE_MOST)


def back_first(fitting: CardFitting, room: float, gone: LeftOut = WHOLE) -> Fit:
    """The largest comfortable type in which, at a guess, all has room: with the map, or else without it, which is `gone`."""
    sizes, sentences = fitting.setup.sizes, fitting.sentences
    fair = [s for s in sizes if s >= comfortable(fitting)]
    mapped = MAP in sentences and MAP not in gone.pieces
    if mapped and not has_column(fitting.card, fitting.format.inner.width):
        return back_first(fitting, room, without(frozenset({MAP}), gone))
    whole = [s for s in fair if back_height(fitting, s, gone.pieces) <= room]
    if whole:
        return Fit(whole[0], gone)
    if mapped:
        return back_first(fitting, room, LeftOut(gone.pieces | {MAP}, gone.refused))
    least = frozenset(sentences)
    fits = [s for s in (*fair[-1:], *(s for s in sizes if s not in fair)) if back_height(fitting, s, least) <= room]
    points = fits[0] if fits else sizes[-1]
    # Nothing is known yet of what has room: these are guesses.
    guess = LeftOut(least, gone.refused).bring_back(
        sentences, partial(back_height, fitting, points), room - back_height(fitting, points, least)
    )
    return Fit(points, guess.settle())
