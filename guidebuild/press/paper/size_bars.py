"""How large a living thing is, drawn: one scale for all that stands on one print, beside something familiar where it is reduced.

Lengths lie, heights stand. The scale is chosen from the sizes and from the room that each of the prints has at least, so that
two bars of one deck, sheet or booklet can be held against each other.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from markupsafe import Markup

from guidebuild.press.paper.drawing import HAIRLINE, Inks, wrap_svg
from guidebuild.press.paper.formats import Area
from guidebuild.views.pieces.common import SizeView
from guidebuild.views.pieces.sizes import SCALES, FamiliarThing, SizesView

BAR = 1.5
"""Thickness of a bar, millimetres."""
_AIR = 0.45
_WIDE = 70.0
"""A line narrower than this has no room for a familiar thing and its words."""
_LYING, _REDUCED, _ALONE, _STANDING = 0.9, 0.45, 0.6, 0.25
"""Of the line: the most that a bar takes that is drawn life size, reduced, reduced on a narrow line, and standing."""
_THING, _LEAST_THING, _PERSON = 0.12, 9.5, 17.5
"""Of the line: the most height of a thing that lies; at least so many millimetres; and of a person, who stands."""
_LONGEST_ENLARGED = 10.0
_LEAST = 0.2
_BESIDE = 1.2


@dataclass(frozen=True, slots=True)
class Scale:
    """How many times life size all bars of a print are drawn, how that is said, and the thing they are drawn with."""

    times: float
    said: str
    thing: FamiliarThing | None = None


def choose_scale(sizes: SizesView, line: float) -> Scale | None:
    """The largest scale at which the longest and the tallest of these fit on a line of so many millimetres; None where none does.

    Only what is smaller than a millimetre is enlarged.
    """
    largest = max(sizes.longest, sizes.tallest)
    for (times, _), (alone, beside) in zip(SCALES, sizes.said, strict=True):
        thing = sizes.thing if times < 1 and line >= _WIDE else None
        enlarged = times <= 1 or (largest < 1 and largest * times <= _LONGEST_ENLARGED)
        if largest and enlarged and _fits(sizes, times, line) and (thing is None or _thing_fits(thing, sizes, times, line)):
            return Scale(times, beside if thing else alone, thing)
    return None


def _fits(sizes: SizesView, times: float, line: float) -> bool:
    lying = line * (_LYING if times >= 1 else _REDUCED if line >= _WIDE else _ALONE)
    return sizes.longest * times <= lying and sizes.tallest * times <= max(line * _STANDING, _LEAST_THING)


def _thing_fits(thing: FamiliarThing, sizes: SizesView, times: float, line: float) -> bool:
    if sizes.tallest and thing.height * times > line * _STANDING:
        return False
    if not sizes.longest:
        return True
    return thing.height * times <= _PERSON if _stands(thing) else thing.width * times <= max(line * _THING, _LEAST_THING)


def _stands(thing: FamiliarThing) -> bool:
    """Whether a thing stands even beside what lies."""
    return thing.id == "person"


def draw_size(size: SizeView, scale: Scale, title: str, inks: Inks) -> Markup | None:
    """A bar as long as the size at this scale: solid up to the least, open up to the greatest. None where there is none to see."""
    high = (size.high or 0.0) * scale.times
    low = (size.low or size.high or 0.0) * scale.times
    if high < _LEAST or not 0 < low <= high:
        return None
    return _draw_standing(low, high, scale, title, inks) if size.upright else _draw_lying(low, high, scale, title, inks)


def draw_width(size: SizeView, scale: Scale) -> float:
    """How wide that drawing is, millimetres."""
    high, thing = (size.high or 0.0) * scale.times, scale.thing
    if size.upright:
        return BAR + (thing.width * scale.times + _BESIDE if thing else 0.0)
    return max(high, _lying_area(thing, scale.times).width if thing else 0.0)


def draw_height(size: SizeView, scale: Scale) -> float:
    """How high it is, millimetres."""
    if size.upright:
        return max((size.high or 0.0), scale.thing.height if scale.thing else 0.0) * scale.times
    return BAR + (_lying_area(scale.thing, scale.times).height + _AIR if scale.thing else 0.0)


def _lying_area(thing: FamiliarThing, times: float) -> Area:
    """What a thing takes beside something that lies: it lies too, but for a person."""
    upright = Area(thing.width * times, thing.height * times)
    return upright if _stands(thing) else Area(upright.height, upright.width)


def _draw_lying(low: float, high: float, scale: Scale, title: str, inks: Inks) -> Markup:
    thing = scale.thing
    if thing is None:
        return wrap_svg(Area(high, BAR + 2 * _AIR), _bar(low, high, _AIR, inks), title, "life-size")
    area = _lying_area(thing, scale.times)
    if _stands(thing):
        shape = _silhouette(thing, 0, area.width, area.height, inks)
    else:
        # Turned to lie with its root at the left, where the bar starts too.
        shape = f'<g transform="translate({area.width:.3f} 0) rotate(90)">{_silhouette(thing, 0, area.height, area.width, inks)}</g>'
    place = area.height + _AIR
    return wrap_svg(Area(max(high, area.width), place + BAR), shape + _bar(low, high, place, inks), title, "life-size")


def _draw_standing(low: float, high: float, scale: Scale, title: str, inks: Inks) -> Markup:
    thing = scale.thing
    across, tall = (thing.width * scale.times, thing.height * scale.times) if thing else (0.0, 0.0)
    ground = max(high, tall) + HAIRLINE
    start = across + _BESIDE if thing else 0.0
    shape = _silhouette(thing, ground - tall, across, tall, inks) if thing else ""
    # Turned so that the bar's beginning stands on the ground.
    bar = f'<g transform="translate({start:.3f} {ground:.3f}) rotate(-90)">{_bar(low, high, 0, inks)}</g>'
    wide = start + BAR
    line = f'<path d="M0 {ground:.3f}H{wide:.3f}" stroke="{inks.text}" stroke-width="{2 * HAIRLINE}"/>'
    return wrap_svg(Area(wide, ground + HAIRLINE), shape + bar + line, title, "life-size")


def _bar(low: float, high: float, top: float, inks: Inks) -> str:
    """A lying bar that starts at the left."""
    solid = f'<rect x="0" y="{top:.3g}" width="{low:.3f}" height="1.5" fill="{inks.text}"/>'
    if high <= low:
        return solid
    inset = HAIRLINE
    return solid + (
        f'<rect x="{low:.3f}" y="{top + inset:.3f}" width="{high - low - inset:.3f}" height="{BAR - 2 * inset:.3f}" '
        f'fill="none" stroke="{inks.text}" stroke-width="{2 * inset}"/>'
    )


# Silhouettes of our own, drawn upright in a box of 100 by 100 that is stretched to the thing's real shape: pairs of x and y.
_SHAPES = {
    "hand": (
        "M34 100 L32 82 C24 74 10 62 2 52 C-1 46 8 42 14 46 L28 55 L22 20 C21 13 32 11 34 18 L40 44 "
        "L40 7 C40 -1 53 -1 53 7 L55 43 L61 12 C63 5 74 7 73 14 L69 47 L81 26 C85 20 95 24 92 30 L82 60 C80 70 77 76 76 82 L74 100 Z"
    ),
    "card": "M0 4 Q0 0 6 0 L94 0 Q100 0 100 4 L100 96 Q100 100 94 100 L6 100 Q0 100 0 96 Z M70 0 L70 100 M86 0 L86 100",
    "person": (
        "M50 0 C60 0 65 3 65 7.5 C65 12 60 15 50 15 C40 15 35 12 35 7.5 C35 3 40 0 50 0 Z "
        "M30 17 L70 17 C84 17 92 19 94 24 L100 52 C100 56 88 57 86 53 L78 30 L78 98 C78 101 57 101 56 98 L53 60 L47 60 L44 98 "
        "C43 101 22 101 22 98 L22 30 L14 53 C12 57 0 56 0 52 L6 24 C8 19 16 17 30 17 Z"
    ),
}
_PAIR = re.compile(r"(-?[\d.]+) (-?[\d.]+)")


def _silhouette(thing: FamiliarThing, top: float, wide: float, tall: float, inks: Inks) -> str:
    """A thing standing at the left, its head so many millimetres below the top."""

    def place(pair: re.Match[str]) -> str:
        return f"{float(pair[1]) * wide / 100:.3f} {top + float(pair[2]) * tall / 100:.3f}"

    path = _PAIR.sub(place, _SHAPES[thing.id])
    return f'<path d="{path}" fill="{inks.tone}" stroke="{inks.rule}" stroke-width="{2 * HAIRLINE}" stroke-linejoin="round"/>'
