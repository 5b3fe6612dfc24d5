"""How long a run will take still, from what its parts usually take beside each other and what they have taken so far.

Nothing is said until something is known: not in the first seconds, and not while little of the first part is done.
"""

from __future__ import annotations

import time
from collections import Counter
from collections.abc import Callable, Sequence

from guidebuild.press.engine.jobs import Craft

_SECONDS_FIRST = 5.0
_SHARE_FIRST = 0.15
"""How long a run must have lasted, and how much of its first part must be done, before anything is said."""
_SOME = 0.5
"""Seconds below which a part that has ended tells nothing of the others."""
_FEW, _MINUTE = 10.0, 60.0


class TimeLeft:
    """Watches one run. What stands already is done without having been expected, and tells nothing of how fast work goes."""

    def __init__(self, clock: Callable[[], float] = time.monotonic) -> None:
        """Nothing is known yet."""
        self._clock = clock
        self._shares: tuple[float, ...] = ()
        self._part = -1
        self._begun = self._part_begun = clock()
        self._seconds = self._of_shares = 0.0
        self._waiting: Counter[Craft] = Counter()
        self._expected = self._done = 0.0

    def foresee(self, shares: Sequence[float]) -> None:
        """What the parts that come take, compared with each other."""
        self._shares, self._part = tuple(shares), -1

    def begin_part(self) -> None:
        """The next of these parts begins; the one before it has ended."""
        now = self._clock()
        if self._part < 0:
            self._begun = now
        elif now - self._part_begun >= _SOME:
            self._seconds += now - self._part_begun
            self._of_shares += self._share_now()
        self._part += 1
        self._part_begun = now
        self._waiting.clear()
        self._expected = self._done = 0.0

    def expect(self, craft: Craft, count: int) -> None:
        """So many more pieces of this craft are to be done in this part."""
        self._waiting[craft] += count
        self._expected += count * craft.cost

    def advance(self, craft: Craft, count: int) -> None:
        """So many more pieces of this craft are done."""
        done = min(count, self._waiting[craft])
        self._waiting[craft] -= done
        self._done += done * craft.cost

    def seconds(self) -> float | None:
        """About how many seconds the run takes still, or None where that cannot be known yet."""
        now = self._clock()
        if self._part < 0 or now - self._begun < _SECONDS_FIRST:
            return None
        spent = now - self._part_begun
        by_pieces = spent * (self._expected - self._done) / self._done if self._done else 0.0
        rate = self._seconds / self._of_shares if self._of_shares else 0.0
        if not rate:
            if self._done < self._expected * _SHARE_FIRST or not self._done or not self._share_now():
                return None
            rate = (spent + by_pieces) / self._share_now()
        here = max(by_pieces, rate * self._share_now() - spent)
        return here + rate * sum(self._shares[self._part + 1 :])

    def _share_now(self) -> float:
        return self._shares[self._part] if self._part < len(self._shares) else 0.0


def say_time_left(seconds: float | None) -> str:
    """`about 2 min left`; nothing where it is not known."""
    if seconds is None:
        return ""
    if seconds < _FEW:
        return "a few seconds left"
    if seconds < _MINUTE * 0.9:
        return f"about {round(seconds / _FEW) * round(_FEW)} s left"
    return f"about {round(seconds / _MINUTE)} min left"
