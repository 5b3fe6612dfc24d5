"""How near a position is to a secret place, and how exactly it is told. All positions are invented."""

from __future__ import annotations

import math

import pytest

from guidebuild.fieldwork.near_places import find_shown_halves, find_telling_spots, gives_away, is_same, measure_apart
from guidebuild.fieldwork.spots import Spot, read_figures
from guidebuild.guide.distances import METRES
from guidebuild.guide.records import Position

TRUE = Position(51.1278, -1.2846)


def spot(latitude: float, longitude: float, step: float, *, signed: bool = False) -> Spot:
    return Spot("", 0, latitude, longitude, step, (0, 10), signed)


@pytest.mark.parametrize(
    ("step", "signed", "shown", "tells"),
    [
        (0.01, False, 0.01, False),
        (0.00998, False, 0.01, True),
        (0.001, False, 0.001, False),
        (0.0001, False, 0.001, True),
        (0.0051, True, 0.01, False),
        (0.0049, True, 0.01, True),
        (1 / 60, False, 0.1, True),
        (0.1, False, 1.0, True),
        (0.6, True, 1.0, False),
    ],
)
def test_what_is_told_no_more_exactly_than_may_be_shown_gives_nothing_away(step: float, shown: float, *, signed: bool, tells: bool) -> None:
    longitude = -1.2846 if signed else 1.2846
    assert gives_away(spot(51.1278, longitude, step, signed=signed), TRUE, shown) is tells


@pytest.mark.parametrize(("shown", "metres"), [(0.001, 100.0), (0.01, 800.0), (0.1, 8_000.0), (1.0, 10_000.0)])
def test_the_distance_grows_by_half_the_diagonal_of_the_last_figure(shown: float, metres: float) -> None:
    for step in (1e-6, shown / 4):
        reach = (metres + step * METRES * math.sqrt(0.5)) / METRES
        assert gives_away(spot(51.1278 + reach * 0.99999, 1.2846, step), TRUE, shown)
        assert not gives_away(spot(51.1278 + reach * 1.00001, 1.2846, step), TRUE, shown)


def test_a_position_without_signs_is_held_to_the_place_without_its_own() -> None:
    south = Position(-51.1278, -1.2846)
    for place in (TRUE, south):
        assert measure_apart(spot(51.1278, 1.2846, 0.0001), place) == 0
    assert measure_apart(spot(51.1278, 1.2846, 0.0001, signed=True), TRUE) > 100_000
    assert measure_apart(spot(51.1278, -1.2846, 0.0001, signed=True), south) > 1_000_000
    assert measure_apart(spot(51.1278, -1.2846, 0.0001, signed=True), TRUE) == 0


def test_a_position_is_the_place_as_exactly_as_it_is_told() -> None:
    place = Position(51.1, -1.3)
    assert is_same(spot(51.105, 1.295, 0.01), place)
    assert not is_same(spot(51.106, 1.3, 0.01), place)
    assert not is_same(spot(51.1, 1.306, 0.01), place)
    assert is_same(spot(51.1019, -1.3019, 0.001, signed=True), place)
    assert not is_same(spot(51.1021, -1.3, 0.001, signed=True), place)
    assert not is_same(spot(51.1, -1.3021, 0.001, signed=True), place)
    assert not is_same(spot(51.1, 1.3, 0.001, signed=True), place)


def test_halves_of_what_may_be_shown_are_halves_of_nothing_else() -> None:
    text = "51.1034, -1.3121 and 51.9999, -1.8888"
    halves = find_shown_halves(read_figures(text), [Position(51.1034, -1.3121)])
    assert halves == {text.index("51.1034"), text.index("1.3121")}
    assert find_shown_halves(read_figures(text), [Position(51.2, -1.4)]) == frozenset()


def test_each_spot_tells_of_every_place_that_it_is_near_to() -> None:
    near = [(spot(51.1278, 1.2846, 1e-4), frozenset({0, 1, 2})), (spot(51.1278, 1.2846, 1e-4), frozenset({0, 1, 2}))]
    places = [(TRUE, 0.01), (Position(51.2, -1.2846), 0.01), (Position(51.1279, -1.2846), 0.001)]
    assert [n for _, n in find_telling_spots(near, places)] == [0, 2, 0, 2]
