"""What is drawn on a slide: pictures cut to their frames with pointers, species side by side, months, the code of an address."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup

from guidebuild.press.outputs.slides.shapes import LEAST_TYPE
from guidebuild.press.paper import drawing
from guidebuild.press.paper.drawing import Inks
from guidebuild.press.paper.formats import Area
from guidebuild.press.paper.plates import draw_frame
from guidebuild.press.photos.print_copy import Picture
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import cut_to_animal, cut_widest, measure_animal, show_whole
from guidebuild.views.pieces.one_scale import Box, Framed, FrameSet, Print, frame_at_one_scale, say_length
from guidebuild.views.slides.slide import Slide

INKS = Inks(text="#16211a", leaf="#1f5a3c", haw="#981f18", tone="#f3f6f1", rule="#6b7a6f", line=0.3)
"""Near black on white, because of the sun."""
CODE = 34.0
"""Side of the code of an address, millimetres, where there is room for it."""
BETWEEN = 3.0
_SHARPER = 1.2
"""A slide has more pixels to the millimetre than paper."""
_SEASON = 4.2


@dataclass(frozen=True, slots=True)
class Drawn:
    """The drawings of one slide. `quiet` is the white at the side of the code, millimetres; `pictures` are empty where there is none."""

    pictures: tuple[Markup, ...] = ()
    bar: Markup | None = None
    bar_words: str = ""
    months: Markup | None = None
    seasons: tuple[Markup, ...] = ()
    code: Markup | None = None
    quiet: float = 0.0
    sign: Markup | None = None


def draw_slide(slide: Slide, pictures: Mapping[str, Picture], area: Area, room: tuple[float, float], caution: str) -> Drawn:
    """Draw what a slide shows; its picture fills `area`; `room` is how wide its months and its code are."""
    (across, code), bar = room, None
    frames: FrameSet | None = None
    if slide.side:
        shown = [plate.photo if plate.photo and plate.photo.id in pictures else None for plate in slide.side.plates]
        drawn, frames = _draw_beside(shown, pictures, area)
        reach = frames.bar_width * _width_of(area, len(shown), frames) / 100 if frames else 0.0
        bar = drawing.draw_bar(reach, say_length(frames.bar), INKS) if frames else None
    elif slide.photo and slide.photo.id in pictures:
        drawn = (_draw_one(slide.photo, pictures[slide.photo.id], area),)
    else:
        drawn = ()
    return Drawn(
        pictures=drawn,
        bar=bar,
        bar_words=say_length(frames.bar) if frames else "",
        months=drawing.month_row(slide.months, across, LEAST_TYPE / 0.86, " ".join(slide.months), INKS) if slide.seasons else None,
        seasons=tuple(drawing.season_row(row, across, _SEASON, INKS) for row in slide.seasons),
        code=drawing.draw_code(slide.address, code) if slide.address else None,
        quiet=drawing.quiet_of(slide.address, code) if slide.address else 0.0,
        sign=drawing.caution_mark(caution) if slide.cautions else None,
    )


def _draw_one(photo: PhotoView, picture: Picture, area: Area) -> Markup:
    """A picture in a frame: close to the animal where its marks are shown, as much of the picture as there is where they are not."""
    ratio, shape = area.width / area.height, picture.height / picture.width
    close = photo.marks and photo.measured  # without a line nothing says how large the animal is: then all marks are held
    cut = (cut_to_animal if close else cut_widest)(photo, shape, ratio) or show_whole(shape, ratio)
    times = 100 / cut.width
    whole = Box(-cut.x, -cut.y, 100, 100 * shape).scaled(times)
    frame = Framed(photo, Print(whole, whole.within(Box(0, 0, 100, 100 / ratio))))
    return draw_frame(partial(_sharpen, picture), frame, area, INKS, f"of-{photo.id}")


def _draw_beside(
    photos: Sequence[PhotoView | None], pictures: Mapping[str, Picture], area: Area
) -> tuple[tuple[Markup, ...], FrameSet | None]:
    """A frame for each, at one scale where they were measured and may be cut; nothing where there is no picture."""
    shown = [photo for photo in photos if photo and photo.may_be_cut]
    frames = frame_at_one_scale([(photo, pictures[photo.id].height / pictures[photo.id].width) for photo in shown], measure_animal)
    framed = {frame.photo.id: frame for frame in frames.frames if frame} if frames else {}
    room = Area((area.width - BETWEEN * (len(photos) - 1)) / max(len(photos), 1), area.height)
    width = _width_of(area, len(photos), frames) if frames else 0.0
    drawn = []
    for number, photo in enumerate(photos):
        if photo is None:
            drawn.append(Markup(""))
        elif frames and photo.id in framed:
            size = Area(width, width * frames.height / 100)
            drawn.append(draw_frame(partial(_sharpen, pictures[photo.id]), framed[photo.id], size, INKS, f"beside-{number}"))
        else:
            drawn.append(_draw_one(photo, pictures[photo.id], room))
    return tuple(drawn), frames


def _sharpen(picture: Picture, width: float) -> str:
    return picture.address(width * _SHARPER)


def _width_of(area: Area, count: int, frames: FrameSet) -> float:
    """How wide each of several frames is, so that all of them go into an area."""
    return min((area.width - BETWEEN * (count - 1)) / max(count, 1), area.height * 100 / frames.height)
