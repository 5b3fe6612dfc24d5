"""Pictures on paper with the numbers of their marks, as inline SVG. `views/pieces/pointers.py` decides where all of it stands."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace

from markupsafe import Markup, escape

from guidebuild.press.paper.drawing import Inks, PictureSpot, draw_words, wrap_svg
from guidebuild.press.paper.formats import Area
from guidebuild.press.photos.print_copy import Part, Picture
from guidebuild.views.pieces.common import MarkView
from guidebuild.views.pieces.one_scale import Box, Framed, Print
from guidebuild.views.pieces.pointers import CloseUp, Ground, Placed, place_marks

BADGE = 2.1
"""Radius of a numbered badge, millimetres."""
_STEP = 5.2
_BESIDE = 1.5
"""Millimetres between a picture and the badges beside it, where there is room."""
_EDGE = 0.7
_NEAR = 0.13
_LEAST_NEAR, _MOST_NEAR = 4.5, 8.0
"""A close-up's radius: a share of the box's width, in these bounds, millimetres."""


def draw_plate(  # noqa: PLR0913, PLR0917 - a plate is no less than this
    picture: Picture,
    box: Area,
    spot: PictureSpot,
    marks: Sequence[MarkView],
    alt: str,
    inks: Inks,
    *,
    measured: tuple[float, float, float, float] | None = None,
    near: bool = True,
) -> Markup:
    """A picture on its tone, an open ring round each mark, and a line from each ring to its number at the side.

    `near` says whether parts of it may be shown enlarged, which is a cut.
    """
    ground = ground_on_paper(box, spot)
    placed = place_marks(ground if near else replace(ground, near_up=0.0), marks, measured)
    lines = [_line(p.line) for p in placed.pointers] + [_line(_near_line(near, placed)) for near in placed.close_ups]
    rings = [_ring(p.x, p.y, p.ring) for p in placed.pointers]
    drawn = "".join(lines + rings)
    parts = [
        _image(picture.address(spot.width), spot),
        *(_near(near, picture, spot) for near in placed.close_ups),
        _stroked(drawn, "#ffffff", inks.line * 3),
        _stroked(drawn + "".join(_ring(n.at_x, n.at_y, n.radius) for n in placed.close_ups), inks.haw, inks.line),
        *(draw_badge(p.label_x, p.label_y, p.number, inks) for p in placed.pointers),
    ]
    return wrap_svg(box, "".join(parts), alt, "plate-drawing")


def draw_frame(href: Callable[[float], str], frame: Framed, area: Area, inks: Inks, name: str) -> Markup:
    """A picture in its frame of a set at one scale, cut to what it shows, with its pointers; `name` is the frame's own in a document."""
    unit, photo = area.width / 100, frame.photo
    prints = [one for one in (frame.enlarged, frame.at_scale) if one]
    whole = prints[0].whole.scaled(unit)
    edge = BADGE + _EDGE
    picture = (whole.x, whole.y, whole.width, whole.height)
    address = href(max(one.whole.width for one in prints) * unit)  # one copy serves both prints
    placed = place_marks(Ground(area.width, area.height, picture, BADGE, edge, area.width - edge, BADGE * 2.1, _STEP), photo.marks)
    drawn = "".join([_line(p.line) for p in placed.pointers] + [_ring(p.x, p.y, p.ring) for p in placed.pointers])
    small = [_box(frame.at_scale.shown.scaled(unit), "none", inks.text)] if frame.enlarged else []
    parts = [
        *(_cut(one, address, unit, f"{name}-{number}") for number, one in enumerate(prints)),
        *small,
        _stroked(drawn, "#ffffff", inks.line * 3),
        _stroked(drawn, inks.haw, inks.line),
        *(draw_badge(p.label_x, p.label_y, p.number, inks) for p in placed.pointers),
    ]
    return wrap_svg(area, "".join(parts), photo.alt, "plate-drawing")


def draw_cut(picture: Picture, shown: Box, area: Area, alt: str, name: str) -> Markup:
    """A part of a picture, in hundredths of its width, that fills the area; `name` is its own in a document."""
    whole = Box(-shown.x, -shown.y, 100.0, 100 * picture.height / picture.width).scaled(area.width / shown.width)
    edges = whole.within(Box(0.0, 0.0, area.width, area.height))
    return wrap_svg(area, _cut(Print(whole, edges), picture.address(whole.width), 1.0, name), alt, "plate-drawing")


def draw_small(picture: Picture, prints: Sequence[Print], area: Area, alt: str, edge: str = "") -> Markup:
    """Showings of a picture without pointers, each cut out of the file, so that no more of it is embedded than is seen.

    `edge` is the ink of a line round the last of several, which is the small one.
    """
    parts = [_cut_out(picture, one) for one in prints]
    parts += [_box(prints[-1].shown, "none", edge)] if edge and len(prints) > 1 else []
    return wrap_svg(area, "".join(parts), alt, "plate-drawing")


