"""What may be said of a secret place."""

from __future__ import annotations

from dataclasses import replace

from pyproj import Geod

from guidebuild.fieldwork.decisions import decide_secrets
from guidebuild.fieldwork.public_records import Locality
from guidebuild.fieldwork.secrecy import pick_stricter
from guidebuild.guide.accounts import Account
from guidebuild.guide.records import OPEN, Place, Sensitivity
from tests.fieldwork.invented import PARENT, PLACES, RARE, guide


def shown(place: Place, account: Account = PARENT) -> Locality:
    """Where an account is found, as it may be told."""
    return decide_secrets(guide(places={**PLACES, place.id: place})).locality(account, place.id)


def test_an_open_place_is_shown_as_it_is() -> None:
    found = shown(PLACES["north-hedge"])
    assert (found.name, found.latitude, found.longitude, found.uncertainty) == ("North Hedge", "51.10340", "-1.31210", 100)
    assert (found.generalised, found.withheld, found.place) == ("", "", "north-hedge")


def test_an_open_place_is_told_as_exactly_as_it_was_typed() -> None:
    hedge = PLACES["north-hedge"]
    assert hedge.position is not None
    told = {typed: shown(replace(hedge, position=replace(hedge.position, precision=typed))) for typed in ("0.1", "0.001", "0.016667")}
    assert [found.latitude for found in told.values()] == ["51.1", "51.103", "51.10340"]
    assert [found.precision for found in told.values()] == list(told)


def test_how_far_off_an_open_place_may_be_is_told_in_whole_metres_where_it_is_known() -> None:
    hedge = PLACES["north-hedge"]
    assert hedge.position is not None
    told = {metres: shown(replace(hedge, position=replace(hedge.position, uncertainty=metres))) for metres in (None, 0, 12.2, 30.0)}
    assert {metres: found.uncertainty for metres, found in told.items()} == {None: None, 0: None, 12.2: 13, 30.0: 30}
    nowhere = shown(replace(hedge, position=None))
    assert nowhere == Locality("North Hedge", place="north-hedge")


def test_a_secret_place_is_rounded_and_called_by_its_area() -> None:
    found = shown(PLACES["weir-pool"])
    assert (found.name, found.latitude, found.longitude, found.precision) == ("Upper Larkfold", "51.13", "-1.28", "0.01")
    assert found.uncertainty == 1470  # Chapman & Wieczorek (2020): 0.01° at 30°, which holds for 30 to 60°
    assert found.generalised == "Coordinates rounded to 0.01 degree; place given by the name of the wider area."
    assert found.withheld == "The place's name and exact position are withheld because the place is sensitive (nesting)."
    assert found.place == ""


def test_a_sensitive_species_hides_an_open_place() -> None:
    found = shown(PLACES["north-hedge"], RARE)
    assert (found.name, found.latitude, found.longitude) == ("Larkfold Vale", "51.1", "-1.3")
    assert found.withheld == (
        "The place's name and exact position are withheld because the species is sensitive (collecting); to be reviewed on 2028-01-01."
    )


def test_the_strictest_category_counts() -> None:
    assert shown(PLACES["weir-pool"], RARE).precision == "0.1"
    assert pick_stricter(Sensitivity(3), OPEN, Sensitivity(1), Sensitivity(2)).category == 1
    assert pick_stricter(OPEN, OPEN) == OPEN


def test_the_first_category_gives_no_coordinates_and_is_never_blank() -> None:
    place = replace(PLACES["weir-pool"], sensitivity=Sensitivity(1), area="")
    found = shown(place)
    assert (found.name, found.latitude, found.uncertainty) == ("Larkfold Vale", "", None)
    assert found.generalised == "Place given by the name of the wider area only."
    assert found.withheld == "The place's name and exact position are withheld because the place is sensitive."


def test_a_place_larger_than_its_circle_is_rounded_more() -> None:
    wide = replace(PLACES["weir-pool"], position=replace(PLACES["weir-pool"].position, uncertainty=2_000))  # type: ignore[type-var]
    assert (shown(wide).precision, shown(wide).uncertainty) == ("0.1", 14_697)
    vast = replace(wide, position=replace(wide.position, uncertainty=20_000))  # type: ignore[type-var]
    assert (shown(vast).latitude, shown(vast).uncertainty) == ("", None)


def test_a_place_is_rounded_more_as_soon_as_its_circle_does_not_hold_it() -> None:
    _, _, diagonal = Geod(ellps="WGS84").inv(-1.285, 51.125, -1.275, 51.135)  # of its square of 0.01°, by PROJ
    most = 1470 - diagonal / 2
    pool = PLACES["weir-pool"]
    assert pool.position is not None
    told = [shown(replace(pool, position=replace(pool.position, uncertainty=most + more))).precision for more in (-5, 5)]
    assert told == ["0.01", "0.1"]


def test_a_sensitive_species_at_a_place_that_is_not_listed_is_generalised() -> None:
    found = decide_secrets(guide()).locality(RARE, "")
    assert found.name == "Larkfold Vale"
    assert found.generalised == "Place given by the name of the wider area only."
    assert decide_secrets(guide()).locality(PARENT, "").generalised == ""


def test_zero_is_written_without_a_sign() -> None:
    place = PLACES["weir-pool"]
    assert place.position is not None
    found = shown(replace(place, position=replace(place.position, longitude=-0.002)))
    assert found.longitude == "0.00"


def test_a_species_may_be_tied_to_open_places_only() -> None:
    assert decide_secrets(guide()).may_tie(PARENT, "north-hedge")
    assert not decide_secrets(guide()).may_tie(PARENT, "weir-pool")
    assert not decide_secrets(guide()).may_tie(RARE, "north-hedge")
