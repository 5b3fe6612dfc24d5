"""Codes that maps make of a position, against their own definitions. All positions are invented."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.codes_of_places import (
    code_hints,
    decode_geohash,
    decode_locator,
    decode_tile,
    encode_geohash,
    encode_locator,
    encode_quadkey,
)
from guidebuild.guide.records import Position
from tests.fieldwork.code_patterns import code_patterns

HERE = Position(51.1278, -1.2846)
POSITIONS = st.builds(Position, st.floats(-84, 84), st.floats(-179.9, 179.9))


def is_found(text: str, position: Position = HERE, step: float = 0.01) -> bool:
    return any(pattern.search(text) for pattern in code_patterns(position, step))


def tile_of(position: Position, zoom: int) -> tuple[int, int]:
    """Column and row of a web map's tile, as the wiki of OpenStreetMap defines them (“Slippy map tilenames”, from memory)."""
    phi, many = math.radians(position.latitude), 2**zoom
    return int(many * (position.longitude + 180) / 360), int(many * (1 - math.log(math.tan(phi) + 1 / math.cos(phi)) / math.pi) / 2)


@given(POSITIONS, st.integers(1, 12))
@settings(max_examples=60, deadline=None)
def test_the_middle_of_a_geohash_is_that_of_the_cell_around_its_position(position: Position, length: int) -> None:
    """Five halvings a letter, longitude first (public domain scheme of G. Niemeyer, 2008)."""
    (north, east), high = decode_geohash(encode_geohash(position, length))
    assert high == pytest.approx(180 / 2 ** (5 * length // 2))
    assert abs(north - position.latitude) <= high / 2 + 1e-9
    assert abs(east - position.longitude) <= 180 / 2 ** ((5 * length + 1) // 2) + 1e-9


@pytest.mark.parametrize(("signs", "high"), [(2, 10), (4, 1), (6, 1 / 24), (8, 1 / 240), (10, 1 / 5760)])
@pytest.mark.parametrize("position", [HERE, Position(-33.86, 151.21), Position(0.001, -179.99), Position(-89.9, 179.9)])
def test_the_middle_of_a_locator_is_that_of_the_cell_around_its_position(signs: int, high: float, position: Position) -> None:
    (north, east), found = decode_locator(encode_locator(position)[:signs])
    assert found == pytest.approx(high)
    assert abs(north - position.latitude) <= high / 2 + 1e-9
    assert abs(east - position.longitude) <= high + 1e-9
    assert decode_locator(encode_locator(position).lower()) == decode_locator(encode_locator(position))


def test_a_locator_of_a_published_example() -> None:
    """Munich, 48.14666° N, 11.60833° E, is JN58TD (Wikipedia, “Maidenhead Locator System”, from memory)."""
    assert encode_locator(Position(48.14666, 11.60833))[:6] == "JN58TD"


@given(POSITIONS, st.integers(1, 21))
@settings(max_examples=60, deadline=None)
def test_the_middle_of_a_tile_lies_in_it(position: Position, zoom: int) -> None:
    tile = tile_of(position, zoom)
    (north, east), high = decode_tile(zoom, *tile)
    assert tile_of(Position(north, east), zoom) == tile
    assert abs(position.latitude - north) <= high / 2 + 1e-6
    assert abs(position.longitude - east) <= 180 / 2**zoom + 1e-9
    for share, is_inside in ((0.499, True), (0.501, False)):
        edges = [Position(north + side * high * share, east) for side in (1, -1)]
        assert all((tile_of(edge, zoom) == tile) is is_inside for edge in edges if abs(edge.latitude) < 85.05)


def test_a_tile_of_the_whole_world_reaches_as_far_as_web_maps() -> None:
    assert decode_tile(0, 0, 0) == ((pytest.approx(0), pytest.approx(0)), pytest.approx(2 * 85.0511287798))


@pytest.mark.parametrize(("step", "coarsest"), [(1.0, 12), (0.1, 12), (0.01, 16), (0.001, 19)])
def test_tiles_that_are_smaller_than_a_step_are_found_to_the_finest(step: float, coarsest: int) -> None:
    assert 360 / 2**coarsest < min(step, 0.1) <= 360 / 2 ** (coarsest - 1)
    for position in (HERE, Position(-33.86, 151.21)):
        for zoom in range(8, 23):
            x, y = tile_of(position, zoom)
            assert is_found(f"https://tiles.example/{zoom}/{x}/{y}.png", position, step) == (coarsest <= zoom <= 21)
            assert not is_found(f"{zoom}/{x + 1}/{y}", position, step)
            assert not is_found(f"{zoom}/{x}/{y - 1}", position, step)
            assert not is_found(f"{zoom}/{x}/{y}5", position, step)
            assert not is_found(f"1{zoom}/{x}/{y}", position, step)


@pytest.mark.parametrize("latitude", [86.0, -86.0, 89.9])
def test_beyond_the_edge_of_web_maps_the_last_tile_stands_for_all(latitude: float) -> None:
    x, y = tile_of(Position(math.copysign(85.0, latitude), 20.0), 18)
    assert is_found(f"18/{x}/{y}", Position(latitude, 20.0))


@pytest.mark.parametrize("step", [1.0, 0.1, 0.01, 0.001])
def test_a_row_of_quarters_names_the_column_and_row_of_its_tile(step: float) -> None:
    """A digit for each zoom, a bit of the column and two of the row (“Bing Maps Tile System”, from memory)."""
    key = encode_quadkey(HERE, step)
    column, row = (int("".join(str(int(digit) >> bit & 1) for digit in key), 2) for bit in (0, 1))
    assert (column, row) == tile_of(HERE, len(key))
    assert is_found(f"?q={key}", step=step)
    assert is_found(f"tiles/{key}0123.jpg", step=step)
    assert not is_found(f"?q={key[:-1]}", step=step)
    assert not is_found(f"?q={key}7", step=step)
    assert not is_found(f"?q=1{key}", step=step)


@pytest.mark.parametrize(("step", "fewest"), [(1.0, 6), (0.1, 6), (0.01, 8), (0.001, 10)])
def test_a_locator_tells_once_it_says_more_than_a_step(step: float, fewest: int) -> None:
    locator = encode_locator(HERE)
    for signs in (4, 6, 8, 10):
        assert is_found(f"in {locator[:signs]}, he said", step=step) == (signs >= fewest)
        assert is_found(locator[:signs].lower(), step=step) == (signs >= fewest)
    assert not is_found(f"X{locator}", step=step)


@given(POSITIONS, st.sampled_from([1.0, 0.1, 0.01, 0.001]), st.integers(8, 21))
@settings(max_examples=60, deadline=None)
def test_every_text_with_a_code_holds_one_of_its_hints(position: Position, step: float, zoom: int) -> None:
    x, y = tile_of(position, zoom)
    hints = code_hints(position, step)
    for text in (f"{zoom}/{x}/{y}", encode_quadkey(position, step) + "3", encode_locator(position), encode_geohash(position, 9)):
        if is_found(text, position, step):
            assert any(re.search(hint, text.lower()) for hint in hints)
