"""In which squares of the guide's maps the rows of a file lie."""

from __future__ import annotations

from collections.abc import Sequence
from operator import itemgetter

from guidebuild.guide.distances import METRES
from guidebuild.guide.region import MapGrid
from guidebuild.later import imported_when_used
from guidebuild.reading.sighting_columns import Columns
from guidebuild.reading.sighting_places import Halves, NoSpot, Spot

with imported_when_used():  # the projections, which guides without a map do not ask for
    from guidebuild.guide import projection


class Squares:
    """Finds squares for many rows at once, which takes a fifth of the time."""

    def __init__(self, grid: MapGrid, columns: Columns) -> None:
        """`grid` is that of the guide's maps."""
        self._grid = grid
        self._side = grid.size if grid.epsg else grid.size * METRES
        self._pick_uncertainty = itemgetter(columns.position("coordinateUncertaintyInMeters"))
        self._fine = {""}  # uncertainties met that a square is larger than

    def find_all(self, rows: Sequence[Sequence[str]], halves: Halves) -> Sequence[int | None]:
        """The square of each row, packed, of its degrees north and east where all have them."""
        found: Sequence[int | None] = projection.pack_squares(self._grid, *halves)
        uncertainties = [*map(self._pick_uncertainty, rows)]
        if self._fine.issuperset(uncertainties):
            return found
        return [square if self._is_fine(text) else None for square, text in zip(found, uncertainties, strict=True)]

    def find_some(self, rows: Sequence[Sequence[str]], spots: Sequence[Spot | NoSpot]) -> Sequence[int | None]:
        """The same where some rows have no spot; None of these, and of those whose figures say less exactly than a square is large."""
        placed = [spot for spot in spots if not isinstance(spot, NoSpot)]
        given = iter(projection.pack_squares(self._grid, *zip(*placed, strict=True)) if placed else ())
        found = [None if isinstance(spot, NoSpot) else next(given) for spot in spots]
        return [square if self._is_fine(self._pick_uncertainty(row)) else None for square, row in zip(found, rows, strict=True)]

    def _is_fine(self, uncertainty: str) -> bool:
        if uncertainty in self._fine:
            return True
        try:
            fine = float(uncertainty.replace(",", ".")) <= self._side
        except ValueError:
            fine = True
        if fine:
            self._fine.add(uncertainty)
        return fine
