"""Dates on the circle of the year against published worked values and SciPy."""

from __future__ import annotations

import datetime as dt
import math
import random

import numpy as np
import pytest
import scipy.stats
from hypothesis import given, settings
from hypothesis import strategies as st

from guidebuild.fieldwork.circle import YEAR, find_quantile, mean_direction, measure_uniformity, resample_means, unroll_year
from guidebuild.fieldwork.limits import first_date, last_date
from guidebuild.guide.seasons import dekad_of

# Jammalamadaka & SenGupta (2001), as worked in the documentation of astropy.stats: circular mean and Rayleigh's test.
BOOK_ANGLES = (51, 67, 40, 109, 31, 358)
RAYLEIGH_ANGLES = (130, 90, 0, 145)
# Roberts & Solow (2003), Nature 426: 245: ten sightings of the dodo, the last in 1662; the paper's abstract gives 1690.
# First dates and intervals: the test file of Pearse et al. (2017), Nature Ecology & Evolution 1: 1876–1882, at 0.05 %.
DODO = (1662, 1638, 1631, 1628, 1628, 1611, 1607, 1602, 1601, 1598)


def radians(degrees: tuple[int, ...]) -> list[float]:
    return [math.radians(d) for d in degrees]


def test_circular_mean_of_the_book() -> None:
    direction, length = mean_direction(radians(BOOK_ANGLES))
    assert math.degrees(direction) == pytest.approx(48.62718088722989)
    assert 1 - length == pytest.approx(0.163563527484375)


@given(st.lists(st.integers(0, 364), min_size=2, max_size=40))
@settings(max_examples=60, deadline=None)
def test_circular_mean_agrees_with_scipy(days: list[int]) -> None:
    angles = [math.tau * day / YEAR for day in days]
    direction, length = mean_direction(angles)
    assert 1 - length == pytest.approx(scipy.stats.circvar(angles), abs=1e-9)
    if length > 1e-6:
        theirs = float(scipy.stats.circmean(angles))
        assert math.cos(direction - theirs) == pytest.approx(1)


def test_the_year_wraps() -> None:
    """Computed: the mean of the last day of the year and 2 January is 1 January, not the second of July."""
    direction, _ = mean_direction([math.tau * 364 / YEAR, math.tau * 1 / YEAR])
    assert round(direction / math.tau * YEAR) % YEAR == 0
    line = unroll_year({364: 1, 1: 1})
    assert line.day(find_quantile(line, 0.5)) == 0


def test_rayleigh_test_of_the_book() -> None:
    angles = radians(RAYLEIGH_ANGLES)
    _, length = mean_direction(angles)
    assert length == pytest.approx(0.5961970, abs=1e-7)
    assert measure_uniformity(len(angles), length) == pytest.approx(0.2563487733797317)


def test_rayleigh_test_agrees_with_chance() -> None:
    """Of samples spread evenly, one in twenty has a chance below 0.05."""
    draw = random.Random(4)
    below = 0
    for _ in range(2000):
        angles = [draw.random() * math.tau for _ in range(12)]
        below += measure_uniformity(12, mean_direction(angles)[1]) < 0.05
    assert 0.035 < below / 2000 < 0.065


def test_last_date_of_the_ten_sightings() -> None:
    limit = last_date(DODO)
    assert limit is not None
    assert round(limit.estimate) == 1690
    assert (limit.near, limit.far) == pytest.approx((1669, 1799), rel=0.0005)


def test_first_date_of_the_ten_sightings() -> None:
    limit = first_date(DODO)
    assert limit is not None
    assert (limit.estimate, limit.far, limit.near) == pytest.approx((1595, 1575, 1597), rel=0.0007)


def test_many_ties_at_the_end_give_no_limit() -> None:
    """The same test file: 1, 2, 3 and fifty times 4 has no interval."""
    assert last_date([1, 2, 3] + [4] * 50) is None
    assert last_date([5.0]) is None
    assert last_date([]) is None


