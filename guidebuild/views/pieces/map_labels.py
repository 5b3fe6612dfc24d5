"""Where the names of spots stand on a map: beside their dots, and not on one another."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

_LETTER, _LINE = 6.5, 13.0
"""Units of a letter's width and of a line's height at the largest size that names are drawn in, which is that on paper."""
Box = tuple[float, float, float, float]
"""Left, top, right, bottom."""


@dataclass(frozen=True, slots=True)
class Label:
    """Where a name stands; `anchor` is the end of it that does: start, middle or end. It is about so many units `wide`."""

    x: float
    y: float
    anchor: str
    wide: float

    @property
    def left(self) -> float:
        """Where the name begins, in units from the left."""
        return round(self.x - self.wide * {"start": 0.0, "middle": 0.5, "end": 1.0}[self.anchor], 1)


def place_labels(  # noqa: PLR0913 - spots and names, and how a map of this kind is lettered
    spots: Sequence[tuple[float, float]],
    names: Sequence[str],
    size: tuple[float, float],
    gap: float = 6,
    beside: Sequence[Box] = (),
    *,
    farthest: float = 0.0,
    times: float = 1.0,
) -> list[Label | None]:
    """A place for each name on a map of that width and height, `gap` from its dot or up to `farthest`, the earlier ones first.

    None where it would hide another name, a dot, or one of the boxes `beside` that are taken already. Letters are so many `times` as
    large as on the pages.
    """
    taken: list[Box] = [*((x - gap + 2, y - gap + 2, x + gap - 2, y + gap - 2) for x, y in spots), *beside]
    labels: list[Label | None] = []
    for number, ((x, y), name) in enumerate(zip(spots, names, strict=True)):
        others = [box for place, box in enumerate(taken) if place != number]
        long = len(name) * _LETTER * times
        gaps = [gap, *([(gap + farthest) / 2, farthest] if farthest > gap else [])]
        tries = (tried for far in gaps for tried in _tries(x, y, (long, _LINE * times), far)) if name else ()
        label, box = next(((label, box) for label, box in tries if _is_free(box, others, size)), (None, None))
        labels.append(label)
        if box:
            taken.append(box)
    return labels


def _tries(x: float, y: float, words: tuple[float, float], gap: float) -> Iterator[tuple[Label, Box]]:
    """Right of the dot, left of it, above, below; `words` are so long and so high."""
    long, line = words
    low = y + line / 3
    yield Label(round(x + gap, 1), round(low, 1), "start", long), (x + gap, y - line / 2, x + gap + long, y + line / 2)
    yield Label(round(x - gap, 1), round(low, 1), "end", long), (x - gap - long, y - line / 2, x - gap, y + line / 2)
    above, below = y - gap, y + gap + line * 0.8
    yield Label(round(x, 1), round(above, 1), "middle", long), (x - long / 2, above - line, x + long / 2, above)
    yield Label(round(x, 1), round(below, 1), "middle", long), (x - long / 2, below - line, x + long / 2, below)


def _is_free(box: Box, taken: Sequence[Box], size: tuple[float, float]) -> bool:
    left, top, right, bottom = box
    inside = left >= 0 and top >= 0 and right <= size[0] and bottom <= size[1]
    return inside and not any(left < r and right > x and top < b and bottom > y for x, y, r, b in taken)
