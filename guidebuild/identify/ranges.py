"""Many measured ranges at once: which taxa start before, end before, or lie beyond a figure."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from itertools import accumulate
from operator import or_

from guidebuild.identify.readings import ROUNDING

Bounds = tuple[float, float]


class RangeSets:
    """Bit sets of taxa by the ends of their ranges, each answer found by bisection."""

    __slots__ = ("_heads_by_high", "_heads_by_low", "everyone", "highs", "lows")

    def __init__(self, bounds: Sequence[Bounds | None]) -> None:
        known = [(b, 1 << place) for place, b in enumerate(bounds) if b is not None]
        by_low = sorted((b[0], bit) for b, bit in known)
        by_high = sorted((b[1], bit) for b, bit in known)
        self.lows = [low for low, _ in by_low]
        self.highs = [high for high, _ in by_high]
        self._heads_by_low = list(accumulate((bit for _, bit in by_low), or_, initial=0))
        self._heads_by_high = list(accumulate((bit for _, bit in by_high), or_, initial=0))
        self.everyone = self._heads_by_low[-1]

    def apart_from(self, bounds: Bounds, margin: float) -> int:
        """Taxa whose range leaves a gap to this one, of at least `margin`."""
        low, high = bounds
        ended = min(bisect_right(self.highs, low - margin + ROUNDING), bisect_left(self.highs, low))
        begun = max(bisect_left(self.lows, high + margin - ROUNDING), bisect_right(self.lows, high))
        return self._heads_by_high[ended] | self.everyone & ~self._heads_by_low[begun]

    def under(self, cut: float, margin: float) -> int:
        """Taxa of which some may be measured as less than `cut`, misreading by up to half the margin."""
        edge = cut + margin / 2 - (ROUNDING if margin else 0)
        return self._heads_by_low[bisect_left(self.lows, edge)]

    def reaching(self, cut: float, margin: float) -> int:
        """Taxa of which some may be measured as `cut` or more, misreading by up to half the margin."""
        edge = cut - margin / 2 + ROUNDING
        ended = bisect_right(self.highs, edge) if margin else bisect_left(self.highs, cut)
        return self.everyone & ~self._heads_by_high[ended]

    def gaps(self, margin: float) -> list[Bounds]:
        """Every end of a range with the next start at least `margin` (and more than nothing) above it, ascending."""
        gaps = []
        for low in sorted(set(self.lows)):
            ended = min(bisect_right(self.highs, low - margin + ROUNDING), bisect_left(self.highs, low))
            if ended:
                gaps.append((self.highs[ended - 1], low))
        return gaps
