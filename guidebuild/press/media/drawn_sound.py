"""What is known of a sound that was drawn. It has a module of its own, so that pages do not depend on what draws."""

from __future__ import annotations

from dataclasses import dataclass
from math import floor, log10

WIDTH, HEIGHT = 720, 180
_STEPS = (1, 1.5, 2, 2.5, 3, 4, 5)
_COUNTS = (4, 5, 3)


@dataclass(frozen=True, slots=True)
class DrawnSound:
    """How a sound is drawn: its `kind` ("sonogram", "waveform", "" for not at all), its length, where its axes end, and its band in hertz.

    `seconds` is 0 where its length is not known, `top` (in kHz) 0 where there is no axis of pitch.
    """

    kind: str = ""
    seconds: float = 0.0
    end: float = 0.0
    top: float = 0.0
    low: float = 0.0
    high: float = 0.0


def find_end(seconds: float) -> float:
    """Where the axis of time ends: at three to five even steps of plain figures, as near behind the sound's end as there are some."""
    least = max(seconds, 0.001) * 0.9999
    scale = 10.0 ** floor(log10(least) - 1)
    ends = (count * step * scale * ten for count in _COUNTS for step in _STEPS for ten in (1, 10))
    return round(min(end for end in ends if end >= least), 9)


def list_steps(end: float) -> tuple[float, ...]:
    """The figures along an axis from nothing to its end, evenly."""
    count = next((count for count in _COUNTS if _is_short(end / count)), 4)
    return tuple(end * n / count for n in range(count + 1))


def _is_short(step: float) -> bool:
    """Whether a step is written with two figures, as 0.25 is and a third of 0.4 is not."""
    return abs(step - float(f"{step:.2g}")) < 1e-9
