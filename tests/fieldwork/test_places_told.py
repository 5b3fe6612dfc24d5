"""Places that a text names and may not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.secrecy import places_told
from tests.fieldwork.invented import PARENT, PLACES, RARE, guide

HEDGED = guide(places={**PLACES, "long-hedge": replace(PLACES["north-hedge"], id="long-hedge", name="The Long Hedge")})


@pytest.mark.parametrize(
    ("text", "open_species", "sensitive_species"),
    [
        ("On birch by the Weir Pool.", ["weir-pool"], ["weir-pool"]),
        ("WEIR POOL, then weir pool", ["weir-pool"], ["weir-pool"]),
        ("Along North Hedge and the long meadow.", [], ["north-hedge", "meadow"]),
        ("Behind that long hedge.", [], ["long-hedge"]),
        ("A pool below the weir; northern hedges; Long Meadowsweet.", [], []),
    ],
)
def test_a_secret_place_is_never_named_and_no_place_with_a_sensitive_species(
    text: str, open_species: list[str], sensitive_species: list[str]
) -> None:
    assert [place.id for place in places_told(HEDGED, PARENT, text)] == open_species
    assert [place.id for place in places_told(HEDGED, RARE, text)] == sensitive_species
