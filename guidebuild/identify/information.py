"""Information of a question in bits (Shannon), and the least that a key can ask."""

from __future__ import annotations

import math
from collections.abc import Iterable


def weighted_bits(weights: Iterable[float]) -> float:
    """Sum of w·log₂ w: what this falls by when a whole is divided into parts is the information of the answer, times the whole."""
    return sum(w * math.log2(w) for w in weights if w)


def least_path(taxa: int) -> int:
    """Least total of steps of any two-way key that ends in `taxa` places (minimal external path, Knuth TAOCP 3 §6.2.1)."""
    if not taxa:
        return 0
    whole = taxa.bit_length() - 1
    return taxa * (whole + 2) - (1 << (whole + 1))
