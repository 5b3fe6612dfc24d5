"""What is out, and why."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.fieldwork.out import Chance, Out, out_on
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import Stated
from tests.fieldwork.invented import BIRCH, guide, tally

JUNE_20 = dt.date(2026, 6, 20)
SEEN = (
    tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),
    tally("birch-bug", "adult", "meadow", {"2023-09-01": 1}),
    tally("birch-bug", "adult", "", {"2025-01-05": 1}),
)


def told(found: tuple[Out, ...]) -> list[tuple[str, str, list[str]]]:
    return [(o.account, o.chance.words, [r.text for r in o.reasons]) for o in found]


def test_at_a_place_the_best_known_comes_first() -> None:
    assert told(out_on(guide(sightings=SEEN), JUNE_20, "north-hedge")) == [
        (
            "parent-bug",
            "likely",
            [
                "in season: nymph",
                "most seen now: adult",
                "seen here around this date in 2 years, last in 2025",
                "its host plant is here: Silver Birch",
            ],
        ),
        ("birch-bug", "worth a look", ["in season: adult", "its host plant is here: Silver Birch"]),
    ]  # fmt: skip


def test_a_sighting_at_another_time_makes_a_place_known() -> None:
    found = out_on(guide(sightings=SEEN), JUNE_20, "meadow")
    assert told(found)[0] == ("birch-bug", "possible", ["in season: adult", "seen here at another time"])


def test_in_the_region_seasons_decide() -> None:
    found = out_on(guide(sightings=SEEN), JUNE_20)
    assert [(o.account, o.chance, o.stages) for o in found] == [
        ("parent-bug", Chance.LIKELY, ("nymph", "adult")),
        ("birch-bug", Chance.POSSIBLE, ("adult",)),
        ("rare-bug", Chance.POSSIBLE, ("adult",)),
    ]


def test_out_of_season_is_an_outside_chance_where_it_was_seen() -> None:
    found = [o for o in out_on(guide(sightings=SEEN), dt.date(2026, 1, 3)) if o.account == "birch-bug"]
    assert told(tuple(found)) == [
        ("birch-bug", "outside chance", ["not in its stated season here", "seen around this date in one year (2025)"])
    ]


def test_a_winter_season_is_out_in_january_and_not_in_june() -> None:
    january = {o.account for o in out_on(guide(), dt.date(2026, 1, 15))}
    assert january == {"parent-bug"}


def test_a_sensitive_species_is_never_tied_to_a_place() -> None:
    made = guide(sightings=(tally("rare-bug", "adult", "meadow", {"2024-06-18": 1, "2025-06-18": 1}),))
    told = make_published(made)
    assert "rare-bug" not in {o.account for o in out_on(told, JUNE_20, "meadow")}
    assert "rare-bug" in {o.account for o in out_on(made, JUNE_20, "meadow")}
    assert "weir-pool" not in told.places
    assert list(told.accounts_at("weir-pool")) == []


def test_where_the_account_says_it_is_absent_it_is_not_out() -> None:
    assert "rare-bug" not in {o.account for o in out_on(guide(), JUNE_20, "north-hedge")}


def test_every_chance_says_what_it_means() -> None:
    meanings = {chance.meaning(at_place=here) for chance in Chance for here in (True, False)}
    assert len(meanings) == 8


def test_each_tie_to_a_place_is_enough_for_a_look_and_is_told() -> None:
    def there(**more: object) -> list[tuple[str, str, list[str]]]:
        loose = replace(BIRCH, habitat=(), host_plants=Stated((), said=True))
        return [found for found in told(out_on(guide(replace(loose, **more)), JUNE_20, "north-hedge")) if found[0] == "birch-bug"]

    assert there() == [("birch-bug", "outside chance", ["in season: adult"])]
    assert there(habitat=BIRCH.habitat) == [("birch-bug", "worth a look", ["in season: adult", "its habitat is here: woodland edge"])]
    assert there(host_plants=BIRCH.host_plants) == [
        ("birch-bug", "worth a look", ["in season: adult", "its host plant is here: Silver Birch"])
    ]
    assert there(habitat=BIRCH.habitat, places=("north-hedge",)) == [
        ("birch-bug", "possible", ["in season: adult", "known from this place"])
    ]
