"""Measurements as typed, with the numbers in them."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Span:
    """One range. Either end may be open (None); `label` says whose it is: `male`, `female`, a stage, or nothing."""

    low: float | None
    high: float | None
    label: str = ""


@dataclass(frozen=True, slots=True)
class Measure:
    """A measurement. `typed` is what is shown; the numbers are only for tables, keys and drawings.

    `unit` is canonical: mm for lengths, g for masses, `count` for numbers of things. `low`/`high` are the overall range in
    that unit; `spans` keep sexes apart. `approximate` for "c." and "about"; `what` is what was measured ("body length").
    """

    typed: str
    low: float | None
    high: float | None
    unit: str = "mm"
    what: str = ""
    approximate: bool = False
    spans: tuple[Span, ...] = ()

    @property
    def middle(self) -> float | None:
        """Half way between the ends, or the one end that is known."""
        if self.low is None or self.high is None:
            return self.high if self.low is None else self.low
        return (self.low + self.high) / 2

    def span(self, label: str) -> Span:
        """The range of one sex, or the overall range where it is not given apart."""
        return next((s for s in self.spans if s.label == label), Span(self.low, self.high))
