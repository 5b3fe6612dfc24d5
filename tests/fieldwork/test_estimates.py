"""Estimated limits and intervals at their edges, and the light of a walk. All dates are invented."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace

import pytest

from guidebuild.fieldwork.circle import measure_uniformity, resample_means, unroll_year
from guidebuild.fieldwork.daylight import daylight, light_of_walk
from guidebuild.fieldwork.limits import first_date, last_date
from guidebuild.fieldwork.season_words import first_day, last_day
from guidebuild.fieldwork.secrecy import public_position, step_metres
from guidebuild.guide.records import Position
from tests.as_published import with_walk
from tests.fieldwork.invented import WALK, guide


def test_three_looks_are_the_fewest_that_give_a_limit() -> None:
    assert last_date([100.0, 110.0]) is None
    assert last_date([100.0, 104.0, 110.0]) is None  # at 95 % the interval of three has no far end
    found = last_date([100.0, 104.0, 110.0], alpha=0.5)
    assert found is not None
    assert 110 < found.near < found.far
    assert found.estimate > 110
    assert last_date([100.0, 110.0, 110.0], alpha=0.5) is None  # a tie at the end
    assert last_date([98.0, 100.0, 104.0, 110.0]) is not None


# Jammalamadaka & SenGupta (2001), after Wilkie (1983): the series is for fewer than 50 points; the first term alone is exp(-z).
def test_the_chance_of_many_points_needs_no_series() -> None:
    assert measure_uniformity(50, 0.2) == pytest.approx(math.exp(-2))
    assert measure_uniformity(49, 0.2) != pytest.approx(math.exp(-49 * 0.04), rel=1e-5)
    assert measure_uniformity(10, 0.0) == 1.0
    assert measure_uniformity(10, 1.0) == pytest.approx(0.0, abs=1e-3)


def test_only_the_outermost_sightings_count() -> None:
    many = [float(day) for day in (60, 61, 62, 90, 94, 97, 101, 103, 106, 108, 109, 111, 112)]
    assert last_date(many) == last_date(many[-10:]) != last_date(many[-9:])
    assert last_date(many, most=5) == last_date(many[-5:])
    assert first_date(many, most=5) == first_date(many[:5])


def test_limits_move_with_the_dates_and_grow_with_their_spread() -> None:
    days = [100.0, 104.0, 109.0, 117.0, 118.0]
    plain, later, wider = last_date(days), last_date([d + 30 for d in days]), last_date([d * 3 for d in days])
    assert plain is not None
    assert later is not None
    assert wider is not None
    assert (later.estimate, later.near, later.far) == pytest.approx((plain.estimate + 30, plain.near + 30, plain.far + 30))
    assert (wider.estimate, wider.near, wider.far) == pytest.approx((plain.estimate * 3, plain.near * 3, plain.far * 3))
    surer = last_date(days, alpha=0.5)
    assert surer is not None
    assert plain.near < surer.near < surer.far < plain.far


def test_an_interval_of_few_samples_reaches_from_the_least_to_the_greatest() -> None:
    line = unroll_year(dict.fromkeys(range(100, 200, 7), 1))
    for rounds in (2, 3, 20, 40):
        low, high = resample_means(line, 0.5, rounds=rounds)
        wide_low, wide_high = resample_means(line, 0.5, rounds=rounds, level=1.0)
        assert (low, high) == (wide_low, wide_high)
        assert low < high or rounds < 20
    narrow = resample_means(line, 0.5, rounds=400, level=0.5)
    assert resample_means(line, 0.5, rounds=400)[0] < narrow[0] < narrow[1] < resample_means(line, 0.5, rounds=400)[1]


# Chapman & Wieczorek (2020), table of uncertainty by precision: 0.01° at 30° is 1,470 m, which holds for 30 to 60°.
def test_a_rounded_position_is_as_uncertain_as_the_largest_cell_of_its_band_whatever_it_was() -> None:
    for own in (None, 5, 50, 800):
        found = public_position(Position(51.1278, -1.2846, own), 3)
        assert found == Position(51.13, -1.28, 1470)
    assert step_metres(51.13, 0.01) < 1470
    assert public_position(Position(51.1278, -1.2846, 50), 0) == Position(51.1278, -1.2846, 50)


def test_the_light_of_a_walk_is_that_of_its_first_known_place_else_of_the_middle_of_the_region() -> None:
    made, walk = with_walk(guide(), WALK)
    hedge = daylight(51.1034, -1.3121, WALK.date, "Europe/London")
    assert light_of_walk(made, walk) == hedge
    middle = daylight(51.1, -1.35, WALK.date, "Europe/London")
    assert middle != hedge
    unplaced, walk = with_walk(guide(places={}), WALK)
    assert light_of_walk(unplaced, walk) == middle
    nowhere, walk = with_walk(guide(places={}, settings=replace(guide().settings, region_box=None)), WALK)
    assert light_of_walk(nowhere, walk) is None


@pytest.mark.parametrize(
    ("dekad", "first", "last"),
    [(0, "01-01", "01-10"), (4, "02-11", "02-20"), (5, "02-21", "02-28"), (34, "12-11", "12-20"), (35, "12-21", "12-31")],
)
def test_a_dekad_has_a_first_and_a_last_day(dekad: int, first: str, last: str) -> None:
    assert (f"{first_day(dekad):%m-%d}", f"{last_day(dekad):%m-%d}") == (first, last)
    assert first_day(dekad, 2027).year == last_day(dekad, 2027).year == 2027


def test_february_ends_on_the_29th_of_a_leap_year() -> None:
    assert last_day(5, 2028) == dt.date(2028, 2, 29)