@given(st.lists(st.integers(1, 365), min_size=3, max_size=3, unique=True))
@settings(max_examples=60, deadline=None)
def test_three_sightings_bound_nothing(days: list[int]) -> None:
    """Computed from the paper's own formula for the far end: (−ln 0.025 / 3) is above 1, so its power −ν is below 1 and has no end."""
    assert -math.log(0.025) / 3 > 1 > -math.log(0.025) / 4
    assert last_date(days) is first_date(days) is None
    assert last_date((100, 90, 70, 60)) is not None


@given(st.integers(0, 5000), st.lists(st.integers(1, 365), min_size=4, max_size=12, unique=True))
@settings(max_examples=60, deadline=None)
def test_first_and_last_are_mirror_images(shift: int, days: list[int]) -> None:
    mirrored = [-d for d in days]
    one, other = last_date(days), first_date(mirrored)
    assert (one is None) == (other is None)
    if one and other:
        assert one.estimate == pytest.approx(-other.estimate)
        assert one.estimate >= max(days)


QUANTILES = [([1, 2, 3, 4], 0.25, 1.75), ([15, 20, 35, 40, 50], 0.4, 29)]  # Hyndman & Fan (1996), type 7, as in numpy


@pytest.mark.parametrize(("days", "share", "expected"), QUANTILES)
def test_quantiles_are_linear_between_points(days: list[int], share: float, expected: float) -> None:
    line = unroll_year(dict.fromkeys(days, 1))
    assert line.start + find_quantile(line, share) == pytest.approx(expected)


@given(st.dictionaries(st.integers(100, 250), st.integers(1, 9), min_size=1, max_size=20), st.floats(0, 1))
@settings(max_examples=80, deadline=None)
def test_quantiles_agree_with_numpy(days: dict[int, int], share: float) -> None:
    line = unroll_year(days)
    flat = [day for day, rows in days.items() for _ in range(rows)]
    assert line.start + find_quantile(line, share) == pytest.approx(float(np.quantile(flat, share)))


@pytest.mark.parametrize("share", [0.05, 0.5, 0.95])
def test_bootstrap_interval_agrees_with_scipy(share: float) -> None:
    draw = random.Random(3)
    days: dict[int, int] = {}
    for _ in range(150):
        day = round(draw.gauss(170, 18))
        days[day] = days.get(day, 0) + 1
    line = unroll_year(days)
    flat = np.array([day for day, rows in days.items() for _ in range(rows)], dtype=float)
    resampled = scipy.stats.bootstrap(
        (flat,),
        lambda sample, axis: np.quantile(sample, share, axis=axis),
        n_resamples=4000,
        method="percentile",
        random_state=np.random.default_rng(5),
    )
    theirs = resampled.confidence_interval
    low, high = resample_means(line, share, rounds=4000)
    assert (line.start + low, line.start + high) == pytest.approx((theirs.low, theirs.high), abs=1.5)


def test_bootstrap_is_the_same_every_time() -> None:
    line = unroll_year({100: 3, 120: 5, 140: 2})
    assert resample_means(line, 0.5) == resample_means(line, 0.5)


# Czech Meteorological Dictionary, entry 585: days 1–10, 11–20 and 21 to the end; numbers computed from it, counted from 1.
DEKADS = {"01-10": 1, "01-11": 2, "01-31": 3, "02-28": 6, "02-29": 6, "07-20": 20, "12-31": 36}


@pytest.mark.parametrize(("day", "number"), DEKADS.items())
def test_dekads_of_days(day: str, number: int) -> None:
    assert dekad_of(dt.date.fromisoformat(f"2024-{day}")) + 1 == number


def test_a_common_year_has_dekads_of_eight_to_eleven_days() -> None:
    lengths: dict[int, int] = {}
    for n in range(365):
        dekad = dekad_of(dt.date(2023, 1, 1) + dt.timedelta(days=n))
        lengths[dekad] = lengths.get(dekad, 0) + 1
    assert sorted(lengths.values()) == [8] + [10] * 28 + [11] * 7
