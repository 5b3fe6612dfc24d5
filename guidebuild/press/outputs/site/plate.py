"""Pictures on pages: the `picture` element, the plate with its pointers, the scale bar and the season bar, as HTML and SVG."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from html import escape

from guidebuild.press.photos.published_set import PictureSet
from guidebuild.press.theme.prose import Html
from guidebuild.views.pieces.common import PhotoView
from guidebuild.views.pieces.cuts import cut_to_subject
from guidebuild.views.pieces.one_scale import ROUND_LENGTHS, find_width, say_length
from guidebuild.views.pieces.pointers import CloseUp, Ground, Placed, Pointer, place_marks

Pictures = Mapping[str, PictureSet]
"""Photo id → its published copies."""

_THUMB, _THUMB_WIDE = 4 / 3, 234
"""A thumb's width over its height, and how many pixels it is wide on wide screens."""
_THUMB_MOST = 720
"""Pixels across of the widest copy that a thumb may use."""
_LONGEST_BAR = 0.25
"""A scale bar takes at most so much of the picture's width."""


_MARGIN, _TOP = 8.0, 2.0
"""Tone beside and above a picture with pointers, in hundredths of the plate's width."""
_DISC, _GAP, _FINGER = 3.4, 9.0, 12.3
"""Radius of the largest disc; the least distance between two, and the one at which a finger on a narrow phone hits no other."""
_CLOSE_UP = 9.5
"""Radius of a close-up."""


@dataclass(frozen=True, slots=True)
class CloseUpDrawing:
    """A close-up as SVG: where its window is, the line to its mark, and the whole picture enlarged behind the window."""

    href: str
    x: float
    y: float
    radius: float
    path: str
    left: float
    top: float
    width: float
    height: float


@dataclass(frozen=True, slots=True)
class PointerDrawing:
    """A pointer in rounded plate units, ready for SVG."""

    number: int
    words: str
    x: float
    y: float
    ring: float
    label_x: float
    label_y: float
    reach: float
    """Radius of what a finger may hit round the number."""
    path: str
    close_up: CloseUpDrawing | None = None


@dataclass(frozen=True, slots=True)
class ScaleBar:
    """A bar of a round length under the picture: an SVG path in plate units, and the length in words."""

    path: str
    words: str


@dataclass(frozen=True, slots=True)
class PlateDrawing:
    """What a template needs to draw a plate."""

    height: float
    layout: DrawnLayout | None
    largest: str
    tall: bool
    bar: ScaleBar | None


@dataclass(frozen=True, slots=True)
class DrawnLayout:
    """The pointers of a plate."""

    pointers: tuple[PointerDrawing, ...]


def find_poster(photo: PhotoView, pictures: Pictures) -> str:
    """The copy of a picture that stands where a film plays later: about as wide as a phone's screen is in pixels."""
    copies = pictures.get(photo.id)
    return min(copies.variants, key=lambda one: (abs(one.width - _THUMB_MOST), one.format)).path if copies else ""


def draw_plate(photo: PhotoView, pictures: Pictures) -> PlateDrawing | None:
    """The drawing round a picture, or None where the picture could not be published."""
    copies = pictures.get(photo.id)
    if copies is None:
        return None
    ground = lay_ground(copies.height / copies.width, pointed=any(mark.point for mark in photo.marks))
    if not photo.may_be_cut:
        ground = replace(ground, near_up=0.0)
    placed = place_marks(ground, photo.marks, photo.measured)
    drawn = tuple(_draw_pointer(pointer, placed, ground, copies) for pointer in placed.pointers)
    return PlateDrawing(
        height=round(ground.height, 2),
        layout=DrawnLayout(drawn) if drawn else None,
        largest=copies.largest.path,
        tall=copies.height > copies.width * 1.1,
        bar=_scale_bar(photo, copies, ground),
    )


def lay_ground(shape: float, *, pointed: bool) -> Ground:
    """What a plate is drawn on; `shape` is the picture's height over its width. Pointers want tone beside the picture."""
    margin, top = (_MARGIN, _TOP) if pointed else (0.0, 0.0)
    width = 100 - 2 * margin
    picture = (margin, top, width, width * shape)
    return Ground(100, width * shape + 2 * top, picture, _DISC, margin / 2, 100 - margin / 2, _GAP, _FINGER, near_up=_CLOSE_UP)


def _draw_pointer(pointer: Pointer, placed: Placed, ground: Ground, copies: PictureSet) -> PointerDrawing:
    near = next((one for one in placed.close_ups if one.number == pointer.number), None)
    others = (abs(p.label_y - pointer.label_y) for p in placed.pointers if p is not pointer and p.label_x == pointer.label_x)
    return PointerDrawing(
        number=pointer.number,
        words=pointer.words,
        x=round(pointer.x, 1),
        y=round(pointer.y, 1),
        ring=round(pointer.ring, 1),
        label_x=round(pointer.label_x, 1),
        label_y=round(pointer.label_y, 1),
        reach=round(min(_FINGER / 2, min(others, default=_FINGER) / 2), 2),
        path="M{:.1f} {:.1f}L{:.1f} {:.1f}".format(*pointer.line),
        close_up=_draw_close_up(near, pointer, ground, copies) if near else None,
    )


