"""Information of a choice in bits (Shannon), for keys and for the published worked examples."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Hashable, Sequence


def entropy(weights: Sequence[float]) -> float:
    """Bits needed on average to tell which of several classes of these weights something is in."""
    total = sum(weights)
    return -sum(w / total * math.log2(w / total) for w in weights if w) if total else 0.0


def gain(values: Sequence[Hashable], classes: Sequence[Hashable]) -> float:
    """Bits that knowing the value of a character gives about the class (Quinlan 1986, Machine Learning 1:81–106)."""
    rest = 0.0
    for value, number in sorted(Counter(values).items(), key=lambda item: repr(item[0])):
        within = Counter(c for v, c in zip(values, classes, strict=True) if v == value)
        rest += number / len(values) * entropy(list(within.values()))
    return entropy(list(Counter(classes).values())) - rest


def gain_ratio(values: Sequence[Hashable], classes: Sequence[Hashable]) -> float:
    """Gain per bit of the answer itself (Quinlan 1986); 0 where the character has one value only."""
    answer = entropy(list(Counter(values).values()))
    return gain(values, classes) / answer if answer else 0.0


def least_path(taxa: int) -> int:
    """Least total of steps of any two-way key that ends in `taxa` places (minimal external path, Knuth TAOCP 3 §6.2.1)."""
    if taxa < 2:
        return 0
    whole = taxa.bit_length() - 1
    return taxa * (whole + 2) - (1 << (whole + 1))


def greatest_path(taxa: int) -> int:
    """Greatest total of steps: a key that runs out one taxon at each couplet."""
    return taxa * (taxa + 1) // 2 - 1 if taxa else 0
