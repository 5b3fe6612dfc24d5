"""Places that a text names and may not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.decisions import decide_secrets
from tests.fieldwork.invented import PARENT, PLACES, RARE, guide

HEDGED = guide(places={**PLACES, "long-hedge": replace(PLACES["north-hedge"], id="long-hedge", name="The Long Hedge")})


@pytest.mark.parametrize(
    ("text", "open_species", "sensitive_species"),
    [
        ("On birch by the Weir Pool.", {"Weir Pool"}, {"Weir Pool"}),
        ("WEIR POOL, then weir pool", {"Weir Pool"}, {"Weir Pool"}),
        ("Along North Hedge and the long meadow.", set(), {"North Hedge", "Long Meadow"}),
        ("Behind that long hedge.", set(), {"The Long Hedge"}),
        ("[Over there](place:meadow), in a meadow.", set(), {"Long Meadow"}),
        ("In a meadow.", set(), set()),
        ("At 51.1034, -1.3121.", set(), {"North Hedge", "The Long Hedge", "Long Meadow", "Weir Pool"}),  # all in one cell of 0.1°
        ("A pool below the weir; northern hedges; Long Meadowsweet.", set(), set()),
    ],
)
def test_a_secret_place_is_never_named_and_no_place_with_a_sensitive_species(
    text: str, open_species: set[str], sensitive_species: set[str]
) -> None:
    made = decide_secrets(HEDGED)
    assert set(made.unsaid_with(PARENT).places_in(text)) == open_species
    assert set(made.unsaid_with(RARE).places_in(text)) == sensitive_species
