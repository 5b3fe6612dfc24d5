"""Sightings by dekad: how often something was seen around a date, and where."""

from __future__ import annotations

import datetime as dt

from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.seen import seen_index
from guidebuild.guide.seasons import DEKADS, dekad_of
from tests.fieldwork.invented import guide, tally

SEEN = (
    tally("parent-bug", "adult", "north-hedge", {"2024-12-28": 2, "2025-01-04": 1, "2025-01-05": 4}),
    tally("parent-bug", "nymph", "meadow", {"2025-07-09": 1}),
    tally("parent-bug", "adult", "", {"2023-06-20": 5}),
    tally("parent-bug", "egg", "weir-pool", {}, loose=1),
    tally("birch-bug", "adult", "meadow", {"2025-07-09": 1}),
)


def test_the_turn_of_the_year_parts_no_neighbours() -> None:
    index = seen_index(guide(sightings=SEEN))
    keys = index.keys("parent-bug", "adult", "north-hedge")
    assert index.years(keys, 0) == {2024: 2, 2025: 5}
    assert index.years(keys, 35) == {2024: 2, 2025: 5}
    assert index.years(keys, 1) == {2025: 5}
    assert index.years(keys, 2) == {}
    assert index.years(keys, 0, reach=0) == {2025: 5}


def test_it_can_be_asked_by_stage_and_place() -> None:
    index = seen_index(guide(sightings=SEEN))
    assert index.keys("parent-bug", "nymph") == [("parent-bug", "nymph", "meadow")]
    assert index.keys("parent-bug", place="") == [("parent-bug", "adult", "")]
    assert len(index.keys("parent-bug")) == 3
    assert index.keys("rare-bug") == []
    # The eggs were seen on no known day: their place counts all the same, a sighting of no known place does not.
    assert index.places("parent-bug") == {"north-hedge", "meadow", "weir-pool"}
    assert index.places("rare-bug") == set()
    assert index.stages == {("parent-bug", "adult"), ("parent-bug", "nymph"), ("parent-bug", "egg"), ("birch-bug", "adult")}


@given(
    st.dictionaries(st.dates(dt.date(2019, 1, 1), dt.date(2026, 12, 31)), st.integers(1, 5), max_size=12),
    st.integers(0, 35),
    st.integers(0, 3),
)
@settings(max_examples=50, deadline=None)
def test_years_are_those_of_the_sightings_within_reach(days: dict[dt.date, int], dekad: int, reach: int) -> None:
    made = guide(sightings=(tally("parent-bug", "adult", "meadow", {day.isoformat(): rows for day, rows in days.items()}),))
    index = seen_index(made)
    wanted: dict[int, int] = {}
    for day, rows in days.items():
        apart = (dekad_of(day) - dekad) % DEKADS
        if min(apart, DEKADS - apart) <= reach:
            wanted[day.year] = wanted.get(day.year, 0) + rows
    assert index.years(index.keys("parent-bug"), dekad, reach=reach) == wanted
