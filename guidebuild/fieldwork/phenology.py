"""When a stage was really seen: first, last and middle dates on the circle of the year, each with how sure it is.

Sightings say when people looked as much as when an animal is about. The first date seen gets earlier the more people look
(Taylor 2019, PeerJ 7: 7720), so the 5, 50 and 95 % dates and an estimate of the true limits stand beside it.
"""

from __future__ import annotations

import datetime as dt
import math
from collections import Counter
from dataclasses import dataclass
from itertools import groupby

from guidebuild.fieldwork.circle import YEAR, Unrolled, find_quantile, mean_direction, measure_uniformity, resample_means, unroll_year
from guidebuild.fieldwork.limits import Limit, first_date, last_date
from guidebuild.guide.facts import AnyGuide
from guidebuild.guide.sightings import SeenDays

FEW_ROWS, FEW_YEARS = 10, 3
SPREAD = 0.05  # a Rayleigh chance above this: nothing says that one time of year is favoured
_FEBRUARY_28 = 58


@dataclass(frozen=True, slots=True)
class SeenDay:
    """A day of the year 0–364 (0 is 1 January, 29 February counts as the 28th) with the interval that holds it by 95 %."""

    day: int
    earliest: int
    latest: int


@dataclass(frozen=True, slots=True)
class Phenology:
    """Sightings of a stage through the year. `early`, `middle`, `late` are the 5, 50 and 95 % dates.

    `true_first` and `true_last` are None where they cannot be estimated. `all_round` where the sightings favour no time of
    year: first and last then mean little. `caution` is never empty.
    """

    account: str
    stage: str
    rows: int
    years: int
    first: int
    last: int
    early: SeenDay
    middle: SeenDay
    late: SeenDay
    true_first: SeenDay | None
    true_last: SeenDay | None
    all_round: bool
    caution: str


def day_of_year(day: dt.date) -> int:
    """0–364 by month and day, so that 1 June is the same point in every year."""
    month, number = day.month, day.day
    return _FEBRUARY_28 if (month, number) == (2, 29) else dt.date(2023, month, number).timetuple().tm_yday - 1


def date_of(day: int) -> dt.date:
    """The date in a year of 365 days (2023) of a day of the year 0–364."""
    return dt.date(2023, 1, 1) + dt.timedelta(days=day % YEAR)


def list_phenologies(guide: AnyGuide, account: str = "", place: str = "") -> tuple[Phenology, ...]:
    """One for each stage seen on a known day, of one account or all; `place` narrows to one place."""
    wanted = sorted(
        (t for t in guide.sightings if t.days and account in ("", t.account) and place in ("", t.place)),
        key=lambda t: (t.account, t.stage),
    )
    return tuple(_phenology(key, tuple(tallies)) for key, tallies in groupby(wanted, key=lambda t: (t.account, t.stage)))


def _phenology(key: tuple[str, str], tallies: tuple[SeenDays, ...]) -> Phenology:
    seen = [(dt.date.fromordinal(day), rows) for tally in tallies for day, rows in zip(tally.days, tally.counts, strict=True)]
    days: Counter[int] = Counter()
    for date, rows in seen:
        days[day_of_year(date)] += rows
    line = unroll_year(days)
    # Dates, not rows: ten people on one walk are one look.
    offsets = [float((day_of_year(date) - line.start) % YEAR) for date in {date for date, _ in seen}]
    years = len({date.year for date, _ in seen})
    return Phenology(
        *key,
        rows=line.total,
        years=years,
        first=line.day(line.offsets[0]),
        last=line.day(line.offsets[-1]),
        early=_seen_day(line, 0.05),
        middle=_seen_day(line, 0.5),
        late=_seen_day(line, 0.95),
        true_first=_limit_day(line, first_date(offsets)),
        true_last=_limit_day(line, last_date(offsets)),
        all_round=_all_round(days),
        caution=_caution(line.total, years),
    )


def _seen_day(line: Unrolled, share: float) -> SeenDay:
    earliest, latest = resample_means(line, share)
    return SeenDay(line.day(find_quantile(line, share)), line.day(earliest), line.day(latest))


def _limit_day(line: Unrolled, limit: Limit | None) -> SeenDay | None:
    """None too where the interval is wider than half a year: it would say nothing."""
    if limit is None or abs(limit.far - limit.near) > YEAR / 2:
        return None
    low, high = sorted((limit.near, limit.far))
    return SeenDay(line.day(limit.estimate), line.day(low), line.day(high))


def _all_round(days: Counter[int]) -> bool:
    """Days, not rows: one well attended walk is no season."""
    _, length = mean_direction(math.tau * day / YEAR for day in days)
    return len(days) >= FEW_ROWS and measure_uniformity(len(days), length) > SPREAD


def _caution(rows: int, years: int) -> str:
    looked = "Dates say when people looked as well as when it is about."
    if rows < FEW_ROWS:
        return f"Only {rows} {'sighting' if rows == 1 else 'sightings'}: too few to tell a season. {looked}"
    if years < FEW_YEARS:
        return f"Only {years} {'year' if years == 1 else 'years'}: an early or late spring may stand for all. {looked}"
    return looked
