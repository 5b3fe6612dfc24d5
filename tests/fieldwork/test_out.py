"""What is out, and why."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

from guidebuild.fieldwork.out import Chance, Out, list_tied, out_on, rank_out, rank_year, sought_stages
from guidebuild.fieldwork.published import make_published
from guidebuild.guide.accounts import HostUse, StageSeason, Stated
from guidebuild.guide.life_stages import EATEN, GROWN_ON
from guidebuild.guide.names import ScientificName
from guidebuild.guide.text.inline import Inline
from guidebuild.reading.whole import read_guide
from tests.fieldwork.invented import BIRCH, account, guide, season, tally
from tests.guides.whole_guides import HERE

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
                "seen here around this date in 2 of 2 years, last in 2025",
                "its host plant is here: Silver Birch",
            ],
        ),
        ("birch-bug", "worth a look", ["in season: adult", "its host plant is here: Silver Birch"]),
    ]  # fmt: skip


def test_years_are_counted_of_those_in_which_anything_was_noted() -> None:
    others = (*SEEN, tally("birch-bug", "adult", "north-hedge", {"2022-06-11": 1, "2023-06-21": 3, "2021-09-20": 1}))
    parent = next(out for out in out_on(guide(sightings=others), JUNE_20, "north-hedge") if out.account == "parent-bug")
    assert "seen here around this date in 2 of 4 years, last in 2025" in [reason.text for reason in parent.reasons]
    birch = next(out for out in out_on(guide(sightings=others), dt.date(2026, 9, 20), "north-hedge") if out.account == "birch-bug")
    assert "seen here around this date in one year (2021)" in [reason.text for reason in birch.reasons]
    fifth = next(out for out in out_on(guide(sightings=others), dt.date(2026, 7, 1), "north-hedge") if out.account == "birch-bug")
    assert "seen here around this date in one of 2 years (2023)" in [reason.text for reason in fifth.reasons]
    once = next(out for out in out_on(guide(sightings=others), dt.date(2026, 9, 20)) if out.account == "birch-bug")
    assert "seen around this date in 2 of 2 years, last in 2023" in [reason.text for reason in once.reasons]


def test_a_sighting_at_another_time_makes_a_place_known() -> None:
    found = out_on(guide(sightings=SEEN), JUNE_20, "meadow")
    assert told(found)[0] == ("birch-bug", "possible", ["in season: adult", "seen here at another time"])


def test_a_tree_alone_makes_no_fungus_that_grows_with_it_likely() -> None:
    """Its tree stands at many places where its wood is not; what eats a plant is where the plant is."""
    base = guide(sightings=())
    reasons = {}
    for food in (EATEN, GROWN_ON):
        for habitat in ((), base.places["north-hedge"].habitat):
            at_roots = Stated((HostUse("birch", Inline("roots")),), said=True)
            account = replace(base.accounts["birch-bug"], habitat=habitat, places=(), host_plants=at_roots)
            groups = {key: replace(group, food=food) for key, group in base.stage_sets.items()}
            asked = replace(base, stage_sets=groups, accounts={**base.accounts, "birch-bug": account})
            found = [o for o in out_on(asked, JUNE_20, "north-hedge") if o.account == "birch-bug"]
            reasons[food, bool(habitat)] = [(o.chance, o.reasons[-1].text) for o in found]
    assert reasons[EATEN, False] == [(Chance.WORTH_A_LOOK, "its host plant is here: Silver Birch")]
    assert reasons[GROWN_ON, False] == [(Chance.OUTSIDE, "in season: adult")]
    assert reasons[GROWN_ON, True] == [(Chance.WORTH_A_LOOK, "what it grows with is here: Silver Birch")]


def test_in_the_region_seasons_decide() -> None:
    found = out_on(guide(sightings=SEEN), JUNE_20)
    assert [(o.account, o.chance, o.stages) for o in found] == [
        ("parent-bug", Chance.LIKELY, ("nymph", "adult")),
        ("birch-bug", Chance.POSSIBLE, ("adult",)),
        ("rare-bug", Chance.POSSIBLE, ("adult",)),
    ]


def test_out_of_season_is_an_outside_chance_where_it_was_seen() -> None:
    found = [o for o in out_on(guide(sightings=SEEN), dt.date(2026, 1, 3)) if o.account == "birch-bug"]
    assert told(tuple(found)) == [("birch-bug", "outside chance", ["not in its stated season", "seen around this date in one year (2025)"])]


def test_what_is_out_only_at_some_places_names_them_and_is_no_less_likely_for_having_been_seen() -> None:
    local = replace(BIRCH, seasons=(*BIRCH.seasons, StageSeason("adult", season("January"), "meadow")))
    seen = [tally("birch-bug", "adult", "", {"2025-01-05": 1})]
    for sightings, more in ((), []), (seen, ["seen around this date in one year (2025)"]):
        found = out_on(guide(local, sightings=sightings), dt.date(2026, 1, 3))
        assert told(found) == [("birch-bug", "worth a look", ["in season only at Long Meadow", *more])]


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


def test_of_equal_chances_what_is_seen_most_then_in_most_years_then_most_often_comes_first() -> None:
    """Four bugs alike but for what is known of them; of those that are alike in that too, the names decide."""
    bug = account("b1", "Bus primus", "B1", {"adult": "June"})
    most = account("b0", "Bus zzz", "B0", {"adult": "June; most seen June"})
    others = [replace(bug, id=f"b{n}", name=ScientificName(f"Bus {name}", "Bus", name)) for n, name in ((2, "bbb"), (3, "ccc"), (4, "aaa"))]
    seen = (
        tally("b1", "adult", "", {"2025-06-20": 2}),
        tally("b2", "adult", "", {"2025-06-20": 5}),
        tally("b3", "adult", "", {"2025-06-21": 2}),
        tally("b4", "adult", "", {"2024-06-20": 1}),
    )
    made = guide(bug, *others, most, sightings=seen)
    assert [o.account for o in out_on(made, JUNE_20)] == ["b0", "b2", "b3", "b1", "b4"]
    more_years = (*seen, tally("b4", "adult", "", {"2023-06-20": 1, "2022-06-20": 1}))
    assert out_on(guide(bug, *others, most, sightings=more_years), JUNE_20)[0].account == "b4"  # the only one that is likely


def test_the_stages_sought_are_the_groups_else_all_of_it_else_those_with_a_season() -> None:
    bug = account("bug", "Bus primus", "Bug", {"nymph": "May", "adult": "June"})
    made, stages = guide(bug), guide(bug).stage_set(bug)
    assert sought_stages(made, bug) == ("nymph", "adult")
    for changes, wanted in (({"sought": ()}, ("egg", "nymph", "adult")), ({"sought": (), "stages": ()}, ("nymph", "adult"))):
        changed = replace(made, stage_sets={stages.id: replace(stages, **changes)})  # type: ignore[arg-type]
        assert sought_stages(changed, bug) == wanted


def test_where_nothing_is_tied_to_a_place_by_plants_the_words_speak_of_habitat() -> None:
    look = Chance.WORTH_A_LOOK
    assert look.meaning(at_place=True, by_plants=False) == "in season, and its habitat is here"
    assert look.meaning(at_place=True) == "in season, and its habitat or a host plant is here"
    assert look.meaning(at_place=False, by_plants=False) == "in season at some places only"
    assert Chance.LIKELY.meaning(at_place=True, by_plants=False) == Chance.LIKELY.meaning(at_place=True)


def test_a_fungus_grows_with_a_tree_by_its_roots_and_on_its_wood() -> None:
    fungi = read_guide(HERE / "wood-fungi").guide
    assert fungi
    october = dt.date(2027, 10, 9)

    def plants(ident: str, place: str) -> list[str]:
        (found,) = (out for out in out_on(fungi, october, place) if out.account == ident)
        return [reason.text for reason in found.reasons if "grows" in reason.text]

    assert plants("deathcap", "great-oaks") == ["what it grows with is here: Pedunculate Oak, Beech"]
    assert plants("funeral-bell", "log-hollow") == ["what it grows on is here: Scots Pine, Beech"]


def test_a_places_year_holds_the_first_of_each_third_of_a_month_with_the_same_reasons() -> None:
    full = 0
    for folder in (HERE.parent.parent / "sample_guide", *(path.parent for path in sorted(HERE.glob("*/guide.yaml")))):
        whole = read_guide(folder).guide
        assert whole is not None
        for place in whole.places.values():
            tied = list_tied(whole, place)
            year = rank_year(whole, place, 3)
            for dekad in range(36):
                likely = [out for out in rank_out(whole, tied, dekad, place.id) if out.stages and out.chance is not Chance.OUTSIDE]
                assert list(year[dekad]) == likely[:3], (folder.name, place.id, dekad)
                full += len(likely) > 3
    assert full > 100  # it was often a choice


def test_equals_of_a_places_year_stay_in_the_order_of_the_guide() -> None:
    there = (*BIRCH.seasons, StageSeason("adult", season("June"), "north-hedge"))
    for own in ("zig-bug", "birch-bug"):
        both = (replace(BIRCH, id=ident, seasons=there if ident == own else BIRCH.seasons) for ident in ("zig-bug", "birch-bug"))
        made = make_published(guide(*both))
        assert [out.account for out in rank_year(made, made.places["north-hedge"], 7)[16]] == ["zig-bug", "birch-bug"], own
