"""The most informing questions of sets of taxa, found by weighing all questions of all sets at once.

A key of a large table asks most of its questions of a handful of taxa, and each time of all characters: one after another, that takes
longer than all else. So what each taxon weighs along each lead of each question stands in one table, whose rows are added up.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from guidebuild.identify.columns import places_in
from guidebuild.identify.splits import RARE, Split

_PARTS = round(1 / RARE)
"""Where some state is rare, weights are whole numbers of such parts: they add up to the same on any machine."""
_AT_ONCE = 500_000
"""Sets of taxa are weighed together as long as they have no more figures than so many."""

_Sums = NDArray[np.integer]
"""By set of taxa, lead and question."""


class WeighedQuestions:
    """The questions of a table, of taxa that weigh so much each."""

    def __init__(self, splits: Sequence[Split], weights: Sequence[int]) -> None:
        """Make the table: a row for each taxon, of what it weighs along the leads of the splits."""
        self._splits = splits
        plain = all(split.usual is split.masks for split in splits)
        self._weights = np.array(weights, dtype=np.int64) * (1 if plain else _PARTS)
        whole = int(self._weights.sum())
        self._bits = np.array([n * math.log2(n) if n else 0.0 for n in range(whole + 1)])
        self._costs = np.array([split.cost for split in splits])
        self._may = self._tabulate([split.masks for split in splits], np.min_scalar_type(whole))
        self._do = self._may
        if not plain:
            usual = self._tabulate([split.usual for split in splits], self._may.dtype)
            self._do = usual + (self._may - usual) // _PARTS

    def most_informing(self, several: Sequence[int]) -> dict[int, Split | None]:
        """For each of several sets of taxa the split with most bits for its cost, the first of equals; None where none divides them."""
        if not self._splits:
            return dict.fromkeys(several)
        by_size: dict[int, list[int]] = {}
        for taxa in several:
            by_size.setdefault(taxa.bit_count(), []).append(taxa)
        found: dict[int, Split | None] = {}
        for size, alike in by_size.items():
            together = max(1, _AT_ONCE // (self._may[0].size * size))
            for start in range(0, len(alike), together):
                some = alike[start : start + together]
                found.update(zip(some, self._weigh([places_in(taxa) for taxa in some]), strict=True))
        return found

    def _weigh(self, places: Sequence[Sequence[int]]) -> Iterator[Split | None]:
        """Of sets of as many taxa each.

        Taxa that go along several leads are met along each of them less often, and lengthen the key: the bits left are averaged over
        the leads as often as each is taken, and the gain is lessened by how much is repeated.
        """
        rows = np.array(places)
        whole = self._weights[rows].sum(axis=1)[:, None]
        may: _Sums = self._may[rows].sum(axis=1, dtype=self._may.dtype)
        along: _Sums = may if self._do is self._may else self._do[rows].sum(axis=1, dtype=self._do.dtype)
        spread = whole / along.sum(axis=1)
        gain = (self._bits.take(whole) - self._bits.take(along).sum(axis=1) * spread) * np.minimum(1.0, spread) / self._costs
        gain[may.max(axis=1) == whole] = -np.inf
        for one, best in zip(gain, gain.argmax(axis=1), strict=True):
            yield self._splits[best] if one[best] > -np.inf else None

    def _tabulate(self, leads: Sequence[Sequence[int]], kind: np.dtype[np.integer]) -> _Sums:
        """By taxon, lead and split: the taxon's weight where it takes the lead."""
        taxa, most = len(self._weights), max((len(masks) for masks in leads), default=0)
        table = np.zeros((taxa, most, len(leads)), dtype=kind)
        for place, masks in enumerate(leads):
            for lead, mask in enumerate(masks):
                held = np.frombuffer(mask.to_bytes(taxa // 8 + 1, "little"), dtype=np.uint8)
                table[:, lead, place] = np.unpackbits(held, count=taxa, bitorder="little")
        return table * self._weights.astype(kind)[:, None, None]
