"""What may be said of a secret place."""

from __future__ import annotations

from dataclasses import replace

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


def test_a_secret_place_is_rounded_and_called_by_its_area() -> None:
    found = shown(PLACES["weir-pool"])
    assert (found.name, found.latitude, found.longitude, found.precision) == ("Upper Larkfold", "51.13", "-1.28", "0.01")
    assert found.uncertainty == 1365  # a cell of 1112.6 m by 700.1 m has a diagonal of 1314.6 m; 50 m were held
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


def test_zero_is_written_without_a_sign() -> None:
    place = PLACES["weir-pool"]
    assert place.position is not None
    found = shown(replace(place, position=replace(place.position, longitude=-0.002)))
    assert found.longitude == "0.00"


def test_a_species_may_be_tied_to_open_places_only() -> None:
    assert decide_secrets(guide()).may_tie(PARENT, "north-hedge")
    assert not decide_secrets(guide()).may_tie(PARENT, "weir-pool")
    assert not decide_secrets(guide()).may_tie(RARE, "north-hedge")
