"""The pages of walks in a booklet: few lines that spill on to a page of their own are pulled back.

The map gets narrower as far as its names can be read; then numbers stand for the names, which are in the list of stops, and it gets
narrower still; then lines and gaps are set closer. Where nothing helps, a walk stays as it was.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from guidebuild.press.outputs.cards.map_room import drawn_width
from guidebuild.press.paper.flow import used_of, walk
from guidebuild.press.paper.formats import MM_PER_INCH, Area
from guidebuild.press.paper.layout import MM_PER_PIXEL, Laid
from guidebuild.press.paper.spill import LEAST_FILL
from guidebuild.views.pieces.maps import MapView
from guidebuild.views.pieces.small_letters import LEAFLET_LETTERS

_MAP = 0.38
"""Of the height inside the margins, the width of a map, which is about as high as wide."""
_ON_PAGES = 12.3
"""Size of the names on a map in its own units, as `map.html` writes them."""
_LINE = 9 * 1.24 * MM_PER_INCH / 72
"""Millimetres of a line: so much more than what spilled is made free, as words break where they will."""
TRIES = 3
"""Layouts, at most, for the sake of walks that spill."""


@dataclass(frozen=True, slots=True)
class WalkSetting:
    """How a walk is set: millimetres of its map, units that the map's letters are high, and whether lines and gaps are closer."""

    view: MapView | None
    width: float
    letters: float = _ON_PAGES
    closer: bool = False


def first_settings(maps: Sequence[MapView | None], inner: Area) -> tuple[WalkSetting, ...]:
    """Every map with its names, as wide as the page's height allows beside the words; no names are too small to read."""
    return tuple(WalkSetting(view, min(max(_least(view, _ON_PAGES), inner.height * _MAP), inner.width)) for view in maps)


def pull_back_walks(settings: Sequence[WalkSetting], laid: Laid) -> tuple[WalkSetting, ...]:
    """What is to be tried next for the walks that spill a little; the same ones where there is nothing."""
    spilled = _find_spills(laid)
    return tuple(_give_way(one, spilled[number]) if number in spilled else one for number, one in enumerate(settings, 1))


def give_up_walks(first: Sequence[WalkSetting], settings: Sequence[WalkSetting], laid: Laid) -> tuple[WalkSetting, ...]:
    """As they were at first where they spill all the same."""
    spilled = _find_spills(laid)
    return tuple(before if number in spilled else after for number, (before, after) in enumerate(zip(first, settings, strict=True), 1))


def _give_way(setting: WalkSetting, spilled: float) -> WalkSetting:
    view = setting.view
    if view is None or setting.closer:
        return replace(setting, closer=True)
    numbered = _with_numbers(view)
    wanted = setting.width - (spilled + _LINE) * view.width / view.height
    if wanted >= _least(view, setting.letters):
        return replace(setting, width=wanted)
    if numbered is None:
        return replace(setting, closer=True)
    least = _least(numbered, LEAFLET_LETTERS)
    return WalkSetting(numbered, min(max(wanted, least), setting.width), LEAFLET_LETTERS, closer=wanted < least)


def _with_numbers(view: MapView) -> MapView | None:
    """The map without names; None where not every dot has a number by which it is found in the list."""
    return replace(view, dots=tuple(replace(dot, label=None) for dot in view.dots)) if all(dot.number for dot in view.dots) else None


def _least(view: MapView | None, letters: float) -> float:
    return drawn_width(view, letters) if view else 0.0


def _find_spills(laid: Laid) -> dict[int, float]:
    """Millimetres on the last page of each walk that has several pages and a short last one, by the number that the template gives it."""
    pages: dict[str, list[float]] = {}
    for page in laid.document.pages:
        box = page._page_box
        numbers = (inner.element.get("data-walk") for inner in walk(box, flow=True) if inner.element is not None)
        if number := next((number for number in numbers if number), None):
            pages.setdefault(number, []).append(used_of(box, lines=True))
    least = LEAST_FILL * laid.document.pages[0]._page_box.height
    short = {number: used[-1] for number, used in pages.items() if len(used) > 1 and used[-1] < least}
    return {int(number): used * MM_PER_PIXEL for number, used in short.items() if number.isdecimal()}
