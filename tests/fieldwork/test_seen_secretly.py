"""Where something that is kept secret was seen, though places.yaml does not list it. All is invented."""

from __future__ import annotations

from dataclasses import replace

import pytest

from guidebuild.fieldwork.leaks import secrets_of
from guidebuild.fieldwork.seen_secretly import SecretSpot, find_secret_spots
from guidebuild.guide.accounts import Account
from guidebuild.guide.guide import Guide
from guidebuild.guide.records import Sensitivity
from guidebuild.guide.sightings import SeenSpot
from tests.fieldwork.invented import BIRCH, PARENT, RARE, guide, tally

DAYS = {"2025-05-14": 1}
CORNER = SeenSpot("Reed Corner", 51.2, -1.4)


def seen(*spots: SeenSpot, account: str = "rare-bug", place: str = "") -> Guide:
    return guide(sightings=(replace(tally(account, "adult", place, DAYS), spots=spots),))


def found(made: Guide, said: str = "") -> list[str]:
    """What is secret, as `locality` or `latitude, longitude`."""
    return [_in_words(spot) for spot in find_secret_spots(made, said)]


def _in_words(spot: SecretSpot) -> str:
    return spot.locality if spot.position is None else f"{spot.position.latitude}, {spot.position.longitude}"


def test_locality_and_position_of_a_sensitive_species_are_each_a_secret_of_their_own() -> None:
    locality, position = find_secret_spots(seen(CORNER), "")
    assert (locality.locality, locality.position, locality.species) == ("Reed Corner", None, "Rare Bug")
    assert locality.secret == position.secret == RARE.sensitivity
    assert position.position is not None
    assert (position.locality, position.position.latitude, position.position.longitude) == ("", 51.2, -1.4)
    assert [(s.place, s.name, s.names) for s in secrets_of(seen(CORNER)).places if not s.place] == [
        ("", "Reed Corner of the Rare Bug in sightings", ("Reed Corner",)),
        ("", "a spot of the Rare Bug in sightings", ()),
    ]


def test_a_spot_may_have_a_name_alone_or_figures_alone() -> None:
    assert found(seen(SeenSpot("Reed Corner"))) == ["Reed Corner"]
    assert found(seen(SeenSpot("", 51.2, -1.4))) == ["51.2, -1.4"]
    assert found(seen(SeenSpot("Reed Corner", 51.2, None), SeenSpot("Far End", None, -1.4))) == ["Reed Corner", "Far End"]


@pytest.mark.parametrize(
    ("account", "place", "is_secret"),
    [
        ("rare-bug", "", True),
        ("rare-bug", "weir-pool", True),
        ("rare-bug", "north-hedge", False),  # an open place: what is told there is decided by the place
        ("parent-bug", "", False),
        ("parent-bug", "weir-pool", True),
        ("parent-bug", "north-hedge", False),
        ("unheard-of", "", False),
    ],
)
def test_a_row_is_secret_by_its_species_or_its_place(account: str, place: str, *, is_secret: bool) -> None:
    assert bool(found(seen(CORNER, account=account, place=place))) is is_secret


def test_the_stricter_of_species_and_place_counts() -> None:
    (_, at_pool), (_, of_parent) = (find_secret_spots(seen(CORNER, account=a, place="weir-pool"), "") for a in ("rare-bug", "parent-bug"))
    assert (at_pool.secret.category, of_parent.secret.category) == (2, 3)


def test_a_species_that_is_not_published_is_as_secret() -> None:
    made = replace(seen(CORNER), accounts={"parent-bug": PARENT, "birch-bug": BIRCH}, unpublished=(RARE,))
    assert found(made) == ["Reed Corner", "51.2, -1.4"]


def test_what_is_written_twice_or_lies_within_ten_metres_is_one_and_the_first() -> None:
    twice = seen(CORNER, SeenSpot("reed corner", 51.20004, -1.40004), SeenSpot("REED CORNER", 51.2002, -1.4))
    assert found(twice) == ["Reed Corner", "51.2, -1.4", "51.2002, -1.4"]
    assert found(seen(SeenSpot("", 51.20001, -1.4), SeenSpot("", 51.20002, -1.4))) == ["51.20001, -1.4"]


def test_names_that_readers_know_anyway_are_no_secret() -> None:
    named = [SeenSpot(name) for name in ("North Hedge", "north hedge", "Upper Larkfold", "Larkfold Vale", "The Meadow", "Weir Pool")]
    assert found(seen(*named)) == ["Weir Pool"]
    assert found(seen(CORNER), said="A day at Reed Corner") == ["51.2, -1.4"]


def test_a_species_without_another_name_is_called_by_its_scientific_one() -> None:
    bare: Account = replace(RARE, vernacular="", sensitivity=Sensitivity(4))
    spots = list(find_secret_spots(replace(seen(CORNER), accounts={"rare-bug": bare}), ""))
    assert {spot.species for spot in spots} == {"Inventus rarus"}
