"""Of many places only those are tried whose codes a text may hold; none that it does hold is passed over. All positions are invented."""

from __future__ import annotations

import random

import pytest
from openlocationcode import openlocationcode

from guidebuild.fieldwork.code_finder import find_pointed
from guidebuild.fieldwork.codes_of_places import code_patterns, encode_geohash, encode_locator, encode_quadkey
from guidebuild.guide.records import Position


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
                assert number in find_pointed(text, placed), code


def test_ordinary_words_point_at_no_place() -> None:
    placed = tuple((Position(51.1 + n / 100, -1.3), 0.01) for n in range(50))
    assert find_pointed("A bug of 12 + 3 mm, seen on 2026/11/28 by four people.", placed) == frozenset()
    assert find_pointed("", ()) == frozenset()
