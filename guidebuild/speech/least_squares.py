"""Least squares with bounds, for a handful of unknowns: no numerical library is needed for five."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

_ROUNDS = 20_000
_SMALL = 1e-12


@dataclass(frozen=True, slots=True)
class Unknown:
    """One unknown: its bounds, and a first guess with the weight of that many squared units of evidence for it."""

    name: str
    low: float
    high: float
    guess: float
    weight: float = 0.0


def solve_least_squares(
    rows: Sequence[Sequence[float]],
    values: Sequence[float],
    unknowns: Sequence[Unknown],
    weights: Sequence[float] | None = None,
) -> list[float]:
    """The x within bounds that minimises Σ weight·(row·x − value)² + Σ unknown.weight·(x − guess)².

    Solved one unknown at a time on the normal equations (Gauss–Seidel, each step cut off at the bounds), which for a convex sum
    of squares in a box ends at the least. An unknown that no row speaks of stays at its guess.
    """
    size = len(unknowns)
    given = weights or [1.0] * len(rows)
    normal = [[sum(w * row[i] * row[j] for w, row in zip(given, rows, strict=True)) for j in range(size)] for i in range(size)]
    right = [sum(w * row[i] * value for w, row, value in zip(given, rows, values, strict=True)) for i in range(size)]
    for i, unknown in enumerate(unknowns):
        normal[i][i] += unknown.weight
        right[i] += unknown.weight * unknown.guess
    x = [min(max(unknown.guess, unknown.low), unknown.high) for unknown in unknowns]
    for _ in range(_ROUNDS):
        moved = 0.0
        for i, unknown in enumerate(unknowns):
            if normal[i][i] <= _SMALL:
                continue
            rest = right[i] - sum(normal[i][j] * x[j] for j in range(size) if j != i)
            step = min(max(rest / normal[i][i], unknown.low), unknown.high)
            moved = max(moved, abs(step - x[i]))
            x[i] = step
        if moved < _SMALL:
            break
    return x
