"""Dekads of days and runs of dekads, on a circle where the year's end meets its start."""

from __future__ import annotations

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from guidebuild.guide.seasons import DEKADS, Season, dekad_of

YEAR = [dt.date(2024, 1, 1) + dt.timedelta(days=n) for n in range(366)]


# Czech Meteorological Dictionary, entry 585: days 1–10, 11–20 and 21 to the month's end; numbers computed from it, counted from 0.
@pytest.mark.parametrize(
    ("day", "dekad"),
    [
        ("01-01", 0),
        ("01-10", 0),
        ("01-11", 1),
        ("01-20", 1),
        ("01-21", 2),
        ("01-31", 2),
        ("02-01", 3),
        ("02-29", 5),
        ("07-20", 19),
        ("12-31", 35),
    ],
)
def test_a_month_has_three_dekads_the_last_to_its_end(day: str, dekad: int) -> None:
    assert dekad_of(dt.date.fromisoformat(f"2024-{day}")) == dekad


def test_a_year_has_thirty_six_dekads_in_order() -> None:
    found = [dekad_of(day) for day in YEAR]
    assert found == sorted(found)
    # The same entry: 8 to 11 days; in a leap year 28 of 10 days, 7 of 11 and one of 9 (computed).
    assert sorted(found.count(d) for d in range(DEKADS)) == [9, *[10] * 28, *[11] * 7]


@given(st.sets(st.integers(0, DEKADS - 1)), st.integers(0, DEKADS - 1))
def test_a_year_from_another_dekad_has_the_same_runs_in_its_own_order(dekads: set[int], first: int) -> None:
    season = Season("", frozenset(dekads))
    if len(dekads) < DEKADS:
        assert set(season.runs(first)) == set(season.runs())
    starts = [(start - first) % DEKADS for start, _ in season.runs(first)]
    assert starts == sorted(starts)


@given(st.sets(st.integers(0, DEKADS - 1)))
def test_runs_cover_just_the_season_and_never_touch(dekads: set[int]) -> None:
    runs = Season("", frozenset(dekads)).runs()
    covered = [(first + step) % DEKADS for first, last in runs for step in range((last - first) % DEKADS + 1)]
    assert sorted(covered) == sorted(dekads)
    if len(dekads) < DEKADS:
        assert all((last + 1) % DEKADS not in dekads and (first - 1) % DEKADS not in dekads for first, last in runs)


def test_a_winter_season_is_one_run_over_new_year() -> None:
    winter = Season("", frozenset({33, 34, 35, 0, 1}))
    assert winter.runs() == ((33, 1),)
    assert winter.months == {1, 12}
    assert winter.on(dt.date(2026, 12, 31))
    assert winter.on(dt.date(2026, 1, 20))
    assert not winter.on(dt.date(2026, 1, 21))
    assert Season("", frozenset(range(DEKADS))).runs() == ((0, 35),)
