"""The pictures of one page at one scale, drawn in their frames, with the bar that says what it is."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from markupsafe import Markup

from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import Inks
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.plates import BADGE, draw_frame, draw_plate
from guidebuild.press.photos.copies import print_width
from guidebuild.press.photos.print_copy import Picture, Pictures
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import measure_animal
from guidebuild.views.pieces.one_scale import Box, Measured, choose_length, frame_at_scale, say_length
from guidebuild.views.pieces.shelves import Shelf, Wanted, shelve
from guidebuild.words import Words

_NUMBERED, _BARE = BADGE * 2 + 0.6, 0.6
"""Kept free beside a subject, millimetres: with numbers, and without."""
_BAR = 0.34
"""Of the width of a page, the most that a scale bar takes."""
_CUT = 1.5
"""How many times as wide as its page a picture may be drawn, as a frame shows only a part of it."""


@dataclass(frozen=True, slots=True)
class PlateFace:
    """One picture where it stands, millimetres from the page's margins; `times` it is enlarged (1: not)."""

    drawing: Markup
    box: Box
    times: int
    at_scale: bool


@dataclass(frozen=True, slots=True)
class PlateDrawn:
    """All pictures of a page in their order, None for one without a file; the bar, and its length in words, where any has a scale."""

    faces: tuple[PlateFace | None, ...]
    bar: Markup | None
    bar_words: str

    @property
    def together(self) -> bool:
        """Whether several pictures share the scale."""
        return sum(1 for face in self.faces if face and face.at_scale) > 1


def plate_pixels(inner: Area) -> tuple[int, int]:
    """The largest width and height, in pixels, that a picture can use at 300 pixels an inch."""
    return print_width(inner.width * _CUT), print_width(inner.height * _CUT)


def draw_pictures(  # noqa: PLR0913 - pictures, their paper, and the words for those who hear it
    photos: Sequence[PhotoView | None], pictures: Pictures, room: Area, inks: Inks, say: Words, *, caption: float
) -> PlateDrawn:
    """Draw the pictures of one page, with so many millimetres for the words under each."""
    shown = [(photo, pictures[photo.id]) for photo in photos if photo and photo.id in pictures]
    measured = [measure_animal(photo, picture.height / picture.width) if photo.may_be_cut else None for photo, picture in shown]
    wanted = [_want(photo, picture, one) for (photo, picture), one in zip(shown, measured, strict=True)]
    laid = shelve(wanted, Shelf(room.width, room.height, caption=caption))
    faces = {
        photo.id: _draw(photo, picture, one, laid.scale, box, inks)
        for (photo, picture), one, box in zip(shown, measured, laid.frames, strict=True)
    }
    length = choose_length(room.width * _BAR / laid.scale)
    scaled = any(measured)
    return PlateDrawn(
        faces=tuple(faces.get(photo.id) if photo else None for photo in photos),
        bar=drawing.draw_bar(length * laid.scale, say("bar: {scale}", scale=say_length(length)), inks) if scaled else None,
        bar_words=say_length(length) if scaled else "",
    )


def _want(photo: PhotoView, picture: Picture, one: Measured | None) -> Wanted:
    if one is None:
        return Wanted(1.0, picture.height / picture.width, measured=False)
    return Wanted(one.subject.width, one.subject.height, beside=_NUMBERED if photo.marks else _BARE)


def _draw(  # noqa: PLR0913, PLR0917 - one of a set, in its frame
    photo: PhotoView, picture: Picture, one: Measured | None, scale: float, box: Box, inks: Inks
) -> PlateFace:
    area = Area(box.width, box.height)
    if one is None:
        spot = drawing.fit_picture(area, (picture.width, picture.height))
        drawn = draw_plate(picture, area, spot, photo.marks, photo.alt, inks, measured=photo.measured, near=photo.may_be_cut)
        return PlateFace(drawn, box, 1, at_scale=False)
    frame = frame_at_scale(one, box.width / scale, box.height / box.width)
    return PlateFace(draw_frame(picture.address, frame, area, inks, f"cut-{photo.id}"), box, frame.times, at_scale=True)
