"""The two ways keys are printed, as plain rows: indented (each lead followed by all it leads to) and bracketed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from guidebuild.identify.key import Couplet, Key, Lead


@dataclass(frozen=True, slots=True)
class KeyLine:
    """One lead as a line of a printed key. `depth` is how far it is indented, 0 throughout a bracketed key."""

    couplet: Couplet
    place: int  # of the lead in its couplet, from 0
    depth: int = 0

    @property
    def lead(self) -> Lead:
        """The lead of this line."""
        return self.couplet.leads[self.place]

    @property
    def first(self) -> bool:
        """Whether it opens its couplet."""
        return self.place == 0


def lay_out_bracketed(key: Key) -> tuple[KeyLine, ...]:
    """Lay out couplet after couplet, the leads of each together."""
    return tuple(KeyLine(couplet, place) for couplet in key.couplets for place in range(len(couplet.leads)))


def lay_out_indented(key: Key) -> tuple[KeyLine, ...]:
    """Lay out each lead followed at once by the couplet it leads to, one step further in."""
    return tuple(_indented(key))


def _indented(key: Key) -> Iterator[KeyLine]:
    couplets = {couplet.number: couplet for couplet in key.couplets}
    waiting = [KeyLine(key.couplets[0], place) for place in reversed(range(len(key.couplets[0].leads)))] if couplets else []
    while waiting:
        row = waiting.pop()
        yield row
        if row.lead.to is not None:
            below = couplets[row.lead.to]
            waiting += [KeyLine(below, place, row.depth + 1) for place in reversed(range(len(below.leads)))]
