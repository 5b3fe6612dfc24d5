"""Days of the year as points on a circle, so that December and January are neighbours."""

from __future__ import annotations

import math
import random
from bisect import bisect_left
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import accumulate

YEAR = 365


def mean_direction(angles: Iterable[float]) -> tuple[float, float]:
    """Mean direction in radians (0 to 2π) and mean length R (0 spread all round, 1 all at one point).

    Jammalamadaka & SenGupta (2001), Topics in Circular Statistics.
    """
    held = list(angles)
    sine, cosine = (math.fsum(map(part, held)) / len(held) for part in (math.sin, math.cos))
    return math.atan2(sine, cosine) % math.tau, math.hypot(sine, cosine)


def measure_uniformity(count: int, length: float) -> float:
    """The chance that points spread evenly would give a mean length as long as this (Rayleigh's test).

    Series of Wilkie (1983) for fewer than 50 points, as in the same book.
    """
    z = count * length**2
    series = 1.0
    if count < 50:
        series += (2 * z - z**2) / (4 * count) - (24 * z - 132 * z**2 + 76 * z**3 - 9 * z**4) / (288 * count**2)
    return min(1.0, max(0.0, math.exp(-z) * series))


@dataclass(frozen=True, slots=True)
class Unrolled:
    """A circle of days cut in its widest gap. `offsets` count days from `start` (a day of the year, 0–364)."""

    start: int
    offsets: tuple[int, ...]
    counts: tuple[int, ...]

    def day(self, offset: float) -> int:
        """The day of the year, 0–364, of an offset."""
        return (self.start + math.floor(offset + 0.5)) % YEAR

    @property
    def total(self) -> int:
        """How many points."""
        return sum(self.counts)


def unroll_year(days: Mapping[int, int]) -> Unrolled:
    """Cut the year in the widest gap between days (0–364 → how often). Of equal gaps, the first in the year."""
    held = sorted(days)
    gaps = [((held[(n + 1) % len(held)] - day) % YEAR, -n) for n, day in enumerate(held)]
    after = (-max(gaps)[1] + 1) % len(held)
    start = held[after]
    turned = held[after:] + held[:after]
    return Unrolled(start, tuple((day - start) % YEAR for day in turned), tuple(days[day] for day in turned))


def find_quantile(line: Unrolled, share: float) -> float:
    """The offset below which that share of the points lies; linear between points (Hyndman & Fan 1996, type 7)."""
    sums = list(accumulate(line.counts))
    height = (sums[-1] - 1) * share
    low = math.floor(height)
    first, second = (_ranked(line.offsets, sums, min(rank, sums[-1] - 1)) for rank in (low, low + 1))
    return first + (height - low) * (second - first)


def _ranked(offsets: Sequence[int], sums: Sequence[int], rank: int) -> int:
    """The point of a rank from 0."""
    return offsets[bisect_left(sums, rank + 1)]


def resample_means(line: Unrolled, share: float, *, rounds: int = 1000, level: float = 0.95, seed: int = 1) -> tuple[float, float]:
    """An interval of the quantile from samples drawn anew out of the points (percentile bootstrap).

    Ranked points of such a sample are the points at ranked uniform numbers, and those follow beta distributions: so two
    numbers stand for a whole sample, and a million sightings cost no more than ten. The seed is fixed: same guide, same bytes.
    """
    draw = random.Random(seed)  # noqa: S311  (statistics, no secret)
    sums = list(accumulate(line.counts))
    total = sums[-1]
    height = (total - 1) * share
    low = math.floor(height)
    means = []
    for _ in range(rounds):
        one = draw.betavariate(low + 1, total - low)
        two = one + (1 - one) * draw.betavariate(1, total - low - 1) if low + 1 < total else one
        first, second = (_ranked(line.offsets, sums, min(int(u * total), total - 1)) for u in (one, two))
        means.append(first + (height - low) * (second - first))
    means.sort()
    tail = (1 - level) / 2
    return means[math.floor(tail * (rounds - 1))], means[math.ceil((1 - tail) * (rounds - 1))]
