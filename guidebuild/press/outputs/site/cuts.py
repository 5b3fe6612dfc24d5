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
from guidebuild.views.pieces.cuts import cut_to_subject
from guidebuild.views.pieces.one_scale import Box
from guidebuild.views.pieces.state_pictures import StatePicture

STEPS = 40
"""The middle of a window is given in so many steps across and down the picture."""
ZOOMS = (3, 4, 5, 6, 7, 8, 10, 12, 15, 18, 22, 27, 33, 40, 50)
"""How often, in tenths, the picture is wider than the window; below ten, tone stands beside it."""
OF_BODY = 0.4
"""How much of the measured body a window round a mark shows: enough to know where one is."""
OF_PICTURE = 0.34
"""The same in parts of the picture's width, where nothing was measured."""
_NOTHING = 1e-9
"""What sums of parts may be out by."""


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
    """The zoom in tenths and the middle in steps."""
    shape = copies.height / copies.width
    part = cut_to_subject(shown.photo, shape, 1.0) if shown.photo and not shown.point else None
    return _hold(part.within(Box(0, 0, 100, 100 * shape)), shape) if part else _surround(shown, shape)


def _hold(part: Box, shape: float) -> tuple[int, int, int]:
    """The window that holds a part of the picture most closely, wings and all; it keeps within the picture where it can."""
    left, right = part.x / 100, (part.x + part.width) / 100
    top, foot = part.y / 100 / shape, (part.y + part.height) / 100 / shape
    for zoom in reversed(ZOOMS):
        across = _hold_along(left, right, 5 / zoom)
        down = _hold_along(top, foot, 5 / zoom / shape)
        if across is not None and down is not None:
            return zoom, across, down
    return ZOOMS[0], STEPS // 2, STEPS // 2


def _hold_along(first: float, last: float, half: float) -> int | None:
    """The middle in steps of a window, half of it so long, that holds all between first and last; None where none does."""
    if half >= 0.5:
        return STEPS // 2
    least, most = ceil((last - half) * STEPS - _NOTHING), floor((first + half) * STEPS + _NOTHING)
    return min(max(_within((first + last) / 2, half), least), most) if least <= most else None


def _surround(shown: StatePicture, shape: float) -> tuple[int, int, int]:
    """A window round a mark; round the middle where nothing says what to show. A flat photo fills its height."""
    photo, side = shown.photo, 1.0
    if shown.point:
        x1, y1, x2, y2 = (photo.measured if photo else None) or (0.0, 0.0, 0.0, 0.0)
        side = hypot(x2 - x1, (y2 - y1) * shape) / 100 * OF_BODY or OF_PICTURE
    full = min((z for z in ZOOMS if z >= 10 and z * shape >= 10), default=ZOOMS[-1])
    zoom = max(max((z for z in ZOOMS if z * side <= 10), default=ZOOMS[0]), full)
    across = 10 / zoom
    x, y = (_within(at / 100, span / 2) for at, span in zip(shown.point or (50.0, 50.0), (across, across / shape), strict=True))
    return zoom, x, y


def _within(middle: float, half: float) -> int:
    """A middle in steps, no nearer to an edge than half the window is wide."""
    if half >= 0.5:
        return STEPS // 2
    return min(max(round(middle * STEPS), ceil(half * STEPS)), floor((1 - half) * STEPS))


@cache
def _sign(name: str) -> str:
    return content().joinpath("signs", f"{name}.svg").read_text(encoding="utf-8").strip().replace(' xmlns="http://www.w3.org/2000/svg"', "")
