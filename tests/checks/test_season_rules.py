"""Rules that hold the seasons and the sightings against each other: exact wording."""

from __future__ import annotations

from dataclasses import replace

from guidebuild.checks import seasons, sightings
from guidebuild.checks.rule import Rule
from guidebuild.guide.accounts import StageSeason
from guidebuild.guide.guide import Guide
from tests.fieldwork.invented import BIRCH, PARENT, RARE, account, guide, season, tally


def told(rule: Rule, of: Guide) -> list[tuple[str, str, str]]:
    found = list(rule.run(of))
    assert all(f.code == rule.code and f.level is rule.level for f in found)
    return [(str(f.at), f.message, f.mend) for f in found]


def test_a_sighting_outside_the_season_suggests_new_words() -> None:
    seen = (tally("birch-bug", "adult", "", {"2024-05-01": 30, "2025-03-23": 1}),)
    assert told(sightings.OUT_OF_SEASON, guide(sightings=seen)) == [(
        "accounts/birch-bug.md:11",
        "1 sighting of 31 of the adult lies outside “April – October”: first on 23 March 2025 (sightings/all.csv row 3).",
        "If right, write “adult: April–October; sometimes late March”; else correct the rows.",
    )]  # fmt: skip


def test_many_sightings_in_two_years_widen_the_season_for_good() -> None:
    seen = (tally("birch-bug", "adult", "", {"2024-05-01": 3, "2024-03-02": 1, "2025-03-23": 2}),)
    assert told(sightings.OUT_OF_SEASON, guide(sightings=seen)) == [(
        "accounts/birch-bug.md:11",
        "3 sightings of 6 of the adult lie outside “April – October”: first on 2 March 2024 (sightings/all.csv row 2).",
        "If right, write “adult: March–October”; else correct the rows.",
    )]  # fmt: skip


def test_the_season_of_a_place_counts_at_that_place() -> None:
    early = replace(BIRCH, seasons=(*BIRCH.seasons, StageSeason("adult", season("March–October"), "meadow")))
    assert told(sightings.OUT_OF_SEASON, guide(early, sightings=(tally("birch-bug", "adult", "meadow", {"2025-03-23": 1}),))) == []
    assert len(told(sightings.OUT_OF_SEASON, guide(early, sightings=(tally("birch-bug", "adult", "", {"2025-03-23": 1}),)))) == 1


def test_a_month_that_no_sighting_supports_is_told() -> None:
    seen = (tally("birch-bug", "adult", "", {f"2025-{m:02}-15": 4 for m in (4, 5, 6, 7)}),)
    assert told(sightings.UNSUPPORTED, guide(BIRCH, sightings=seen)) == [
        (
            "accounts/birch-bug.md:10",
            "No sighting supports the season of the nymph, “July – August”.",
            "Look then, or narrow the season.",
        ),
        (
            "accounts/birch-bug.md:11",
            "No sighting supports August–October for the adult (16 sightings at other times).",
            "Look then, or write “adult: April–July”.",
        ),
    ]


def test_few_sightings_say_nothing_of_a_season() -> None:
    assert told(sightings.UNSUPPORTED, guide(BIRCH, sightings=(tally("birch-bug", "adult", "", {"2025-04-15": 4}),))) == []


def test_a_denied_stage_that_was_seen_is_told() -> None:
    seen = (tally("rare-bug", "egg", "", {"2025-06-03": 2}),)
    assert told(sightings.DENIED_STAGE, guide(sightings=seen)) == [(
        "accounts/rare-bug.md:11",
        "The egg is said not to be found, yet there are 2 sightings of it, first on 3 June 2025 (sightings/all.csv row 2).",
        "If right, write “egg: early June”; else correct the rows.",
    )]  # fmt: skip
    assert told(sightings.OUT_OF_SEASON, guide(sightings=seen)) == []


def test_a_denied_place_with_a_sighting_is_told() -> None:
    seen = (tally("rare-bug", "adult", "north-hedge", {"2025-06-03": 1}),)
    assert told(sightings.DENIED_PLACE, guide(sightings=seen)) == [(
        "accounts/rare-bug.md:1",
        "It is said to be absent from North Hedge, yet there is 1 sighting there, first on 3 June 2025 (sightings/all.csv row 2).",
        "Take the place out of “absent from:”, or correct the rows.",
    )]  # fmt: skip


def test_a_new_place_is_offered() -> None:
    seen = (tally("parent-bug", "adult", "meadow", {"2025-06-03": 1}), tally("birch-bug", "adult", "meadow", {"2025-06-03": 1}))
    assert told(sightings.NEW_PLACE, guide(sightings=seen)) == [(
        "accounts/parent-bug.md:1",
        "It was seen at places that the account does not list: Long Meadow.",
        "Add to “places:”: meadow.",
    )]  # fmt: skip


def test_searches_in_vain_are_told() -> None:
    seen = (tally("parent-bug", "", "north-hedge", {}, absences=12),)
    assert told(sightings.LOOKED_IN_VAIN, guide(sightings=seen)) == [(
        "accounts/parent-bug.md:1",
        "12 searches at North Hedge found nothing, yet the account lists it.",
        "Move the place to “absent from:”, or keep it if the searches were at the wrong time.",
    )]  # fmt: skip


def test_a_place_season_outside_that_of_the_region_is_told() -> None:
    early = replace(BIRCH, seasons=(*BIRCH.seasons, StageSeason("adult", season("March–May"), "meadow", BIRCH.at)))
    assert told(seasons.PLACE_SEASON_OUTSIDE, guide(early)) == [(
        "accounts/birch-bug.md:1",
        "The adult is said to be at Long Meadow in March, outside the region's season.",
        "Widen the season of the region to “March–October”, or mend that of the place.",
    )]  # fmt: skip


def test_a_season_given_twice_is_told() -> None:
    twice = replace(BIRCH, seasons=(*BIRCH.seasons, BIRCH.seasons[0]))
    assert told(seasons.SEASON_TWICE, guide(twice)) == [(
        "accounts/birch-bug.md:10",
        "The season of the nymph is given twice.",
        "Put both ranges into one line, such as “April–May and August”.",
    )]  # fmt: skip


def test_a_range_the_wrong_way_round_is_told() -> None:
    wrong = account("wrong-bug", "Inventus inversus", "Wrong Bug", {"adult": "September to July", "nymph": "all year except August"})
    assert told(seasons.SEASON_NEARLY_ALL_YEAR, guide(wrong)) == [(
        "accounts/wrong-bug.md:10",
        "“September to July” is all the year except August.",
        "If so, write “all year except August”; else swap the ends of the range.",
    )]  # fmt: skip


def test_the_invented_guide_is_silent() -> None:
    quiet = guide(PARENT, BIRCH, RARE)
    assert [f for rule in (*seasons.RULES, *sightings.RULES) for f in rule.run(quiet)] == []
