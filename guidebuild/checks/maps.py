"""Maps: whether outline, places and walks are of one part of the world, and whether places can be drawn."""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.checks.rule import Rule
from guidebuild.guide.findings import Finding, Level
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Walk
from guidebuild.guide.region import Line, LonLat, Region, box_of
from guidebuild.later import imported_when_used

with imported_when_used():  # geometry and projections take long to import, and guides without a map ask for neither
    from guidebuild.fieldwork import region_shape
    from guidebuild.guide import projection

_STRAY = 5_000.0
"""Metres that a track may lie from its walk's stops: more than anyone goes back to a bus."""


def _in_words(metres: float) -> str:
    return f"{metres / 1000:,.0f} km" if metres >= 10_000 else f"{metres / 1000:.1f} km" if metres >= 1000 else f"{metres:.0f} m"


def _off(guide: Guide, region: Region) -> dict[str, float]:
    """Metres from the outline, of each place that has a position and lies further outside than it is large."""
    off = {
        place.id: region_shape.measure_off(region, region_shape.place_spot(region, place.position))
        for place in guide.places.values()
        if place.position
    }
    return {place: metres for place, metres in off.items() if metres > _reach(guide, place)}


def _reach(guide: Guide, place: str) -> float:
    position = guide.places[place].position
    return (position.uncertainty if position else None) or 0.0


def _is_elsewhere(guide: Guide, region: Region, off: dict[str, float]) -> bool:
    """Whether every place lies further from the outline than the region is long: then it is the outline that is wrong."""
    west, south, east, north = box_of(region.corners())
    placed = [place for place in guide.places.values() if place.position]
    return bool(off) and len(off) == len(placed) and min(off.values()) > projection.measure_along(((west, south), (east, north)))


def _map_elsewhere(guide: Guide) -> Iterator[Finding]:
    if guide.region is None:
        return
    off = _off(guide, guide.region)
    if _is_elsewhere(guide, guide.region, off):
        yield MAP_ELSEWHERE.finding(f"The outline lies {_in_words(min(off.values()))} from the nearest place.", guide.region.at)


def _place_outside(guide: Guide) -> Iterator[Finding]:
    off = _off(guide, guide.region) if guide.region else {}
    if guide.region is None or _is_elsewhere(guide, guide.region, off):
        return
    for place, metres in off.items():
        known = guide.places[place]
        yield PLACE_OUTSIDE.finding(
            f"{known.name} lies {_in_words(metres)} outside the outline.", known.positions.get("position", known.at)
        )


def _place_without_position(guide: Guide) -> Iterator[Finding]:
    for place in guide.places.values() if guide.region else ():
        if place.position is None and not place.sensitivity:
            yield PLACE_WITHOUT_POSITION.finding(f"{place.name} has no position, so no map shows it.", place.at)


def _track_elsewhere(guide: Guide) -> Iterator[Finding]:
    for walk in guide.walks.values():
        stops = list(_stop_spots(guide, walk))
        if not walk.track or not stops:
            continue
        off = max(min(_measure_off_track(line, stop) for line in walk.track) for stop in stops)
        if off > _STRAY:
            at = walk.positions.get("track", walk.at)
            yield TRACK_ELSEWHERE.finding(f"The track passes a stop of the walk at {_in_words(off)}.", at)


def _stop_spots(guide: Guide, walk: Walk) -> Iterator[LonLat]:
    for stop in walk.stops:
        place = guide.places.get(stop.place)
        if place and place.position:
            yield place.position.longitude, place.position.latitude


def _measure_off_track(line: Line, stop: LonLat) -> float:
    return projection.measure_along((stop, region_shape.find_beside(line, stop)))


MAP_ELSEWHERE = Rule(
    "map-elsewhere", "The outline is that of the guide's own region", Level.WARNING,
    "Maps would show none of its places.", "Look whether it is the right file, and whether longitudes stand first in it.", _map_elsewhere,
)  # fmt: skip
PLACE_OUTSIDE = Rule(
    "place-outside-map", "Places lie inside the outline", Level.WARNING,
    "Either the position is wrong or the outline.", "Correct the position, or draw the outline wider.", _place_outside,
)  # fmt: skip
PLACE_WITHOUT_POSITION = Rule(
    "place-without-position", "Places have a position, where the guide has maps", Level.NOTE,
    "Maps leave it out.", 'Add position: "latitude, longitude" and uncertainty: to the place.', _place_without_position,
)  # fmt: skip
TRACK_ELSEWHERE = Rule(
    "walk-track-elsewhere", "The track of a walk passes its stops", Level.WARNING,
    "The map would show another way than the one that is walked.", "Give the track of this walk, or leave it out.", _track_elsewhere,
)  # fmt: skip

RULES = (MAP_ELSEWHERE, PLACE_OUTSIDE, PLACE_WITHOUT_POSITION, TRACK_ELSEWHERE)
