"""Measurements as typed, with the numbers in them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from decimal import Decimal

from guidebuild.guide.text.inline import Unshown

# An inch is 25.4 mm exactly (NIST SP 811, App. B.8), a pound 453.59237 g exactly.
LENGTHS: Mapping[str, float] = {
    "µm": 0.001,
    "mm": 1.0,
    "cm": 10.0,
    "dm": 100.0,
    "m": 1000.0,
    "km": 1_000_000.0,
    "in": 25.4,
    "ft": 304.8,
}
"""Millimetres in a unit of length."""
MASSES: Mapping[str, float] = {"mg": 0.001, "g": 1.0, "kg": 1000.0, "t": 1_000_000.0, "oz": 28.349523125, "lb": 453.59237}
"""Grams in a unit of mass."""
WORTH: Mapping[str, float] = {**LENGTHS, **MASSES, "count": 1.0}


def kind_of_unit(unit: str) -> str:
    """`length`, `mass` or `count`, whatever a unit measures; empty for one that is not known."""
    return "length" if unit in LENGTHS else "mass" if unit in MASSES else "count" if unit in {"", "count"} else ""


@dataclass(frozen=True, slots=True)
class Span:
    """One range. Either end may be open (None); `label` says whose it is: `male`, `female`, a stage, or nothing."""

    low: float | None
    high: float | None
    label: str = ""

    def times(self, factor: float) -> Span:
        """The span in a unit that is so many times smaller."""
        return Span(_times(self.low, factor), _times(self.high, factor), self.label)


@dataclass(frozen=True, slots=True)
class Measure:
    """A measurement. `typed` is what is shown; the numbers are only for tables, keys and drawings.

    `unit` is canonical as it is read: mm for lengths, g for masses, `count` for numbers of things; `in_unit` gives others.
    `low`/`high` are the overall range in that unit; `spans` keep sexes apart. Of `5–8 × 3–4 mm` they are the first side,
    and `sides` holds the others. `approximate` for "c." and "about"; `what` is what was measured ("body length").
    """

    typed: str
    low: float | None
    high: float | None
    unit: Unshown = "mm"
    what: str = ""
    approximate: bool = False
    spans: tuple[Span, ...] = ()
    sides: tuple[Span, ...] = ()

    @property
    def middle(self) -> float | None:
        """Half way between the ends, or the one end that is known."""
        if self.low is None or self.high is None:
            return self.high if self.low is None else self.low
        return (self.low + self.high) / 2

    def span(self, label: str) -> Span:
        """The range of one sex, or the overall range where it is not given apart."""
        return next((s for s in self.spans if s.label == label), Span(self.low, self.high))

    def in_unit(self, unit: str) -> Measure:
        """The same measure with its numbers in another unit of the same kind: 360 mm in `cm` is 36.

        Raises `KeyError` for a unit that is not known.
        """
        if unit == self.unit:
            return self
        factor = WORTH[self.unit] / WORTH[unit]
        return replace(
            self,
            unit=unit,
            low=_times(self.low, factor),
            high=_times(self.high, factor),
            spans=tuple(span.times(factor) for span in self.spans),
            sides=tuple(span.times(factor) for span in self.sides),
        )


def write_number(number: float) -> str:
    """A number as people write it, to six significant digits and never with an exponent: `1000000`, not `1e+06`."""
    return f"{Decimal(f'{number:.6g}'):f}"


def _times(number: float | None, factor: float) -> float | None:
    # Nine digits are more than anyone measures; rounding keeps 1.2 cm at 12.0 mm.
    return None if number is None else float(f"{number * factor:.9g}")
