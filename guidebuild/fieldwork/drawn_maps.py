"""Where the signs of a finished map stand on the ground: a reader can measure that, so the last look does.

A map says of itself how its units become degrees (`data-map`). Squares must be among those that were told, dots on places that may be
shown, and no way may pass a secret place.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.fieldwork.leaks import Leak, Secrets
from guidebuild.fieldwork.map_squares import is_beside
from guidebuild.fieldwork.near_places import AT_PLACE, DISTANCES
from guidebuild.fieldwork.square_names import name_square
from guidebuild.fieldwork.walk_ways import PASSING
from guidebuild.guide.distances import METRES, measure_metres
from guidebuild.guide.projection import find_square, unproject_line
from guidebuild.guide.region import LonLat, MapGrid

_MAP = re.compile(r'<svg\b[^>]*\bdata-map="([^"]*)"[^>]*>(.*?)</svg>', re.DOTALL)
_PATH = re.compile(r'<path class="(seen|old|sought|looked|way|meet)"[^>]* d="([^"]*)"')
_DOT = re.compile(r'<circle class="(?:dot|stop)[^"]*"[^>]* transform="translate\(([-\d.]+) ([-\d.]+)\)"')
_SPOT = re.compile(r"([-\d.]+) ([-\d.]+)")
_RING = re.compile(r"a([\d.]+) ")


@dataclass(frozen=True, slots=True)
class _Paper:
    """How the units of a drawing become degrees."""

    grid: MapGrid
    left: float
    top: float
    unit: float

    def find(self, *spots: tuple[float, float]) -> list[LonLat]:
        return unproject_line(self.grid, [(self.left + x * self.unit, self.top - y * self.unit) for x, y in spots])


def find_map_leaks(text: str, secrets: Secrets) -> Iterator[Leak]:
    """What the maps of a page give away."""
    for found in _MAP.finditer(text) if secrets.placed else ():
        paper, line = _read_paper(found[1]), text.count("\n", 0, found.start())
        if paper is not None:
            yield from _leaks_of(paper, found[2], secrets, line)


def _read_paper(told: str) -> _Paper | None:
    try:
        size, epsg, west, east, north, left, top, unit = map(float, told.split())
    except ValueError:
        return None
    return _Paper(MapGrid(size, int(epsg), west, (east, north)), left, top, unit)


def _leaks_of(paper: _Paper, drawing: str, secrets: Secrets, line: int) -> Iterator[Leak]:
    paths = [(kind, [part for part in path.split("M") if part]) for kind, path in _PATH.findall(drawing)]
    meets = [paper.find(_spots_in(parts[0])[0])[0] for kind, parts in paths if kind == "meet"]
    for spot in meets:
        yield from (Leak(secret, "The meeting point on the map", _say(spot), line) for secret in _find_beside((spot,), secrets, AT_PLACE))
    for kind, parts in paths:
        if kind == "way":
            yield from _leaks_of_way(paper, parts, meets, secrets, line)
        elif kind != "meet":
            yield from _leaks_of_squares(paper, parts, secrets, line)
    for x, y in _DOT.findall(drawing):
        spot = paper.find((float(x), float(y)))[0]
        if not _is_shown(spot, secrets, paper.unit):
            yield from (Leak(secret, "The dot on the map at", _say(spot), line) for secret in _find_near(spot, secrets, 0.0))


def _is_shown(spot: LonLat, secrets: Secrets, unit: float) -> bool:
    """Whether a spot is a place that may be shown, as exactly as it is drawn."""
    return any(_apart(spot, (at.longitude, at.latitude)) <= unit + 1 for at in secrets.shown)


def _leaks_of_squares(paper: _Paper, parts: list[str], secrets: Secrets, line: int) -> Iterator[Leak]:
    side = paper.grid.size if paper.grid.epsg else paper.grid.size * METRES
    for part in parts:
        spot = paper.find(_middle(part))[0]
        name = name_square(paper.grid, find_square(paper.grid, spot))
        if name not in secrets.told:
            yield from (Leak(secret, "The square on the map", name, line) for secret in _find_near(spot, secrets, side))


def _leaks_of_way(paper: _Paper, parts: list[str], meets: list[LonLat], secrets: Secrets, line: int) -> Iterator[Leak]:
    for part in parts:
        way = tuple(paper.find(*_spots_in(part)))
        # Straight lines between spots that are told anyway tell no more than those.
        if not all(_is_shown(spot, secrets, paper.unit) or any(_apart(spot, meet) <= paper.unit + 1 for meet in meets) for spot in way):
            yield from (Leak(secret, "The way on the map from", _say(way[0]), line) for secret in _find_beside(way, secrets, PASSING))


def _spots_in(part: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in _SPOT.findall(part.partition("a")[0].partition("h")[0].partition("l")[0])]


def _middle(part: str) -> tuple[float, float]:
    """The middle of one sign: of a square its corners', of a ring its centre, of a stroke its middle."""
    spots, ring = _spots_in(part), _RING.search(part)
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return (min(xs) + max(xs)) / 2 - (float(ring[1]) if ring else 0.0), (min(ys) + max(ys)) / 2


def _apart(here: LonLat, there: LonLat) -> float:
    return measure_metres(here[::-1], there[::-1])


def _say(spot: LonLat) -> str:
    return f"{spot[1]:.4f}, {spot[0]:.4f}"


def _find_near(spot: LonLat, secrets: Secrets, side: float) -> Iterator[str]:
    """The secret places that a spot, told so exactly, gives away."""
    for at, secret in secrets.placed:
        if side / METRES < secret.step / 2 and _apart(spot, (at.longitude, at.latitude)) <= DISTANCES[secret.step] + side:
            yield secret.name


def _find_beside(way: tuple[LonLat, ...], secrets: Secrets, metres: float) -> Iterator[str]:
    """The secret places that a line passes."""
    for at, secret in secrets.placed:
        if is_beside(way, (at,), metres):
            yield secret.name
