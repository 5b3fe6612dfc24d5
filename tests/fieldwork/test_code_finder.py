"""Of many places only those are tried whose codes a text may hold; none that it does hold is passed over. All positions are invented."""

from __future__ import annotations

import random

import pytest
from openlocationcode import openlocationcode

from guidebuild.fieldwork.code_finder import find_codes
from guidebuild.fieldwork.codes_of_places import encode_geohash, encode_locator, encode_quadkey
from guidebuild.guide.records import Position
from tests.fieldwork.code_patterns import code_patterns


@pytest.mark.parametrize("step", [1.0, 0.1, 0.01, 0.001])
def test_every_code_that_is_found_alone_is_found_among_fifty(step: float) -> None:
    draw = random.Random(4)
    placed = tuple((Position(51.1 + draw.random() / 5, -1.3 + draw.random() / 5), step) for _ in range(50))
    for number, (position, _) in enumerate(placed):
        plus = openlocationcode.encode(position.latitude, position.longitude)
        for code in (
            plus,
            plus[4:],
            plus[6:].lower(),
            encode_geohash(position, 9),
            encode_locator(position),
            encode_quadkey(position, 0.001),
        ):
            text = f"Meet at {code}, Larkfold."
            if any(pattern.search(text) for pattern in code_patterns(position, step)):
                assert number in {pointed for pointed, _ in find_codes(text, placed)}, code


def test_ordinary_words_point_at_no_place() -> None:
    placed = tuple((Position(51.1 + n / 100, -1.3), 0.01) for n in range(50))
    assert not list(find_codes("A bug of 12 + 3 mm, seen on 2026/11/28 by four people.", placed))
    assert not list(find_codes("", ()))


@pytest.mark.parametrize("step", [1.0, 0.1, 0.01, 0.001])
def test_all_that_the_patterns_of_each_place_find_is_found_and_nothing_else(step: float) -> None:
    draw, matches = random.Random(11), 0
    for _ in range(150):
        placed = tuple((Position(51.1 + draw.random() / 50, -1.3 + draw.random() / 50), step) for _ in range(8))
        text = "".join(_scrap(draw, draw.choice(placed)[0]) for _ in range(12))
        wanted = {
            (number, found.span())
            for number, (position, _) in enumerate(placed)
            for pattern in code_patterns(position, step)
            for found in pattern.finditer(text)
        }
        assert {(number, found.span()) for number, found in find_codes(text, placed)} == wanted, text
        matches += len(wanted)
    assert matches > 100


def _scrap(draw: random.Random, position: Position) -> str:
    """A code whole, cut or run together with others, or signs that may seem to be one."""
    code = draw.choice(
        (openlocationcode.encode(position.latitude, position.longitude), encode_geohash(position, 9), encode_locator(position))
    )
    cut = code[draw.choice((0, 0, 2, 4, 6, 7)) :]
    return draw.choice((cut, cut.lower(), cut + " ", f" {code}", f"<{cut}>", "İ", "+", " image/svg+xml ", "9", f"{cut[:-1]}, "))