def _draw_close_up(near: CloseUp, pointer: Pointer, ground: Ground, copies: PictureSet) -> CloseUpDrawing:
    line = near.join(pointer.ring)
    picture = (round(value, 2) for value in near.enlarge(ground.picture))
    path = "M{:.1f} {:.1f}L{:.1f} {:.1f}".format(*line)
    return CloseUpDrawing(copies.finest.path, round(near.at_x, 1), round(near.at_y, 1), near.radius, path, *picture)


def picture_html(photo: PhotoView, pictures: Pictures, *, root: str, sizes: str, first: bool) -> Html:
    """A `picture` element with every copy; `first` ones load at once and show their stand-in until they have."""
    copies = pictures.get(photo.id)
    if copies is None:
        return Html("")
    source = f'<source type="image/webp" srcset="{_srcset(copies, "webp", root)}" sizes="{sizes}">' if copies.of_format("webp") else ""
    fallback = copies.of_format("jpeg") or copies.of_format("webp")
    # Not `fetchpriority="high"` for the first: it would take the line from the style that the first words wait for.
    loading = "" if first else ' loading="lazy" decoding="async"'
    language = _language_of(photo)
    stand_in = ""
    if first and copies.placeholder:
        stand_in = f'<img class="stand-in" src="{copies.placeholder}" alt="" width="{copies.width}" height="{copies.height}">'
    return Html(
        f"{stand_in}<picture>{source}"
        f'<img src="{root}{fallback[0].path}" srcset="{_srcset(copies, fallback[0].format, root)}" sizes="{sizes}"'
        f' alt="{escape(photo.alt)}"{language} width="{copies.width}" height="{copies.height}"{loading}></picture>'
    )


def small_picture_html(photo: PhotoView, pictures: Pictures, *, root: str) -> Html:
    """A picture in a list, cut to its subject."""
    copies = pictures.get(photo.id)
    if copies is None:
        return Html("")
    offered = [v for v in copies.of_format("webp") or copies.of_format("jpeg") if v.width <= _THUMB_MOST] or [copies.largest]
    shown, shape = offered[0], copies.height / copies.width
    part = cut_to_subject(photo, shape, _THUMB)
    choice = ""
    if part and len(offered) > 1:
        near = 100 / part.width
        listed = ", ".join(f"{root}{v.path} {v.width}w" for v in offered)
        # On a phone the narrowest in any case: lists of hundreds are opened there.
        choice = f' srcset="{listed}" sizes="(min-width: 48em) {_THUMB_WIDE * near:.0f}px, 1px"'
    image = (
        f'<img src="{root}{shown.path}"{choice} alt="{escape(photo.alt)}"{_language_of(photo)} width="{shown.width}"'
        f' height="{round(shown.width * shape)}" loading="lazy" decoding="async">'
    )
    if part is None:
        return Html(image)
    box = f"{part.x:.1f} {part.y:.1f} {part.width:.1f} {part.height:.1f}"
    return Html(f'<svg class="cut" viewBox="{box}"><foreignObject width="100" height="{100 * shape:.1f}">{image}</foreignObject></svg>')


def _language_of(photo: PhotoView) -> str:
    language = photo.alt_language or photo.language
    return f' lang="{escape(language)}"' if language and photo.alt else ""


def _srcset(copies: PictureSet, kind: str, root: str) -> str:
    return ", ".join(f"{root}{v.path} {v.width}w" for v in copies.of_format(kind))


def _scale_bar(photo: PhotoView, copies: PictureSet, ground: Ground) -> ScaleBar | None:
    """The longest round length that takes no more than a quarter of the picture."""
    millimetres_across = find_width(photo, copies.height / copies.width)
    if millimetres_across is None:
        return None
    fitting = [length for length in ROUND_LENGTHS if length <= millimetres_across * _LONGEST_BAR]
    if not fitting:
        return None
    width = fitting[-1] / millimetres_across * ground.picture[2]
    start = ground.picture[0]
    return ScaleBar(f"M{start:.1f} 0v2M{start:.1f} 1h{width:.2f}M{start + width:.2f} 0v2", say_length(fitting[-1]))


def bar_path(cells: Sequence[int], level: int) -> str:
    """The cells of a season at a level (1: thin line, 2: full bar) as one SVG path in a box of 36 by 8."""
    pieces: list[tuple[int, int]] = []
    for cell, value in enumerate(cells):
        if value < level:
            continue
        if pieces and sum(pieces[-1]) == cell:
            pieces[-1] = (pieces[-1][0], pieces[-1][1] + 1)
        else:
            pieces.append((cell, 1))
    top, thick = (0, 8) if level == 2 else (6, 2)
    return "".join(f"M{start} {top}h{length}v{thick}h-{length}z" for start, length in pieces)
