"""What a file of positions draws, as a value."""

from __future__ import annotations

from dataclasses import dataclass

from guidebuild.guide.region import Area, Line


@dataclass(frozen=True, slots=True)
class MapFile:
    """What a file draws: areas by their rings, as they stand in it, and lines."""

    areas: tuple[Area, ...] = ()
    lines: tuple[Line, ...] = ()

    @property
    def positions(self) -> int:
        """How many there are in all."""
        return sum(map(len, self.lines)) + sum(len(ring) for area in self.areas for ring in area)
