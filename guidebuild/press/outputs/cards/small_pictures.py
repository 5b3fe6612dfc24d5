"""The small pictures of a card: a strip of other stages and sexes on its front, look-alikes at one scale on its back.

They take only what is left over: where they stand the plate is as large as it is without them, and they go before anything else does.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from guidebuild.press.outputs.cards.shown import shown_beside, shown_forms
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import Inks
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.measuring import FINE, count_lines
from guidebuild.press.paper.plates import draw_small, draw_window
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.views.cards.card import CardView
from guidebuild.views.pieces.common import NameView, PhotoView, Wording
from guidebuild.views.pieces.cuts import cut_to_animal, cut_to_subject, may_be_cut, measure_animal, show_whole
from guidebuild.views.pieces.one_scale import Framed, FrameSet, frame_at_one_scale, say_length

STRIP_LEAST, STRIP_MOST = 10.0, 20.0
"""Height of the pictures of a strip, millimetres."""
GAP = 2.0
STRIP_RATIO = 4 / 3
_ABOVE = 1.6
"""Millimetres above a strip and above the look-alikes."""
_BESIDE_HIGH, _BESIDE_WIDE, _BESIDE_LEAST = 12.0, 26.0, 14.0
"""The most that a look-alike's picture is high and wide, and the least width of its place, millimetres."""
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
class BesidePicture:
    """A species among its look-alikes; `note` says what of it is not at the scale."""

    name: NameView
    picture: Markup
    deciding: Wording
    note: str


@dataclass(frozen=True, slots=True)
class BesideDrawn:
    """All of them, in places of one width; `bar` with its words where they have a scale."""

    pictures: tuple[BesidePicture, ...]
    width: float
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


def most_beside(card: CardView, room: float) -> int:
    """How many pictures of look-alikes have room side by side, with its own before them."""
    places = int((room + GAP) // (_BESIDE_LEAST + GAP))
    return max(places - (card.beside is not None), 0)


def beside_words(card: CardView, points: float, room: float, out: frozenset[str]) -> float:
    """About how many millimetres the pictures of look-alikes take with all their words."""
    beside = shown_beside(card, out)
    if not beside:
        return 0.0
    place, size = _place(card, room, out), caption_points(points)
    lines = max(count_lines(f"{other.name.short} {other.deciding}", size, place, bold=True) for other in beside)
    heading = count_lines(f"{card.words.alike} {card.words.one_scale} 00 cm ======", points, room) * points * _LEADING
    return _ABOVE + heading + _BESIDE_HIGH + 0.8 + lines * size * _LEADING


def draw_beside(  # noqa: PLR0913, PLR0917 - a row of pictures, its room and its ink
    card: CardView, pictures: Pictures, room: float, points: float, out: frozenset[str], inks: Inks
) -> BesideDrawn | None:
    """Its own picture and those of its look-alikes, at one scale as far as they are measured; None where there is none to show."""
    beside = shown_beside(card, out)
    if not beside:
        return None
    own = [(card.name, card.beside, Wording())] if card.beside else []
    listed = [*own, *((other.name, other.photo, other.deciding) for other in beside)]
    shown = [(name, photo, deciding) for name, photo, deciding in listed if photo]
    place = _place(card, room, out)
    shapes = [(photo, pictures[photo.id].height / pictures[photo.id].width) for _, photo, _ in shown]
    frames = frame_at_one_scale([(photo, shape) for photo, shape in shapes if may_be_cut(photo)], measure_animal)
    # One that is measured alone has nothing to be compared with.
    frames = frames if frames and sum(frame is not None for frame in frames.frames) > 1 else None
    area = _area(min(place, _BESIDE_WIDE), frames)
    by_photo = {frame.photo.id: frame for frame in frames.frames if frame} if frames else {}
    drawn = tuple(
        BesidePicture(
            name,
            _draw(photo, pictures[photo.id], by_photo.get(photo.id), area, inks),
            deciding,
            _note(card, by_photo, photo),
        )
        for name, photo, deciding in shown
    )
    bar = drawing.draw_bar(frames.bar_width * area.width / 100, say_length(frames.bar), inks) if frames else None
    scale = card.words.one_scale.format(length=say_length(frames.bar)) if frames else card.words.no_scale
    return BesideDrawn(drawn, place, caption_points(points), bar, scale)


def _place(card: CardView, room: float, out: frozenset[str]) -> float:
    count = len(shown_beside(card, out)) + (card.beside is not None)
    return (room - GAP * (count - 1)) / count


def _area(width: float, frames: FrameSet | None) -> Area:
    shape = frames.height / 100 if frames else _SHAPE
    width = min(width, _BESIDE_HIGH / shape)
    return Area(width, width * shape)


def _draw(photo: PhotoView, picture: Picture, frame: Framed | None, area: Area, inks: Inks) -> Markup:
    alt = photo.alt or photo.caption or photo.whose
    if frame is None:
        shape, ratio = picture.height / picture.width, area.width / area.height
        return draw_window(picture, cut_to_subject(photo, shape, ratio) or show_whole(shape, ratio), area, alt)
    unit = area.width / 100
    prints = [one.scaled(unit) for one in (frame.enlarged, frame.at_scale) if one]
    return draw_small(picture, prints, area, alt, inks.text)


def _note(card: CardView, frames: Mapping[str, Framed], photo: PhotoView) -> str:
    if not frames:
        return ""
    frame = frames.get(photo.id)
    if frame is None:
        return card.words.apart
    return f"× {frame.times} {card.words.small_beside}" if frame.enlarged else ""
