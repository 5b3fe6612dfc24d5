"""A walk worked out."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace

import pytest

from guidebuild.fieldwork.out import Chance
from guidebuild.fieldwork.published import make_published
from guidebuild.fieldwork.walks import FASTEST_PACE, cards_for, walk_pack
from guidebuild.guide.accounts import SimilarSpecies, Stated
from guidebuild.guide.characters import Character, CharacterKind, Ease
from guidebuild.guide.records import Stop, Walk
from guidebuild.reading.whole import read_guide
from tests.as_published import with_walk
from tests.fieldwork.invented import BIRCH, PARENT, RARE, WALK, guide, tally
from tests.guides.whole_guides import HERE

SEEN = (tally("parent-bug", "adult", "north-hedge", {"2024-06-18": 2, "2025-06-25": 1}),)


def clock(time: dt.datetime) -> str:
    return f"{time:%H:%M}"


def warnings(walk: Walk) -> list[str]:
    return [w.text for w in walk_pack(*with_walk(guide(), walk)).warnings]


def test_stops_follow_one_another_at_the_groups_pace() -> None:
    pack = walk_pack(*with_walk(guide(sightings=SEEN), WALK))
    assert [(p.stop.place, clock(p.arrive), clock(p.leave)) for p in pack.stops] == [
        ("north-hedge", "18:30", "19:00"),
        ("meadow", "19:09", "19:29"),  # 400 m at 2.5 km/h take 9.6 minutes
    ]
    assert (clock(pack.ends), pack.metres, pack.pace) == ("20:00", 400, 2.5)


def test_what_may_be_met_stands_at_its_stop_with_its_plants() -> None:
    pack = walk_pack(*with_walk(guide(sightings=SEEN), WALK))
    assert [(o.account, o.chance) for o in pack.stops[0].out] == [("parent-bug", Chance.LIKELY), ("birch-bug", Chance.WORTH_A_LOOK)]
    assert pack.stops[0].hosts == (("birch", ("parent-bug", "birch-bug")),)
    assert pack.stops[1].hosts == ()
    assert [(o.account, o.chance) for o in pack.met] == [("parent-bug", Chance.LIKELY), ("birch-bug", Chance.WORTH_A_LOOK)]


def test_look_alikes_that_are_out_too_are_named_once() -> None:
    both = replace(BIRCH, similar=Stated((SimilarSpecies("parent-bug"),), said=True))
    pack = walk_pack(*with_walk(guide(PARENT, both, RARE), WALK))
    assert [(a.account, a.similar.account, a.both_met) for a in pack.look_alikes] == [("parent-bug", "birch-bug", True)]


def test_sensitive_species_and_places_stay_out_of_a_pack() -> None:
    secret = replace(WALK, stops=(Stop("weir-pool", 10), Stop("meadow", 10)))
    made = guide(sightings=(tally("rare-bug", "adult", "meadow", {"2024-06-18": 1, "2025-06-18": 1}),))
    pack = walk_pack(*with_walk(made, secret))
    assert pack.stops[0].out == pack.stops[0].hosts == ()
    assert "rare-bug" not in {o.account for o in pack.met}


def test_light_and_dark() -> None:
    pack = walk_pack(*with_walk(guide(), WALK))
    assert pack.light is not None
    assert pack.light.sunset is not None
    assert clock(pack.light.sunset) == "21:23"
    assert warnings(WALK) == []
    assert "torches" not in [r.text for r in pack.also_bring]
    late = replace(WALK, start=dt.time(20, 30))
    assert warnings(late) == ["The walk ends after sunset (21:23)."]
    assert "torches" in [r.text for r in walk_pack(*with_walk(guide(), late)).also_bring]
    assert warnings(replace(WALK, start=dt.time(3, 30))) == ["The walk starts before sunrise (04:50)."]


def test_a_walk_that_cannot_be_done_in_its_time_is_told() -> None:
    assert warnings(replace(WALK, minutes=45)) == ["Stops and ways take 15 minutes longer than the walk."]
    fast = replace(WALK, minutes=52, stops=(Stop("north-hedge", 30), Stop("meadow", 20, 400)))
    assert warnings(fast) == ["The ways between the stops would need 12.0 km/h."]


def test_a_time_that_the_clocks_leave_out_is_told() -> None:
    skipped = replace(WALK, date=dt.date(2026, 3, 29), start=dt.time(1, 30))
    assert "There is no 01:30 on that day: the clocks go forward." in warnings(skipped)


def test_without_positions_sunset_is_not_known() -> None:
    unplaced = guide(places={}, settings=replace(guide().settings, region_box=None))
    assert [w.text for w in walk_pack(*with_walk(unplaced, WALK)).warnings] == [
        "Sunset is not known: give a stop's place its position, or guide.yaml its “region box”."
    ]


def test_a_lens_is_brought_where_look_alikes_need_one() -> None:
    told = replace(PARENT, similar=Stated((SimilarSpecies("birch-bug", ("punctures",)),), said=True))
    character = Character("punctures", "punctures", CharacterKind.STATES, ease=Ease.UNDER_A_LENS)
    pack = walk_pack(*with_walk(guide(told, BIRCH, characters={"punctures": character}), WALK))
    assert "hand lens" in [r.text for r in pack.also_bring]


def test_cards_fit_the_leaflet_best_chances_and_their_look_alikes_first() -> None:
    pack = walk_pack(*with_walk(guide(sightings=SEEN), WALK))
    assert cards_for(pack, 8) == ("parent-bug", "birch-bug")
    assert cards_for(pack, 1) == ("parent-bug",)


def test_a_walk_of_given_length_sets_the_pace_to_the_metre() -> None:
    quick = replace(WALK, minutes=60, stops=(Stop("north-hedge", 20, 0), Stop("meadow", 10, 2000)))
    pack = walk_pack(*with_walk(guide(), quick))
    assert pack.pace == 4  # two kilometres in the half hour that is left
    assert [clock(p.arrive) for p in pack.stops] == ["18:30", "19:20"]
    assert pack.stops[-1].leave == pack.ends


def test_pots_are_brought_where_look_alikes_are_told_in_the_hand_only() -> None:
    def brought(ease: Ease) -> list[str]:
        told = replace(PARENT, similar=Stated((SimilarSpecies("birch-bug", ("punctures",)),), said=True))
        character = Character("punctures", "punctures", CharacterKind.STATES, ease=ease)
        return [r.text for r in walk_pack(*with_walk(guide(told, BIRCH, characters={"punctures": character}), WALK)).also_bring]

    pots = "clear pots, to look closely and let go at the same spot"
    assert pots in brought(Ease.IN_THE_HAND)
    assert "hand lens" not in brought(Ease.IN_THE_HAND)
    assert pots not in brought(Ease.UNDER_A_LENS)
    assert {pots, "hand lens"}.isdisjoint(brought(Ease.CLOSE_UP))


def test_no_fungus_and_no_frog_is_put_into_a_pot() -> None:
    told = replace(PARENT, similar=Stated((SimilarSpecies("birch-bug", ("punctures",)),), said=True))
    character = Character("punctures", "punctures", CharacterKind.STATES, ease=Ease.IN_THE_HAND)
    group = replace(guide().stage_sets["true-bug"], pots=False)
    made = replace(guide(told, BIRCH, characters={"punctures": character}), stage_sets={"true-bug": group})
    assert not [r.text for r in walk_pack(*with_walk(made, WALK)).also_bring if "pots" in r.text]


def test_torches_are_brought_from_half_an_hour_before_sunset() -> None:
    for minutes, wanted in ((142, False), (144, True)):  # sunset at 21:23, and the walk begins at 18:30
        pack = walk_pack(*with_walk(guide(), replace(WALK, minutes=minutes)))
        assert ("torches" in [r.text for r in pack.also_bring]) is wanted


def test_a_walk_whose_stops_fill_its_time_goes_at_the_group_s_pace() -> None:
    full = replace(WALK, minutes=30, stops=(Stop("north-hedge", 20, 0), Stop("meadow", 10, 400)))
    pack = walk_pack(*with_walk(guide(), full))
    assert pack.pace == 2.5
    assert [w.text for w in pack.warnings] == ["Stops and ways take 10 minutes longer than the walk."]


# Tobler (1993): 6 exp(-3.5 |0 + 0.05|) km/h on the flat is 5.0367.
def test_a_group_is_asked_for_no_more_than_a_walker_s_pace() -> None:
    assert pytest.approx(6 * math.exp(-3.5 * 0.05), abs=5e-5) == FASTEST_PACE
    at_pace = replace(WALK, minutes=60, stops=(Stop("north-hedge", 20, 0), Stop("meadow", 10, 2510)))
    assert warnings(at_pace) == []
    assert warnings(replace(at_pace, stops=(Stop("north-hedge", 20, 0), Stop("meadow", 10, 2530)))) == [
        "The ways between the stops would need 5.1 km/h."
    ]


def test_an_outside_chance_brings_no_look_alikes() -> None:
    alike = replace(BIRCH, habitat=(), host_plants=Stated((), said=True), similar=Stated((SimilarSpecies("rare-bug"),), said=True))
    pack = walk_pack(*with_walk(guide(replace(PARENT, similar=Stated((), said=True)), alike, RARE), WALK))
    assert [(o.account, o.chance) for o in pack.stops[0].out if o.account == "birch-bug"] == [("birch-bug", Chance.OUTSIDE)]
    assert pack.look_alikes == ()


def test_a_minute_more_or_less_is_nothing_to_tell() -> None:
    def over(metres: int) -> list[str]:
        return warnings(replace(WALK, minutes=50, stops=(Stop("north-hedge", 30, 0), Stop("meadow", 20, metres))))

    assert over(40) == []  # a minute, at 2.5 km/h
    assert over(60) == ["Stops and ways take 1 minute longer than the walk."]


def test_nothing_is_looked_over_for_what_has_only_an_outside_chance() -> None:
    read = read_guide(HERE / "wood-fungi").guide
    assert read is not None
    fungi = make_published(read)
    (walk,) = fungi.walks.values()
    for plan in walk_pack(fungi, walk).stops:
        met = {out.account for out in plan.out if out.chance is not Chance.OUTSIDE}
        assert {guest for _, guests in plan.hosts for guest in guests} <= met
        assert bool(plan.hosts) == (plan.stop.place == "log-hollow")  # the others live with roots, which nobody looks over
