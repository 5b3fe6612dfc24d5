"""Species side by side on a sheet: pictures at one scale with their bar, as inline SVG, and the months of each."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from markupsafe import Markup

from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import Inks
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.plates import draw_frame, draw_plate
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.pieces.one_scale import Framed, FrameSet, frame_at_one_scale, is_kept_whole, say_length
from guidebuild.views.telling.side_by_side import SideBySide, SidePlate

_SEASON, _MONTHS = 3.4, 3.8
"""Height of a bar of months and of its initials, millimetres."""
_LYING = 0.75
"""Height over width of a place where nothing is measured."""


@dataclass(frozen=True, slots=True)
class SideFace:
    """One species: its picture, how many times it is enlarged (1: not), whether it is at the scale of the others, and its year.

    `uncut`: it is not at that scale because its licence allows no cut.
    """

    picture: Markup
    times: int
    at_scale: bool
    uncut: bool
    months: Markup
    season: Markup | None


@dataclass(frozen=True, slots=True)
class SideDrawn:
    """All of them in their order; the bar and its length in words, where any has a scale."""

    faces: tuple[SideFace, ...]
    bar: Markup | None
    bar_words: str

    @property
    def apart(self) -> bool:
        """Whether any picture has no scale."""
        return any(face.picture and not face.at_scale and not face.uncut for face in self.faces)


def draw_side(side: SideBySide, pictures: Mapping[str, Picture], room: Area, inks: Inks, name: str) -> SideDrawn:
    """Draw plates of one stage, each no larger than `room`; `name` is the stage's own in the document."""
    shown = [(plate.photo, pictures[plate.photo.id]) for plate in side.plates if plate.photo and plate.photo.id in pictures]
    frames = frame_at_one_scale([(photo, picture.height / picture.width) for photo, picture in shown])
    area = _choose_area(room, frames)
    framed = {frame.photo.id: frame for frame in frames.frames if frame} if frames else {}
    faces = (_face(plate, framed, pictures, area, inks, f"{name}-{number}") for number, plate in enumerate(side.plates))
    drawn = [(picture, frame) for picture, frame in faces]
    return SideDrawn(
        faces=tuple(
            SideFace(
                picture,
                frame.times if frame else 1,
                frame is not None,
                bool(picture and plate.photo and frame is None and is_kept_whole(plate.photo)),
                *_draw_year(side, plate, room.width, inks),
            )
            for plate, (picture, frame) in zip(side.plates, drawn, strict=True)
        ),
        bar=drawing.draw_bar(frames.bar_width * area.width / 100, say_length(frames.bar), inks) if frames else None,
        bar_words=say_length(frames.bar) if frames else "",
    )


def _choose_area(room: Area, frames: FrameSet | None) -> Area:
    """The largest frame of its shape in this room."""
    shape = frames.height / 100 if frames else _LYING
    width = min(room.width, room.height / shape)
    return Area(width, width * shape)


def _face(  # noqa: PLR0913, PLR0917 - one of a set, on its paper
    plate: SidePlate, framed: Mapping[str, Framed], pictures: Mapping[str, Picture], area: Area, inks: Inks, name: str
) -> tuple[Markup, Framed | None]:
    photo = plate.photo
    picture = pictures.get(photo.id) if photo else None
    if photo is None or picture is None:
        return Markup(""), None
    frame = framed.get(photo.id)
    if frame:
        return draw_frame(picture.address, frame, area, inks, name), frame
    spot = drawing.fit_picture(area, (picture.width, picture.height))
    return draw_plate(picture, area, spot, photo.marks, photo.alt, inks, measured=photo.measured, near=photo.may_be_cut), None


def _draw_year(side: SideBySide, plate: SidePlate, width: float, inks: Inks) -> tuple[Markup, Markup | None]:
    if plate.season is None:
        return Markup(""), None
    initials = drawing.month_row(side.months, width, _MONTHS, " ".join(side.months), inks)
    return initials, drawing.season_row(plate.season, width, _SEASON, inks)
