"""How far the stops of a walk are apart, by the shortest lines on the ellipsoid or along its track; and what of both may be told.

Where a stop's place may not be named, nothing is told of the ways to it and from it: with two known ends and two lengths it could
be found. The next stop is then as far as it is straight from the last one that is told.
"""

from __future__ import annotations

from collections.abc import Iterator

from guidebuild.fieldwork.decisions import Decisions
from guidebuild.fieldwork.near_places import lies_in_place
from guidebuild.guide.records import Position, Stop, Walk
from guidebuild.guide.region import Line, LonLat
from guidebuild.later import imported_when_used

with imported_when_used():  # geometry and projections
    from guidebuild.fieldwork import map_squares, region_shape
    from guidebuild.guide import projection

PASSING = 250.0
"""Metres within which a track passes a secret place: as far as one sees a path that leads off (our own figure)."""
_STEP = 10
"""Lengths that are worked out are told to so many metres: nobody walks a straight line."""
_ON_TRACK = 250.0
"""Metres that a stop may lie beside the track."""


def tell_track(made: Decisions, walk: Walk) -> tuple[Line, ...]:
    """The track; none of it where any of it passes a secret place, or the walk stops at one: a gap would tell where that is."""
    if not walk.track:
        return ()
    stops = filter(None, (made.guide.places.get(stop.place) for stop in walk.stops))
    secret = map_squares.list_secret(made.anywhere.secrets)
    leads = any(place.sensitivity for place in stops) or any(map_squares.is_beside(line, secret, PASSING) for line in walk.track)
    return () if leads else walk.track


def tell_meeting_point(made: Decisions, walk: Walk) -> Position | None:
    """The meeting point, where it tells nothing: in an open place or where all may know, and at no secret one."""
    at = walk.meet_at
    secrets = made.at_places.secrets
    if at is None or not secrets:
        return at
    here = at.latitude, at.longitude
    if any(lies_in_place(here, there) for there, _ in secrets.placed):
        return None
    places = (place.position for place in made.guide.places.values() if not place.sensitivity)
    if any(lies_in_place(here, there) for there in places if there):
        return at
    return None if made.at_places.tells(f"{at.latitude:.5f}, {at.longitude:.5f}") else at


def measure_legs(made: Decisions, walk: Walk) -> tuple[int, ...]:
    """How far each stop is from the one before it, as its author says, else as it is worked out; 0 where nothing is told."""
    return tuple(_measure(made, walk))


def _measure(made: Decisions, walk: Walk) -> Iterator[int]:
    point, track = tell_meeting_point(made, walk), tell_track(made, walk)
    last = (point.longitude, point.latitude) if point else None
    after_secret = walk.meet_at is not None and point is None
    for stop in walk.stops:
        place = made.guide.places.get(stop.place)
        if place is not None and place.sensitivity:
            after_secret = True
            yield 0
            continue
        here = (place.position.longitude, place.position.latitude) if place and place.position else None
        yield _leg(stop, last, here, track, after_secret=after_secret)
        last, after_secret = here, False


def _leg(stop: Stop, last: LonLat | None, here: LonLat | None, track: tuple[Line, ...], *, after_secret: bool) -> int:
    if stop.metres and not after_secret:
        return stop.metres
    if last is None or here is None:
        return 0
    along = None if after_secret else measure_on_track(track, last, here)
    metres = projection.measure_along((last, here)) if along is None else along
    return round(metres / _STEP) * _STEP


def measure_on_track(track: tuple[Line, ...], last: LonLat, here: LonLat) -> float | None:
    """Metres between two spots along a track that passes both; None where none does."""
    for line in track:
        if len(line) > 1 and all(region_shape.measure_beside(line, spot) <= _ON_TRACK for spot in (last, here)):
            return projection.measure_along(region_shape.cut_line(line, last, here))
    return None
