"""Species side by side on a page: their pictures in frames of one scale, and apart those that have none."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from guidebuild.press.outputs.site.plate import Pictures, picture_html
from guidebuild.press.theme.prose import Html
from guidebuild.views.pieces.one_scale import Framed, frame_at_one_scale, frame_whole, is_kept_whole, say_length
from guidebuild.views.telling.side_by_side import SideBySide, SidePlate

_MOST_COLUMNS = 6
_PHONE, _WIDE = 46.0, 94.0
"""How wide a frame is on a phone, and all frames together on a wide screen, in per cent of the screen."""


@dataclass(frozen=True, slots=True)
class DrawnPlate:
    """One species: its picture in a frame, or whole where it has no scale, or none."""

    plate: SidePlate
    frame: Framed | None = None
    picture: Html | None = None
    whole: Framed | None = None


@dataclass(frozen=True, slots=True)
class DrawnSide:
    """All of them: frames of one height, the scale bar (its width in units of a frame, and its words), and apart what has no scale.

    A species without a picture keeps its place among the frames. `uncut` are pictures that are measured and stand apart because
    their licence allows no cut.
    """

    together: tuple[DrawnPlate, ...]
    apart: tuple[DrawnPlate, ...]
    uncut: tuple[DrawnPlate, ...] = ()
    height: float = 0.0
    bar: float = 0.0
    bar_words: str = ""


def draw_side_by_side(pictures: Pictures, root: str) -> Callable[[SideBySide], DrawnSide]:
    """What draws species side by side from the published copies of their pictures."""
    return lambda side: _draw(side, pictures, root)


def _draw(side: SideBySide, pictures: Pictures, root: str) -> DrawnSide:
    pictured = [plate for plate in side.plates if plate.photo and plate.photo.id in pictures]
    shapes = [(plate.photo, pictures[plate.photo.id]) for plate in pictured if plate.photo]
    frames = frame_at_one_scale([(photo, copies.height / copies.width) for photo, copies in shapes])
    framed = {id(plate): frame for plate, frame in zip(pictured, frames.frames if frames else (), strict=False)}
    columns = min(len(side.plates), _MOST_COLUMNS)
    drawn = [_draw_one(plate, framed.get(id(plate)), pictures, root, columns) for plate in side.plates]
    uncut = tuple(one for one in drawn if one.whole and is_kept_whole(one.whole.photo))
    if frames is None:
        return DrawnSide((), tuple(one for one in drawn if one not in uncut), uncut)
    apart = tuple(one for one in drawn if one.whole and one not in uncut)
    together = tuple(one for one in drawn if not one.whole)
    return DrawnSide(together, apart, uncut, round(frames.height, 2), round(frames.bar_width, 3), say_length(frames.bar))


def _draw_one(plate: SidePlate, frame: Framed | None, pictures: Pictures, root: str, columns: int) -> DrawnPlate:
    if plate.photo is None or plate.photo.id not in pictures:
        return DrawnPlate(plate)
    shown = (frame.enlarged or frame.at_scale).whole.width / 100 if frame else 1.0
    sizes = f"(min-width: 48em) {shown * _WIDE / columns:.0f}vw, {shown * _PHONE:.0f}vw"
    copies = pictures[plate.photo.id]
    whole = None if frame else frame_whole(plate.photo, copies.height / copies.width)
    return DrawnPlate(plate, frame, picture_html(plate.photo, pictures, root=root, sizes=sizes, first=False), whole)
