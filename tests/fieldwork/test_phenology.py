"""Sightings summed up by stage."""

import datetime as dt
import math
import random
from bisect import bisect_left, bisect_right

import pytest

from guidebuild.fieldwork.circle import Unrolled, resample_means, unroll_year
from guidebuild.fieldwork.limits import Limit
from guidebuild.fieldwork.phenology import _limit_day, date_of, day_of_year, list_phenologies
from tests.fieldwork.invented import guide, tally


def test_a_winter_season_starts_in_autumn() -> None:
    days = {"2023-10-20": 1, "2023-11-05": 1, "2023-12-24": 2, "2024-01-09": 1, "2024-02-11": 1, "2024-11-02": 3, "2025-01-30": 1}
    found = list_phenologies(guide(sightings=(tally("birch-bug", "adult", "", days),)))[0]
    assert (found.rows, found.years) == (10, 3)
    assert (date_of(found.first), date_of(found.last)) == (dt.date(2023, 10, 20), dt.date(2023, 2, 11))
    assert date_of(found.middle.day) == dt.date(2023, 11, 30)
    assert not found.all_round
    assert found.caution == "Dates say when people looked as well as when it is about."


def test_the_true_limits_lie_outside_what_was_seen() -> None:
    days = {f"2025-06-{d:02}": 1 for d in (3, 5, 6, 9, 12, 13, 18, 21, 24, 28)}
    found = list_phenologies(guide(sightings=(tally("birch-bug", "nymph", "", days),)))[0]
    assert found.true_first is not None
    assert found.true_last is not None
    assert found.true_first.day < found.first
    assert found.true_last.day > found.last
    assert found.early.earliest <= found.early.day <= found.early.latest


def test_few_sightings_carry_a_warning() -> None:
    def caution(days: dict[str, int]) -> str:
        return list_phenologies(guide(sightings=(tally("birch-bug", "adult", "", days),)))[0].caution

    looked = "Dates say when people looked as well as when it is about."
    assert caution({"2025-06-03": 1}) == f"Only 1 sighting: too few to tell a season. {looked}"
    assert caution({"2025-06-03": 12}) == f"Only 1 year: an early or late spring may stand for all. {looked}"


def test_sightings_all_round_the_year_favour_no_season() -> None:
    days = {f"2025-{m:02}-{d}": 1 for m in range(1, 13) for d in (10, 20)}
    assert list_phenologies(guide(sightings=(tally("birch-bug", "adult", "", days),)))[0].all_round


def test_a_place_can_be_asked_for() -> None:
    made = guide(sightings=(tally("birch-bug", "adult", "meadow", {"2025-06-03": 1}), tally("birch-bug", "adult", "", {"2025-07-03": 1})))
    assert [p.rows for p in list_phenologies(made, "birch-bug")] == [2]
    assert [p.rows for p in list_phenologies(made, "birch-bug", "meadow")] == [1]
    assert list_phenologies(made, "parent-bug") == ()


def test_the_29th_of_february_counts_as_the_28th() -> None:
    assert day_of_year(dt.date(2024, 2, 29)) == day_of_year(dt.date(2024, 2, 28)) == 58
    assert day_of_year(dt.date(2024, 12, 31)) == day_of_year(dt.date(2023, 12, 31)) == 364


def test_ten_sightings_in_three_years_are_enough_to_tell_a_season() -> None:
    def caution(days: dict[str, int]) -> str:
        return list_phenologies(guide(sightings=(tally("birch-bug", "adult", "", days),)))[0].caution

    assert caution({"2023-06-03": 4, "2024-06-03": 4, "2025-06-03": 2}).startswith("Dates say")
    assert caution({"2023-06-03": 4, "2024-06-03": 3, "2025-06-03": 2}).startswith("Only 9 sightings")
    assert caution({"2024-06-03": 8, "2025-06-03": 2}).startswith("Only 2 years")


def test_limits_as_wide_as_half_a_year_are_not_told() -> None:
    days = {f"2025-{month:02}-0{month % 9 + 1}": 1 for month in range(3, 12)}
    found = list_phenologies(guide(sightings=(tally("birch-bug", "adult", "", days),)))[0]
    assert found.true_first is None
    assert found.true_last is None


def test_accounts_and_their_stages_are_told_in_order() -> None:
    made = guide(sightings=tuple(tally(a, s, "", {"2025-06-03": 1}) for a, s in (("b", "nymph"), ("a", "nymph"), ("b", "adult"))))
    assert [(p.account, p.stage) for p in list_phenologies(made)] == [("a", "nymph"), ("b", "adult"), ("b", "nymph")]


def test_a_limit_is_told_while_its_interval_is_no_wider_than_half_a_year() -> None:
    line = unroll_year({100: 1, 110: 1})
    assert _limit_day(line, None) is None
    told = _limit_day(line, Limit(20.0, 12.0, 12.0 + 365 / 2))
    assert told is not None
    assert (told.day, told.earliest, told.latest) == (120, 112, 112 + 183)  # rounded half up
    assert _limit_day(line, Limit(-20.0, -12.0, -12.0 - 365 / 2)) is not None
    assert _limit_day(line, Limit(20.0, 12.0, 12.0 + 183)) is None


@pytest.mark.parametrize("share", [0.1, 0.5, 0.8])
@pytest.mark.parametrize("counts", [(1, 1, 1, 1, 1, 1, 1), (3, 1, 1, 2, 1), (1, 1)])
def test_an_interval_is_that_of_samples_drawn_anew(share: float, counts: tuple[int, ...]) -> None:
    """Against drawing whole samples, as the percentile bootstrap is defined (Efron 1979, from memory)."""
    line = Unrolled(0, tuple(range(0, 20 * len(counts), 20)), counts)
    points = [offset for offset, count in zip(line.offsets, counts, strict=True) for _ in range(count)]
    draw = random.Random(5)

    def quantile(sample: list[int]) -> float:
        ranked, height = sorted(sample), (len(sample) - 1) * share
        low = math.floor(height)
        return ranked[low] + (height - low) * (ranked[min(low + 1, len(ranked) - 1)] - ranked[low])

    drawn = sorted(quantile(draw.choices(points, k=len(points))) for _ in range(4000))
    rounds = 4000
    for level in (0.2, 0.6, 0.9):
        low, high = resample_means(line, share, rounds=rounds, level=level)
        # Where the ends lie among the samples drawn anew: within three in a hundred of where they should.
        for end, wanted in ((low, (1 - level) / 2), (high, (1 + level) / 2)):
            below, upto = bisect_left(drawn, end - 1e-9) / rounds, bisect_right(drawn, end + 1e-9) / rounds
            assert below - 0.03 <= wanted <= upto + 0.03
