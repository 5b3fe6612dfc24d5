"""Maps as small as a card has room for: no letter that is too small to read, and all that they show told in words."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from guidebuild.fieldwork.public_records import PublicAccount, PublicSquares, PublicWalk
from guidebuild.guide.region import Region
from guidebuild.views.pieces.map_frame import make_frame
from guidebuild.views.pieces.map_labels import Box, place_labels
from guidebuild.views.pieces.maps import MapDot, MapView, map_of_account, map_of_walk
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.views.pieces.small_letters import LETTERS

_ON_PAGES = 12.3
_GAP = 8.0
_CLEAR = 3.0
_ROUND_SQUARE = 1.4
"""A name may stand so many sides of a square from its dot, which lies in a filled one."""
_NORTH, _SCALE = (26.0, 40.0), 30.0
"""Units that the arrow takes, wide and high, and that the scale is high with its words."""


def map_on_card(make: PieceMaker, account: PublicAccount) -> MapView | None:
    """Where a species was seen, for the back of its card; None where the guide wants none there, or there is nothing to show."""
    region = make.guide.region
    drawn = map_of_account(make, account) if region and region.on_cards else None
    if region is None or drawn is None or not (drawn.marks or drawn.dots):
        return None
    signs = {
        "seen": make.words("filled square"),
        "old": make.words("ring"),
        "sought": make.words("cross"),
        "looked": make.words("dot"),
        "cell": make.words("hatching"),
    }
    marks = tuple(replace(mark, sign=signs[mark.kind]) for mark in drawn.marks)
    squares = make.guide.squares.get(account.id) or PublicSquares()
    dots = _name_dots(drawn, region, squares)
    return replace(drawn, marks=marks, dots=dots, about=_tell(make, replace(drawn, marks=marks)))


def map_on_leaflet(make: PieceMaker, walk: PublicWalk) -> MapView | None:
    """The way of a walk with its stops by their numbers, whose names stand beside it; None where no map of it can be drawn."""
    drawn = map_of_walk(make, walk)
    return replace(drawn, dots=tuple(replace(dot, label=None) for dot in drawn.dots)) if drawn else None


def _name_dots(drawn: MapView, region: Region, squares: PublicSquares) -> tuple[MapDot, ...]:
    """The dots with their names in larger letters, clear of squares, scale and arrow."""
    frame = make_frame(region)
    shown = [*(square for square, _ in squares.seen), *squares.sought]
    boxes = [_box_of(corners) for corners in frame.draw_squares(shown)]
    side = max((right - left for left, _, right, _ in boxes), default=0.0)
    labels = place_labels(
        [(dot.x, dot.y) for dot in drawn.dots],
        [dot.name for dot in drawn.dots],
        (drawn.width, drawn.height),
        _GAP,
        (*boxes, *_corners(drawn)),
        farthest=side * _ROUND_SQUARE,
        times=LETTERS / _ON_PAGES,
    )
    return tuple(replace(dot, label=label) for dot, label in zip(drawn.dots, labels, strict=True))


def _box_of(corners: Sequence[tuple[float, float]]) -> Box:
    xs, ys = zip(*corners, strict=True)
    return min(xs) - _CLEAR, min(ys), max(xs) + _CLEAR, max(ys)


def _corners(drawn: MapView) -> Iterator[Box]:
    """What the arrow at the top and the scale at the foot take."""
    wide, high = _NORTH
    yield drawn.width - wide, 0, drawn.width, high
    yield 0, drawn.height - _SCALE, max(drawn.scale, len(drawn.scale_words) * LETTERS / 2) + wide / 2, drawn.height


def _tell(make: PieceMaker, drawn: MapView) -> str:
    """All that a map shows in sentences."""
    shown = (f"{mark.words}: {mark.names}" for mark in drawn.marks if mark.names)
    places = ", ".join(dot.name for dot in drawn.dots if dot.here)
    parts = (drawn.about, *shown, *((make.words("Places: {places}", places=places),) if places else ()), *drawn.notes)
    return " ".join(f"{part[:1].upper()}{part[1:]}{'' if part.endswith('.') else '.'}" for part in parts)
