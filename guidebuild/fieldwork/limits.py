"""The true first or last date behind a handful of sightings.

Optimal linear estimation after Roberts & Solow (2003), "When did the dodo become extinct?", Nature 426: 245, used for
flowering times by Pearse et al. (2017), Nature Ecology & Evolution 1: 1876–1882. It rests on the extremes of many looks
being spread like a Weibull distribution, whatever the spread of the looks themselves.

Three sightings never give a limit, and are not meant to: the far end of a 95 % interval is (−ln 0.025 / k)^−ν in their own spread, and
with k = 3 that is below 1 whatever ν is, so that nothing bounds how far the true date may lie. Four is the fewest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

ESTIMATOR = "Roberts & Solow 2003"


@dataclass(frozen=True, slots=True)
class Limit:
    """An estimated limit and its confidence interval, in the units of the sightings."""

    estimate: float
    near: float  # the end of the interval next to the sightings
    far: float


def last_date(sightings: Sequence[float], *, most: int = 10, alpha: float = 0.05) -> Limit | None:
    """The true last date from the latest `most` sightings; None where it cannot be told (fewer than four, or ties at the end)."""
    latest = sorted(sightings, reverse=True)[:most]
    return _estimate(latest, alpha)


def first_date(sightings: Sequence[float], *, most: int = 10, alpha: float = 0.05) -> Limit | None:
    """The true first date from the earliest `most` sightings; None as for `last_date`."""
    return _estimate(sorted(sightings)[:most], alpha)


def _estimate(extremes: list[float], alpha: float) -> Limit | None:
    """Estimate from the extremes, the outermost first."""
    count = len(extremes)
    if count < 3 or extremes[0] in (extremes[1], extremes[-1]):
        return None
    outermost, innermost = extremes[0], extremes[-1]
    spread = outermost - innermost
    shape = sum(math.log(spread / (outermost - value)) for value in extremes[1:-1]) / (count - 1)
    weights = _weights(count, shape)
    if weights is None or shape <= 0:
        return None
    near, far = ((-math.log(tail) / count) ** -shape for tail in (1 - alpha / 2, alpha / 2))
    if far <= 1:  # the interval has no far end
        return None
    estimate = math.fsum(weight * value for weight, value in zip(weights, extremes, strict=True))
    return Limit(estimate, outermost + spread / (near - 1), outermost + spread / (far - 1))


def _weights(count: int, shape: float) -> list[float] | None:
    """Λ⁻¹e scaled to sum 1, where Λ_ij = Γ(2ν+i) Γ(ν+j) / (Γ(ν+i) Γ(j)) for j ≤ i."""
    rows = []
    for i in range(1, count + 1):
        pairs = [(max(i, j), min(i, j)) for j in range(1, count + 1)]
        rows.append([math.exp(math.lgamma(2 * shape + a) + math.lgamma(shape + b) - math.lgamma(shape + a) - math.lgamma(b))
                     for a, b in pairs] + [1.0])  # fmt: skip
    solution = _solve(rows)
    return [value / math.fsum(solution) for value in solution] if solution else None


def _solve(rows: list[list[float]]) -> list[float] | None:
    """Gaussian elimination with the largest pivot; None for a singular system."""
    size = len(rows)
    for column in range(size):
        pivot = max(range(column, size), key=lambda r: abs(rows[r][column]))
        if abs(rows[pivot][column]) < 1e-300:
            return None
        rows[column], rows[pivot] = rows[pivot], rows[column]
        for below in range(column + 1, size):
            factor = rows[below][column] / rows[column][column]
            rows[below] = [a - factor * b for a, b in zip(rows[below], rows[column], strict=True)]
    solution = [0.0] * size
    for row in reversed(range(size)):
        known = math.fsum(rows[row][c] * solution[c] for c in range(row + 1, size))
        solution[row] = (rows[row][size] - known) / rows[row][row]
    return solution
