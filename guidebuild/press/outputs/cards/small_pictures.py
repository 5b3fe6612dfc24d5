"""The small pictures of a card's front: look-alikes beside what is said of them, and a strip of other stages and sexes.

A strip takes only what is left over; for the look-alikes, which are what a name is mistaken for, the plate gives up to a fifth of its
height. All go before anything else does.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from guidebuild.press.outputs.cards.shown import shown_forms, shown_look_alikes, shown_thumbs
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import Inks
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.measuring import FINE, count_lines
from guidebuild.press.paper.plates import draw_small, draw_window
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.views.cards.card import CardView
from guidebuild.views.pieces.common import NameView, PhotoView
from guidebuild.views.pieces.cuts import cut_to_animal, cut_to_subject, measure_animal, show_whole
from guidebuild.views.pieces.one_scale import Framed, FrameSet, frame_at_one_scale, say_length

STRIP_LEAST, STRIP_MOST = 10.0, 20.0
"""Height of the pictures of a strip, millimetres."""
GAP = 2.0
STRIP_RATIO = 4 / 3
_ABOVE = 1.6
"""Millimetres above a strip."""
_THUMB_LINES, _THUMB_WIDE = 3, 1.25
"""A look-alike's picture is as high as so many lines, as most say no more of it, and so many times as wide at most."""
THUMB_APART = 0.8
"""Millimetres between one look-alike's picture and the next."""
_CAPTION = 0.8
_FULL_SIZE = 12.0
"""Points from which captions are as large as the rest: large print has no small words."""
_LEADING = 1.2 * 25.4 / 72
_SHAPE = 0.75
"""Height over width where nothing says how high the animals are."""


@dataclass(frozen=True, slots=True)
class SmallPicture:
    """A picture of the strip."""

    picture: Markup
    said: str


@dataclass(frozen=True, slots=True)
class SmallStrip:
    """The strip: each of its places is so many millimetres wide."""

    pictures: tuple[SmallPicture, ...]
    width: float
    points: float


@dataclass(frozen=True, slots=True)
class Thumb:
    """A look-alike's picture; `note` says what of it is not at the scale."""

    picture: Markup
    note: str


@dataclass(frozen=True, slots=True)
class Thumbs:
    """Those of all that are shown, by the names of their species; `bar` with its words where they have a scale."""

    by_name: Mapping[NameView, Thumb]
    width: float
    """Millimetres that each has, so that the words beside them stand below one another."""
    points: float
    bar: Markup | None
    scale: str


def caption_points(points: float) -> float:
    """Type of the words under a small picture."""
    return points if points < FINE or points >= _FULL_SIZE else max(points * _CAPTION, 6.5)


def most_forms(card: CardView, room: float, tall: float = STRIP_LEAST) -> int:
    """How many pictures of a strip have room side by side."""
    return min(len(card.forms), int((room + GAP) // (tall * STRIP_RATIO + GAP)))


def strip_words(card: CardView, points: float, room: float, out: frozenset[str]) -> float:
    """Millimetres that a strip takes beside its pictures: what is above it, and its captions."""
    forms = shown_forms(card, out)
    if not forms:
        return 0.0
    width, size = (room - GAP * (len(forms) - 1)) / len(forms), caption_points(points)
    return _ABOVE + 0.4 + max(count_lines(photo.whose, size, width) for photo in forms) * size * _LEADING


def draw_strip(card: CardView, pictures: Pictures, room: Area, points: float, out: frozenset[str]) -> SmallStrip | None:
    """The strip with pictures as high as the room; None where it has none."""
    forms = shown_forms(card, out)
    if not forms or not room.height:
        return None
    place = (room.width - GAP * (len(forms) - 1)) / len(forms)
    area = Area(min(place, room.height * STRIP_RATIO), room.height)
    drawn = tuple(SmallPicture(_window(photo, pictures[photo.id], area), photo.whose) for photo in forms)
    return SmallStrip(drawn, place if place < area.width * 1.5 else area.width * 1.5, caption_points(points))


def _window(photo: PhotoView, picture: Picture, area: Area) -> Markup:
    shape, ratio = picture.height / picture.width, area.width / area.height
    shown = cut_to_animal(photo, shape, ratio) or show_whole(shape, ratio)
    return draw_window(picture, shown, area, photo.alt or photo.caption or photo.whose)


def thumb_place(points: float) -> tuple[float, float]:
    """Width of the place that a look-alike's picture has beside words of this size, with what is free beside it, and its height."""
    high = _THUMB_LINES * points * _LEADING
    return high * _THUMB_WIDE + GAP, high


def thumbs_foot(card: CardView, points: float, out: frozenset[str]) -> float:
    """Millimetres that the line of the scale takes below the look-alikes."""
    return caption_points(points) * _LEADING + 0.6 if shown_thumbs(card, out) else 0.0


def draw_thumbs(card: CardView, pictures: Pictures, points: float, out: frozenset[str], inks: Inks) -> Thumbs | None:
    """The pictures of look-alikes, at one scale as far as they are measured; None where there is none to show."""
    shown = [photo for photo in shown_thumbs(card, out) if photo.id in pictures]
    if not shown:
        return None
    shapes = [(photo, pictures[photo.id].height / pictures[photo.id].width) for photo in shown if photo.may_be_cut]
    frames = frame_at_one_scale(shapes, measure_animal)
    wide, high = thumb_place(points)
    area = _area(wide - GAP, high, frames)
    by_photo = {frame.photo.id: frame for frame in frames.frames if frame} if frames else {}
    drawn = {photo.id: _draw(photo, pictures[photo.id], by_photo.get(photo.id), area, inks) for photo in shown}
    thumbs = {
        other.name: Thumb(drawn[other.photo.id], _note(card, by_photo, other.photo))
        for other in shown_look_alikes(card, out)
        if other.photo and other.photo.id in drawn
    }
    bar = drawing.draw_bar(frames.bar_width * area.width / 100, say_length(frames.bar), inks) if frames else None
    return Thumbs(thumbs, area.width, caption_points(points), bar, _say_scale(card, frames, len(shown)))


def _say_scale(card: CardView, frames: FrameSet | None, count: int) -> str:
    if not frames:
        return card.words.no_scale
    # Of one alone there are no others to have the scale.
    return say_length(frames.bar) if count == 1 else card.words.one_scale.format(length=say_length(frames.bar))


def _area(width: float, high: float, frames: FrameSet | None) -> Area:
    shape = frames.height / 100 if frames else _SHAPE
    width = min(width, high / shape)
    return Area(width, width * shape)


def _draw(photo: PhotoView, picture: Picture, frame: Framed | None, area: Area, inks: Inks) -> Markup:
    alt = photo.alt or photo.caption or photo.whose
    if frame is None:
        shape, ratio = picture.height / picture.width, area.width / area.height
        return draw_window(picture, cut_to_subject(photo, shape, ratio) or show_whole(shape, ratio), area, alt)
    unit = area.width / 100
    at_scale = frame.at_scale.scaled(unit)
    if frame.enlarged:
        return draw_small(picture, (frame.enlarged.scaled(unit), at_scale), area, alt, inks.text)
    # No more than the picture has: a frame may show more than there is of it.
    shown = at_scale.shown
    return draw_small(picture, (at_scale.moved(-shown.x, -shown.y),), Area(shown.width, shown.height), alt)


def _note(card: CardView, frames: Mapping[str, Framed], photo: PhotoView) -> str:
    if not frames:
        return ""
    frame = frames.get(photo.id)
    if frame is None:
        return card.words.apart
    return f"× {frame.times} {card.words.small_beside}" if frame.enlarged else ""
