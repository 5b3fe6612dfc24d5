"""Small maps: where a species was seen, where a place lies, which way a walk goes. Drawn in one colour, told in words as well."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from guidebuild.fieldwork.map_squares import cell_corners
from guidebuild.fieldwork.public_records import PublicAccount, PublicPlace, PublicSquares, PublicWalk
from guidebuild.fieldwork.published import Published
from guidebuild.fieldwork.square_names import name_square
from guidebuild.guide.asking import remember
from guidebuild.guide.region import LonLat, MapGrid, Region, Square
from guidebuild.views.pieces.common import LinkView
from guidebuild.views.pieces.map_frame import MapFrame, lay_land, make_frame, project_track, write_line
from guidebuild.views.pieces.map_labels import Label, place_labels
from guidebuild.views.pieces.parts import PieceMaker
from guidebuild.words import Words

MOST_NAMED = 60
"""Squares that are named in words; of more, it is said how many."""
_MOST_PLACES = 14
_FLAG = 16.0
"""Units that the flag of a meeting point is high, as `map.html` draws it."""
_RING = 0.32
_LENGTHS = (1, 2, 5)


@dataclass(frozen=True, slots=True)
class MapMark:
    """Squares of one kind: how they are drawn, what that means, and which they are. `kind` is a class of the drawing."""

    kind: str
    path: str
    words: str
    names: str = ""
    sign: str = ""
    """What its sign in the legend is called, for those who hear a paper map."""


@dataclass(frozen=True, slots=True)
class MapDot:
    """A spot with its name: a place, or a stop of a walk by its number. `here` is what the page is about."""

    x: float
    y: float
    name: str
    label: Label | None = None
    here: bool = False
    number: int = 0


@dataclass(frozen=True, slots=True)
class MapView:
    """One map. `frame` tells where its spots are; `scale` is how many units the bar has that stands for `scale_words`."""

    about: str
    width: int
    height: int
    land: str
    lines: str
    frame: str
    scale: float
    scale_words: str
    north: float
    marks: tuple[MapMark, ...] = ()
    dots: tuple[MapDot, ...] = ()
    way: str = ""
    meet: tuple[float, float] | None = None
    places: tuple[LinkView, ...] = ()
    notes: tuple[str, ...] = ()


def map_of_account(make: PieceMaker, account: PublicAccount) -> MapView | None:
    """Where a species was seen; None in a guide without a region, and where nothing of it could be drawn."""
    region = make.guide.region
    if region is None:
        return None
    squares = make.guide.squares.get(account.id) or PublicSquares()
    marks = tuple(_list_marks(make, account, region, squares))
    places = [make.guide.places[place] for place in account.places if place in make.guide.places]
    if not marks and not any(place.position for place in places):
        return None
    frame = make_frame(region)
    name = account.vernacular or account.name.plain
    base = _base(make, frame, make.words("Map: where {species} was seen", species=name))
    secret = account.kept_back is not None
    notes = () if secret else (_say_grid(make.words, region),)
    dots = () if secret else _place_dots(make, frame, {place.id for place in places})
    ways = tuple(make.map.place(place.id) for place in places)
    return replace(base, marks=marks, dots=dots, places=ways, notes=notes)


def map_of_place(make: PieceMaker, place: PublicPlace) -> MapView | None:
    """Where a place lies."""
    region = make.guide.region
    if region is None or place.position is None:
        return None
    frame = make_frame(region)
    base = _base(make, frame, make.words("Map: where {place} lies", place=place.name))
    return replace(base, dots=_place_dots(make, frame, {place.id}))


def map_of_region(make: PieceMaker) -> MapView | None:
    """All places that may be named, in a guide of few places; None without a region or without any."""
    region = make.guide.region
    if region is None:
        return None
    frame = make_frame(region)
    dots = _place_dots(make, frame, set())
    return replace(_base(make, frame, make.words("Map of the region")), dots=dots) if dots else None


def map_of_walk(make: PieceMaker, walk: PublicWalk) -> MapView | None:
    """The way of a walk with its stops in order; None without a track where fewer than two spots are known, or there is no region."""
    spots = [_spot_of(make.guide, stop.place) for stop in walk.stops]
    known = [spot for spot in spots if spot]
    meet = (walk.meet_at.longitude, walk.meet_at.latitude) if walk.meet_at else None
    way = walk.track or (tuple(filter(None, (meet, *spots))),)
    corners = [spot for line in way for spot in line]
    if not walk.track and (make.guide.region is None or len(known) + bool(meet) < 2):
        return None
    region = make.guide.region or _lay_paper(corners, known)
    frame = lay_land(make_frame(near_region(region, corners, known)), region)
    base = _base(make, frame, make.words("Map: the way of the walk"))
    at = frame.place(known)
    numbers = [number for number, spot in enumerate(spots, 1) if spot]
    names = [stop.name for stop, spot in zip(walk.stops, spots, strict=True) if spot]
    point = frame.place([meet])[0] if meet else None
    flag = ((point[0], point[1] - _FLAG, point[0] + _FLAG, point[1]),) if point else ()
    labels = place_labels(at, names, (frame.width, frame.height), gap=11, beside=flag)
    dots = tuple(MapDot(x, y, name, label, number=number) for (x, y), name, label, number in zip(at, names, labels, numbers, strict=True))
    note = "" if walk.track else make.words("The stops are joined by straight lines; the way itself is not drawn.")
    return replace(base, dots=dots, way=project_track(frame, way), meet=point, notes=(note,) if note else ())


def _lay_paper(way: Sequence[LonLat], stops: Sequence[LonLat]) -> Region:
    """Blank paper round a track, in a guide that has no outline: as wide as the map and more."""
    return near_region(Region((), grid=MapGrid(0.1, 0, way[0][0] - 180, way[0])), way, stops, room=1.5)


def near_region(region: Region, way: Sequence[LonLat], stops: Sequence[LonLat], *, room: float = 0.65) -> Region:
    """The region as far as a walk goes: a square round its way, with the lines that lie in it. `room` is half its side by the way."""
    first = way[0][0]
    easts, norths = [(x - first + 180) % 360 - 180 + first for x, _ in (*way, *stops)], [y for _, y in (*way, *stops)]
    squeeze = max(math.cos(math.radians(norths[0])), 0.01)
    reach = max(max(norths) - min(norths), (max(easts) - min(easts)) * squeeze, 0.002) * room
    east, north = (min(easts) + max(easts)) / 2, (min(norths) + max(norths)) / 2
    wide = reach / squeeze
    ring = ((east - wide, north - reach), (east + wide, north - reach), (east + wide, north + reach), (east - wide, north + reach))
    return replace(region, outline=(((*ring, ring[0]),),))


def _spot_of(guide: Published, place: str) -> LonLat | None:
    known = guide.places.get(place)
    return (known.position.longitude, known.position.latitude) if known and known.position else None


def _base(make: PieceMaker, frame: MapFrame, about: str) -> MapView:
    length, words = _choose_scale(make.words, frame)
    return MapView(about, frame.width, frame.height, frame.land, frame.lines, frame.told, length, words, round(frame.north, 1))


def _choose_scale(say: Words, frame: MapFrame) -> tuple[float, str]:
    """The longest round length that takes no more than a third of the width."""
    most = frame.width * frame.metres / 3
    metres = max(base * 10**power for power in range(7) for base in _LENGTHS if base * 10**power <= max(most, 1))
    words = f"{metres // 1000:,} km" if metres >= 1000 else f"{metres} m"
    return round(metres / frame.metres, 1), words


def _place_dots(make: PieceMaker, frame: MapFrame, here: set[str]) -> tuple[MapDot, ...]:
    """Dots for what the page is about, and, in a guide of few places, for the others."""
    placed = remember(make.kept, ("map places", ""), lambda: [place for place in make.guide.places.values() if place.position])
    shown = [place for place in placed if place.id in here or len(placed) <= _MOST_PLACES]
    shown.sort(key=lambda place: place.id not in here)
    spots = frame.place([(place.position.longitude, place.position.latitude) for place in shown if place.position])
    inside = [(place, spot) for place, spot in zip(shown, spots, strict=True) if 0 < spot[0] < frame.width and 0 < spot[1] < frame.height]
    labels = place_labels([spot for _, spot in inside], [place.name for place, _ in inside], (frame.width, frame.height))
    return tuple(
        MapDot(round(x, 1), round(y, 1), place.name, label, place.id in here) for (place, (x, y)), label in zip(inside, labels, strict=True)
    )


def _list_marks(make: PieceMaker, account: PublicAccount, region: Region, squares: PublicSquares) -> Iterator[MapMark]:
    frame, say = make_frame(region), make.words
    since = make.guide.as_of.year - region.recent if make.guide.as_of else 0
    recent = [square for square, day in squares.seen if day and dt.date.fromordinal(day).year >= since]
    old = [square for square, day in squares.seen if not (day and dt.date.fromordinal(day).year >= since)]
    told = {*recent, *old, *squares.sought}
    others = [square for square in make.guide.looked if square not in told] if account.kept_back is None else []
    if squares.cells:
        path = "".join(frame.hatch(frame.place(cell_corners(region, cell))) for cell in squares.cells)
        names = "; ".join(f"{cell.latitude:g}, {cell.longitude:g} (± {cell.step / 2:g}°)" for cell in squares.cells)
        yield MapMark("cell", path, say("somewhere in here; the place is not told"), names)
    if others:
        yield MapMark("looked", _dots_in(frame, others), say("other species reported here"))
    if squares.sought:
        yield MapMark("sought", _crosses_in(frame, squares.sought), say("looked for and not found"), _name_all(say, region, squares.sought))
    if old:
        words = say("seen before {year}, or in no known year", year=since) if since else say("seen in no known year")
        yield MapMark("old", _rings_in(frame, old), words, _name_all(say, region, old))
    if recent:
        words = say("seen since {year}", year=since) if since else say("seen")
        yield MapMark("seen", _fill(frame, recent), words, _name_all(say, region, recent))


def _fill(frame: MapFrame, squares: Iterable[Square]) -> str:
    return "".join(f"{write_line(corners)}z" for corners in frame.draw_squares(squares))


def _middles(frame: MapFrame, squares: Iterable[Square]) -> Iterator[tuple[float, float, float]]:
    for corners in frame.draw_squares(squares):
        xs, ys = [x for x, _ in corners], [y for _, y in corners]
        yield (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2, min(max(xs) - min(xs), max(ys) - min(ys))


def _rings_in(frame: MapFrame, squares: Iterable[Square]) -> str:
    """A ring in each square, begun in its middle's height at the right."""
    made = []
    for x, y, side in _middles(frame, squares):
        reach = round(max(side * _RING, 2.2), 1)
        turn = f"a{reach:g} {reach:g} 0 1 0"
        made.append(f"M{round(x + reach, 1):g} {round(y, 1):g}{turn} {-2 * reach:g} 0{turn} {2 * reach:g} 0")
    return "".join(made)


def _crosses_in(frame: MapFrame, squares: Iterable[Square]) -> str:
    made = []
    for x, y, side in _middles(frame, squares):
        reach = max(side * _RING, 2.2)
        made += [write_line([(x - reach, y - reach), (x + reach, y + reach)]), write_line([(x - reach, y + reach), (x + reach, y - reach)])]
    return "".join(made)


def _dots_in(frame: MapFrame, squares: Iterable[Square]) -> str:
    return "".join(f"M{round(x, 1):g} {round(y, 1):g}h.01" for x, y, _ in _middles(frame, squares))


def _name_all(say: Words, region: Region, squares: Sequence[Square]) -> str:
    named = [name_square(region.grid, square) for square in squares[:MOST_NAMED]]
    more = len(squares) - len(named)
    return "; ".join([*named, *([say("and {n} more", n=more)] if more > 0 else [])])


def _say_grid(say: Words, region: Region) -> str:
    size = region.grid.size
    if not region.grid.epsg:
        return say("Squares of {size}.", size=f"{size:g}°")
    return say("Squares of {size}.", size=f"{size / 1000:g} km" if size >= 1000 else f"{size:g} m")