def draw_window(picture: Picture, shown: Box, area: Area, alt: str) -> Markup:
    """The same of one part of a picture, in hundredths of its width, that fills the area."""
    whole = Box(-shown.x, -shown.y, 100.0, 100 * picture.height / picture.width).scaled(area.width / shown.width)
    return draw_small(picture, (Print(whole, whole.within(Box(0.0, 0.0, area.width, area.height))),), area, alt)


def _cut_out(picture: Picture, one: Print) -> str:
    whole, shown = one.whole, one.shown
    left, top = (shown.x - whole.x) / whole.width, (shown.y - whole.y) / whole.height
    part = Part(max(left, 0.0), max(top, 0.0), min(left + shown.width / whole.width, 1.0), min(top + shown.height / whole.height, 1.0))
    return _image(picture.cut_address(part, shown.width), PictureSpot(shown.x, shown.y, shown.width, shown.height))


def _cut(one: Print, href: str, unit: float, name: str) -> str:
    """The part of a picture that a frame shows."""
    whole, shown = one.whole.scaled(unit), one.shown.scaled(unit)
    window = f'<rect x="{shown.x:.3f}" y="{shown.y:.3f}" width="{shown.width:.3f}" height="{shown.height:.3f}"/>'
    image = _image(href, PictureSpot(whole.x, whole.y, whole.width, whole.height))
    return f'<clipPath id="{name}">{window}</clipPath><g clip-path="url(#{name})">{image}</g>'


def _box(box: Box, fill: str, stroke: str) -> str:
    shape = f'<rect x="{box.x:.3f}" y="{box.y:.3f}" width="{box.width:.3f}" height="{box.height:.3f}"'
    return f'{shape} fill="{fill}" stroke="{stroke}" stroke-width="0.2"/>'


def ground_on_paper(box: Area, spot: PictureSpot) -> Ground:
    """A box of paper with its picture: badges stand beside it where there is tone enough, on its edge where there is not."""
    edge = BADGE + _EDGE
    left, right = max(edge, spot.x - BADGE - _BESIDE), min(box.width - edge, spot.x + spot.width + BADGE + _BESIDE)
    near = min(max(box.width * _NEAR, _LEAST_NEAR), _MOST_NEAR)
    # A picture on a sheet can be too small for close-ups: then the ring and its line are all.
    near = near if spot.width >= near * 5 else 0.0
    return Ground(box.width, box.height, (spot.x, spot.y, spot.width, spot.height), BADGE, left, right, BADGE * 2.1, _STEP, near_up=near)


def _near_line(near: CloseUp, placed: Placed) -> tuple[float, float, float, float]:
    """From the ring of a small mark to its close-up."""
    ring = next(p.ring for p in placed.pointers if p.number == near.number)
    return near.join(ring)


def _near(near: CloseUp, picture: Picture, spot: PictureSpot) -> str:
    """What is seen of the picture, enlarged, in a round window."""
    x, y, width, height = near.enlarge((spot.x, spot.y, spot.width, spot.height))
    left, right = (min(max((near.at_x + out - x) / width, 0.0), 1.0) for out in (-near.radius, near.radius))
    top, bottom = (min(max((near.at_y + out - y) / height, 0.0), 1.0) for out in (-near.radius, near.radius))
    place = PictureSpot(x + left * width, y + top * height, (right - left) * width, (bottom - top) * height)
    # An id may stand once in a document, and a picture stands once in it with its pointers.
    name = f"near-{picture.path.stem}-{near.number}"
    return (
        f'<clipPath id="{name}"><circle cx="{near.at_x:.2f}" cy="{near.at_y:.2f}" r="{near.radius:.2f}"/></clipPath>'
        f'<g clip-path="url(#{name})">{_image(picture.cut_address(Part(left, top, right, bottom), place.width), place)}</g>'
    )


def _image(href: str, spot: PictureSpot) -> str:
    return f'<image href="{escape(href)}" x="{spot.x:.2f}" y="{spot.y:.2f}" width="{spot.width:.2f}" height="{spot.height:.2f}"/>'


def _line(line: tuple[float, float, float, float]) -> str:
    return "M{:.2f} {:.2f}L{:.2f} {:.2f}".format(*line)


def _ring(x: float, y: float, radius: float) -> str:
    half = f"a{radius:.2f} {radius:.2f} 0 1 0"
    return f"M{x - radius:.2f} {y:.2f}{half} {radius * 2:.2f} 0{half} {-radius * 2:.2f} 0"


def _stroked(path: str, colour: str, width: float) -> str:
    return f'<path d="{path}" fill="none" stroke="{colour}" stroke-width="{width:.2f}" stroke-linecap="round"/>' if path else ""


def draw_badge(x: float, y: float, number: int, inks: Inks) -> str:
    """A number on a disc, as an SVG fragment."""
    size = 3.1 if number < 10 else 2.6
    return f'<circle cx="{x:.2f}" cy="{y:.2f}" r="{BADGE}" fill="{inks.haw}" stroke="#ffffff" stroke-width="0.3"/>' + draw_words(
        str(number), x, y + size * 0.345, size, "#ffffff", weight=700
    )
