"""Maps, places and walks of one part of the world: what is told where they are not."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.checks import maps
from guidebuild.guide.findings import At
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Place, Position, Sensitivity, Stop
from guidebuild.guide.region import Line, MapGrid, Region
from tests.checks.invented import guide, walk

SQUARE: Line = ((-1.3, 51.4), (-1.1, 51.4), (-1.1, 51.6), (-1.3, 51.6), (-1.3, 51.4))
REGION = Region(((SQUARE,),), grid=MapGrid(1000, 27700, -92.0, (-1.2, 51.5)), at=At("guide.yaml", 3))
HERE = Position(51.5, -1.2, 100)


def told(changed: Guide) -> list[tuple[str, str, str]]:
    return [(f.code, str(f.at), f.message) for rule in maps.RULES for f in rule.run(changed)]


def with_places(*places: Place) -> Guide:
    return replace(guide(), places={place.id: place for place in places}, region=REGION)


def place(ident: str, position: Position | None, **changes: object) -> Place:
    return replace(Place(ident, ident.title(), position=position, at=At("places.yaml", 1)), **changes)  # type: ignore[arg-type]


def test_places_inside_are_told_of_nothing() -> None:
    assert told(with_places(place("long", HERE))) == []


def test_a_guide_without_a_map_is_asked_for_nothing() -> None:
    assert told(replace(with_places(place("far", Position(10, 10))), region=None)) == []


def test_a_place_outside_the_outline_is_told() -> None:
    outside = with_places(place("in", HERE), place("out", Position(51.62, -1.2, 100)))
    assert told(outside) == [("place-outside-map", "places.yaml:1", "Out lies 2.2 km outside the outline.")]


def test_a_place_that_reaches_into_the_outline_is_not_outside() -> None:
    assert told(with_places(place("in", HERE), place("edge", Position(51.6005, -1.2, 100)))) == []


def test_an_outline_of_another_continent_is_told_once() -> None:
    there = with_places(place("a", Position(-33.9, 151.2)), place("b", Position(-33.8, 151.1)))
    assert told(there) == [("map-elsewhere", "guide.yaml:3", "The outline lies 17,041 km from the nearest place.")]


def test_a_place_without_a_position_is_told_but_for_a_secret_one() -> None:
    without = with_places(place("lost", None), place("kept", None, sensitivity=Sensitivity(1)))
    assert told(without) == [("place-without-position", "places.yaml:1", "Lost has no position, so no map shows it.")]


def test_a_track_that_does_not_pass_its_stops_is_told() -> None:
    base = with_places(place("long", HERE))
    mine = replace(walk(), stops=(Stop("long"),), track=(((-1.2, 51.501), (-1.21, 51.51)),), positions={"track": At("walks/w.yaml", 7)})
    assert told(replace(base, walks={"w": mine})) == []
    away = replace(mine, track=(((10.0, 45.0), (10.1, 45.0)),))
    assert told(replace(base, walks={"w": away})) == [
        ("walk-track-elsewhere", "walks/w.yaml:7", "The track passes a stop of the walk at 1,100 km.")
    ]  # fmt: skip


def test_a_straight_track_passes_the_stops_between_its_corners() -> None:
    # Two corners 14 km apart, as a receiver leaves them on a straight road; the stop is halfway and 40 m beside it.
    base = with_places(place("long", Position(51.5004, -1.2, 50)))
    straight: Line = ((-1.3, 51.5), (-1.1, 51.5))
    mine = replace(walk(), stops=(Stop("long"),), track=(straight,), positions={"track": At("walks/w.yaml", 7)})
    assert told(replace(base, walks={"w": mine})) == []
    beside = with_places(place("long", Position(51.56, -1.2, 50)))
    assert told(replace(beside, walks={"w": mine})) == [
        ("walk-track-elsewhere", "walks/w.yaml:7", "The track passes a stop of the walk at 6.7 km.")
    ]  # fmt: skip


def test_a_track_over_the_180th_meridian_passes_its_stops() -> None:
    base = replace(with_places(place("cape", Position(-16.5, -179.999, 50))), region=None)
    mine = replace(walk(), stops=(Stop("cape"),), track=(((179.9, -16.5), (180.1, -16.5)),))
    assert told(replace(base, walks={"w": mine})) == []
