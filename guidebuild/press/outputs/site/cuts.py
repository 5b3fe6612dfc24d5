"""Small pictures beside the states of a character: a photo's narrowest copy, shown through a square window, or a drawn sign.

No file is cut: the copy is the one that lists show, so that it is fetched once and kept for the field. Style may not stand
in a page, so places and sizes are classes, in steps that `telling.css` knows.
"""

from __future__ import annotations

from functools import cache
from math import ceil, floor, hypot

from guidebuild.guide.signs import SIGNS
from guidebuild.press.outputs.site.plate import Pictures
from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.prose import Html
from guidebuild.shipped import content
from guidebuild.views.pieces.state_pictures import StatePicture

STEPS = 40
"""The middle of a window is given in so many steps across and down the picture."""
ZOOMS = (10, 12, 15, 18, 22, 27, 33, 40, 50)
"""How often, in tenths, the picture is wider than the window."""
OF_BODY = 0.4
"""How much of the measured body a window round a mark shows: enough to know where one is."""
OF_PICTURE = 0.34
"""The same in parts of the picture's width, where nothing was measured."""
ROUND_BODY = 1.2
"""How much more than the measured body a window round the whole of it shows."""


def state_picture_html(shown: StatePicture | None, pictures: Pictures, *, root: str) -> Html:
    """What stands beside a state, silent for screen readers: its words are there."""
    if shown is None:
        return Html("")
    if shown.sign in SIGNS:
        return Html(f'<span class="cut sign" aria-hidden="true">{_sign(shown.sign)}</span>')
    copies = pictures.get(shown.photo.id) if shown.photo else None
    if shown.photo is None or copies is None:
        return Html("")
    small = (copies.of_format("webp") or copies.of_format("jpeg"))[0]
    zoom, x, y = _window(shown, copies)
    height = small.height or round(small.width * copies.height / copies.width)
    return Html(
        f'<span class="cut z{zoom} x{x} y{y}"><img src="{root}{small.path}" alt="" width="{small.width}" height="{height}"'
        ' loading="lazy" decoding="async"></span>'
    )


def _window(shown: StatePicture, copies: PictureSet) -> tuple[int, int, int]:
    """The zoom in tenths and the middle in steps, so that the window keeps within the picture."""
    shape = copies.height / copies.width
    middle, side = _wanted(shown, shape)
    wanted = max((z for z in ZOOMS if z * side <= 10), default=ZOOMS[0])
    zoom = max(wanted, min((z for z in ZOOMS if z * shape >= 10), default=ZOOMS[-1]))  # a flat photo fills the window's height
    across = 10 / zoom
    x, y = (_within(at / 100, span / 2) for at, span in zip(middle, (across, across / shape), strict=True))
    return zoom, x, y


def _wanted(shown: StatePicture, shape: float) -> tuple[tuple[float, float], float]:
    """The middle in per cent, and the width of the window in parts of the picture's."""
    photo, length, body = shown.photo, 0.0, None
    if photo and photo.measured:
        x1, y1, x2, y2 = photo.measured
        length = hypot(x2 - x1, (y2 - y1) * shape) / 100
        body = (x1 + x2) / 2, (y1 + y2) / 2
    if shown.point:
        return shown.point, length * OF_BODY or OF_PICTURE
    return body or (photo.focus if photo and photo.focus else (50.0, 50.0)), length * ROUND_BODY or 1.0


def _within(middle: float, half: float) -> int:
    """A middle in steps, no nearer to an edge than half the window is wide."""
    if half >= 0.5:
        return STEPS // 2
    return min(max(round(middle * STEPS), ceil(half * STEPS)), floor((1 - half) * STEPS))


@cache
def _sign(name: str) -> str:
    return content().joinpath("signs", f"{name}.svg").read_text(encoding="utf-8").strip().replace(' xmlns="http://www.w3.org/2000/svg"', "")
